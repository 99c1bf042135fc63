"""Diagrams of a play: one picture for each phase, each counter, and the whole.

The basket is at the top and the viewer faces it. Sizes are points; ``width`` sets the size of
the court, while people, lines and letters keep theirs, so that a small diagram stays legible.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from plays.core.course import Scene, lane, scenes, with_counter
from plays.core.court_lines import court_shapes
from plays.core.courts import court
from plays.core.diagram_frame import Crop, Frame, frame
from plays.core.diagram_inks import Scheme, inks
from plays.core.diagram_labels import Label, block_strokes, label_shapes, placed
from plays.core.diagram_marks import Weight, compass, defender, freest, person, stroke_shapes
from plays.core.diagram_strokes import RADIUS, Chance, Stroke, strokes
from plays.core.diagram_words import LOOK, description, title
from plays.core.play import Counter, Play, Point, Role, Stance
from shared.core.geometry import XY, between, direction, distance
from shared.core.language import ENGLISH, Language
from shared.core.picture import Group, Picture, Shape
from shared.core.placement import Room

LabelKind = Literal["number", "name", "both"]

WIDTH: Final = 360.0
NAME_SIZE: Final = 10.0
LOOK_SIZE: Final = 8.5
MOMENT_SIZE: Final = 8.5
DEFENDER_SIZE: Final = 9.0
DOT_RADIUS: Final = 5.5
"""A person's circle where names stand instead of numbers."""


def diagram(
    play: Play,
    phase_id: str,
    *,
    counter: Counter | str | None = None,
    emphasis: Role | None = None,
    names: Mapping[Role, str] | None = None,
    label: LabelKind = "number",
    defenders: bool = False,
    crop: Crop = "half",
    scheme: Scheme = "light",
    language: Language = ENGLISH,
    width: float = WIDTH,
) -> Picture:
    """One phase of a play, or of the play as a counter changes it.

    With ``emphasis`` that role's lines are heavy and carry the numbers of its steps. A role
    without a name in ``names`` keeps its number. Raises KeyError for a phase, counter or role
    that the play does not have.
    """
    chosen = _counter(play, counter)
    run = with_counter(play, chosen) if chosen else play
    scene = {scene.phase.id: scene for scene in scenes(run)}[phase_id]
    plan = _Plan(run, scene, _changed(chosen), emphasis, names or {}, label, defenders)
    window = frame(run, court(run.court), crop, width)
    shapes, left_out = plan.shapes(window, language)
    return Picture(
        window.width,
        window.height,
        shapes,
        title(run, scene, chosen, language),
        description(scene, plan.chances, plan.names, left_out, language),
        inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is to be drawn of one scene, and how."""

    play: Play
    scene: Scene
    changed: frozenset[str]
    emphasis: Role | None
    names: Mapping[Role, str]
    label: LabelKind
    defenders: bool

    @property
    def chances(self) -> tuple[Chance, ...]:
        """The looks that come in this phase."""
        here = {leg.action.id for leg in self.scene.legs}
        return tuple(
            Chance(look, order, *lane(self.play, look))
            for order, look in enumerate(self.play.looks, start=1)
            if look.action in here
        )

    def shapes(self, window: Frame, language: Language) -> tuple[tuple[Shape, ...], list[str]]:
        """All shapes from the floor up, and the words that found no room."""
        floor = court(self.play.court)
        ring = window.to(floor.basket)
        radius = DOT_RADIUS if self.label == "name" else RADIUS
        drawn = strokes(self.scene, self.chances, window, ring, radius)
        people = {role: window.to(place) for role, place in self.scene.places.items()}
        guards = self._guards(window) if self.defenders else {}
        labels = self._labels(drawn, people, radius, language)
        room, crowd = self._rooms(window, drawn, people, guards, radius)
        found, lost = placed(labels, room, crowd)
        parts = [court_shapes(floor, window)]
        ordered = sorted(drawn, key=lambda stroke: self.weight(stroke.role) == "own")
        parts.extend(stroke_shapes(stroke, self._stroke_weight(stroke)) for stroke in ordered)
        parts.extend(
            defender(role, at, DEFENDER_SIZE, self.weight(role)) for role, at in guards.items()
        )
        parts.extend(self._people(drawn, people, radius))
        parts.extend(label_shapes(spot) for spot in found)
        return tuple(parts), [label.text for label in lost]

    def weight(self, role: Role) -> Weight:
        if self.emphasis is None:
            return "plain"
        return "own" if role == self.emphasis else "quiet"

    def _stroke_weight(self, stroke: Stroke) -> Weight:
        if self.emphasis is None and self.changed:
            return "plain" if stroke.action in self.changed else "quiet"
        if stroke.to == self.emphasis and stroke.order is not None:
            return "own" if self.emphasis else "plain"
        return self.weight(stroke.role)

    def _people(
        self, drawn: tuple[Stroke, ...], people: Mapping[Role, XY], radius: float
    ) -> list[Group]:
        made = []
        for role, at in people.items():
            ball = self._ball_way(drawn, at, radius) if role == self.scene.holder else None
            numbered = self.label != "name"
            weight = self.weight(role)
            made.append(person(role, at, radius, weight=weight, ball=ball, numbered=numbered))
        return made

    def _ball_way(self, drawn: tuple[Stroke, ...], at: XY, radius: float) -> XY:
        """The side of the circle that no line leaves or reaches."""
        ends = [end for stroke in drawn for end in (stroke.curve.start, stroke.curve.end)]
        taken = [direction(at, end) for end in ends if distance(at, end) < radius + 6]
        return freest(compass(), taken)

    def _labels(
        self,
        drawn: tuple[Stroke, ...],
        people: Mapping[Role, XY],
        radius: float,
        language: Language,
    ) -> list[Label]:
        labels = self._moments(drawn, people, radius)
        for stroke in drawn:
            if stroke.order is not None:
                text = language.say(LOOK, n=stroke.order)
                ink = "own" if self._stroke_weight(stroke) == "own" else "ink"
                labels.append(Label(text, LOOK_SIZE, ink, bold=ink == "own", stroke=stroke))
        if self.label != "number":
            for role, at in people.items():
                own = role == self.emphasis
                name = self.names.get(role, "").strip() or role
                if name != role or self.label == "name":
                    labels.append(
                        Label(
                            name, NAME_SIZE, "own" if own else "ink", own, center=at, radius=radius
                        )
                    )
        return labels

    def _moments(
        self, drawn: tuple[Stroke, ...], people: Mapping[Role, XY], radius: float
    ) -> list[Label]:
        """The numbers of the emphasised role's steps that fall into this phase."""
        own = [action for action in self.play.actions() if action.role == self.emphasis]
        here = {leg.action.id for leg in self.scene.legs}
        by_action = {stroke.action: stroke for stroke in reversed(drawn)}
        labels = []
        for step, action in enumerate(own, start=1):
            if action.id not in here:
                continue
            stroke = by_action.get(action.id) or by_action.get(f"{action.id}.shot")
            if stroke is not None:
                label = Label(str(step), MOMENT_SIZE, "own", True, True, stroke=stroke)
            else:
                at = people[action.role]
                label = Label(str(step), MOMENT_SIZE, "own", True, True, at, radius)
            labels.append(label)
        return labels

    def _rooms(
        self,
        window: Frame,
        drawn: tuple[Stroke, ...],
        people: Mapping[Role, XY],
        guards: Mapping[Role, XY],
        radius: float,
    ) -> tuple[Room, Room]:
        room, crowd = Room(window.width, window.height), Room(window.width, window.height)
        for at in people.values():
            room.block_disc(at, radius + 1.5)
            crowd.block_disc(at, radius + 1)
        for at in guards.values():
            room.block_disc(at, DEFENDER_SIZE)
            crowd.block_disc(at, DEFENDER_SIZE)
        if self.scene.holder is not None and self.scene.holder in people:
            at = people[self.scene.holder]
            way = self._ball_way(drawn, at, radius)
            room.block_disc((at[0] + (radius + 1) * way[0], at[1] + (radius + 1) * way[1]), 5.0)
        block_strokes(room, drawn)
        return room, crowd

    def _guards(self, window: Frame) -> dict[Role, XY]:
        basket = court(self.play.court).basket
        ball = self.scene.places.get(self.scene.holder) if self.scene.holder else None
        found = {}
        for guard in self.play.defenders:
            man = self.scene.places.get(guard.guards)
            first = self.scene.phase.id == self.play.phases[0].id
            if guard.at is not None and first:
                found[guard.guards] = window.to(guard.at)
            elif man is not None:
                stance = guard.stance or Stance.BETWEEN
                found[guard.guards] = window.to(_guarding(stance, man, ball, basket))
        return found


def _guarding(stance: Stance, man: Point, ball: Point | None, basket: Point) -> XY:
    """A drawn place for a stance: an arm's length off, towards basket or ball."""
    if ball is None or ball == man:
        return _towards(man, basket, 1.0)
    if stance is Stance.DENY:
        return _towards(man, between(ball, basket, 0.25), 1.0)
    if stance is Stance.FRONT:
        return _towards(man, ball, 0.9)
    return _towards(man, basket, 1.0)


def _towards(start: XY, target: XY, length: float) -> XY:
    way = direction(start, target)
    return start[0] + length * way[0], start[1] + length * way[1]


def _counter(play: Play, counter: Counter | str | None) -> Counter | None:
    if counter is None or isinstance(counter, Counter):
        return counter
    return {each.id: each for each in play.counters}[counter]


def _changed(counter: Counter | None) -> frozenset[str]:
    """Ids of the actions and looks that a counter brings in."""
    if counter is None:
        return frozenset()
    brought = {action.id for action in (*counter.replace, *counter.add)}
    return frozenset(brought | {look.id for look in counter.looks})
