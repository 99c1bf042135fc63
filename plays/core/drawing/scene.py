"""One phase put together: floor, lines, people, defenders and labels, from the ground up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from plays.core.court.courts import court
from plays.core.drawing.court_lines import court_shapes
from plays.core.drawing.ground import Ground
from plays.core.drawing.guards import Guard, guards
from plays.core.drawing.labels import Label, block_strokes, label_shapes
from plays.core.drawing.marks import (
    BALL,
    MOMENT_SIZE,
    NOTE_SIZE,
    Weight,
    compass,
    defender,
    freest,
    person,
    stroke_shapes,
)
from plays.core.drawing.options import Drawing
from plays.core.drawing.places import Edges
from plays.core.drawing.placing import placed
from plays.core.drawing.strokes import Stroke, Style, strokes
from plays.core.drawing.titles import LOOK
from plays.core.drawing.who import who_is_who
from plays.core.play import Play, Role
from plays.core.sequence.course import Leg, LookLane
from shared.core.drawing.curves import XY, direction, distance
from shared.core.drawing.picture import Box, Shape
from shared.core.drawing.room import Rect, Room

NAME_SIZE: Final = 12.5
LOOK_SIZE: Final = 12.0


class SceneDrawing:
    """The shapes of one phase; ``changed`` are the ids of what a counter brings in."""

    def __init__(
        self,
        play: Play,
        ground: Ground,
        chances: Sequence[LookLane],
        legs: Sequence[Leg],
        drawing: Drawing,
        *,
        changed: frozenset[str],
    ) -> None:
        self.play, self.ground, self.drawing, self.changed = play, ground, drawing, changed
        self.strokes = strokes(ground, chances, legs)
        self.ball = self._ball()
        self.crosses = self._guards({}) if drawing.defenders else ()
        if self.crosses:  # once more, with the bars square to the defenders
            stand = {cross.guards: cross for cross in self.crosses}
            at = {role: cross.at for role, cross in stand.items()}
            self.strokes = strokes(ground, chances, legs, at)
            stopped = [line.to for line in self.strokes if line.style is Style.SCREEN]
            self.crosses = self._guards({role: stand[role] for role in stopped if role in stand})

    def _guards(self, kept: Mapping[Role, Guard]) -> tuple[Guard, ...]:
        return guards(self.play, self.ground, self._room(), kept, note=self._note)

    def _edges(self) -> Edges:
        """Sidelines, baselines and the line of half court; and the lane."""
        floor, to = court(self.play.court), self.ground.frame.to
        (left, top), (right, deep) = (
            to((side * floor.lane_half_width, y))
            for side, y in ((-1, 0.0), (1, floor.free_throw_y))
        )
        return Edges(
            tuple(to((0.0, y))[1] for y in (0.0, floor.half_y, floor.length)),
            tuple(to((x, 0.0))[0] for x in (-floor.half_width, floor.half_width)),
            (Rect(left, top, right - left, deep - top),),
        )

    @property
    def _note(self) -> float:
        return self.drawing.letters(NOTE_SIZE)

    def shapes(self) -> tuple[tuple[Shape, ...], list[str]]:
        """All shapes, and the words that found no room."""
        frame = self.ground.frame
        room, people = self._room(self.crosses), list(self.ground.circles.values())
        found, lost = placed(self._labels(), room, people, self._edges())
        floor = court_shapes(court(self.play.court), frame)
        tints = [shape for shape in floor.shapes[1:] if isinstance(shape, Box)]
        parts: list[Shape] = [floor]
        ordered = sorted(self.strokes, key=lambda stroke: self._stroke_weight(stroke) == "own")
        parts.extend(stroke_shapes(stroke, self._stroke_weight(stroke)) for stroke in ordered)
        parts.extend(self._cross(guard) for guard in self.crosses)
        parts.extend(self._people())
        parts.extend(label_shapes(spot, tints) for spot in found)
        key, told = who_is_who(found, lost, room)
        parts.extend(key)
        return tuple(parts), [label.text for label in lost if label not in told]

    def weight(self, role: Role) -> Weight:
        if self.drawing.emphasis is None:
            return "plain"
        return "own" if role == self.drawing.emphasis else "quiet"

    def _stroke_weight(self, stroke: Stroke) -> Weight:
        if self.drawing.emphasis is None and self.changed:
            return "plain" if stroke.action in self.changed else "quiet"
        if stroke.order is not None and stroke.to == self.drawing.emphasis:
            return "own"
        return self.weight(stroke.role)

    def _cross(self, guard: Guard) -> Shape:
        quiet = self.drawing.emphasis not in (None, guard.guards)
        return defender(guard.guards, guard.at, guard.side, note=guard.note, quiet=quiet)

    def _people(self) -> Iterator[Shape]:
        ground = self.ground
        for role, at in ground.circles.items():
            ball = self.ball if role == ground.scene.holder else None
            yield person(
                role,
                at,
                ground.radius,
                weight=self.weight(role),
                ball=ball,
                numbered=self.drawing.label != "name",
            )

    def _ball(self) -> XY | None:
        """From its holder's circle to the ball: the side that no line leaves or reaches."""
        holder = self.ground.scene.holder
        if holder is None or holder not in self.ground.circles:
            return None
        at, radius = self.ground.circles[holder], self.ground.radius
        ends = [end for one in self.strokes for end in (one.curve.start, one.curve.end)]
        taken = [direction(at, end) for end in ends if distance(at, end) < radius + 6]
        others = [place for role, place in self.ground.circles.items() if role != holder]
        taken += [direction(at, place) for place in others if distance(at, place) < 3 * radius]
        inside = [way for way in compass() if self._inside(at, way)]
        return freest(inside or list(compass()), taken)

    def _inside(self, at: XY, way: XY) -> bool:
        reach = self.ground.radius + 1
        x, y = at[0] + reach * way[0], at[1] + reach * way[1]
        frame, edge = self.ground.frame, BALL + 1
        return edge <= x <= frame.width - edge and edge <= y <= frame.height - edge

    def _labels(self) -> list[Label]:
        return [*self._moments(), *self._looks(), *self._names()]

    def _moments(self) -> Iterator[Label]:
        """The numbers of the emphasised role's steps that fall into this phase."""
        if self.drawing.emphasis is None:
            yield from self._numbers()
            return
        own = [action for action in self.play.actions() if action.role == self.drawing.emphasis]
        here = {leg.action.id for leg in self.ground.scene.legs}
        by_action = {stroke.action.removesuffix(".shot"): stroke for stroke in self.strokes[::-1]}
        for step, action in enumerate(own, start=1):
            if action.id not in here:
                continue
            stroke = by_action.get(action.id)
            center = None if stroke else self._standing(action.role)
            radius = 0.0 if stroke or action.role in self.ground.tips else self.ground.radius
            yield Label(
                str(step),
                self.drawing.letters(MOMENT_SIZE),
                "own",
                True,
                True,
                center,
                radius=radius,
                stroke=stroke,
            )

    def _numbers(self) -> Iterator[Label]:
        """The numbers of what happens in this phase, counted by whoever asked for the picture."""
        seen = set()
        for stroke in self.strokes:
            number = self.drawing.numbers.get(stroke.action)
            if number is not None and number not in seen:
                seen.add(number)
                size = self.drawing.letters(MOMENT_SIZE)
                yield Label(str(number), size, "ink", True, True, stroke=stroke)

    def _standing(self, role: Role) -> XY:
        tip = self.ground.tips.get(role)
        return tip.ink if tip else self.ground.circles[role]

    def _looks(self) -> Iterator[Label]:
        for stroke in self.strokes:
            if stroke.order is not None:
                words = self.drawing.language.say(LOOK, n=stroke.order)
                own = self._stroke_weight(stroke) == "own"
                ink = "own" if own else "ink"
                yield Label(words, self.drawing.letters(LOOK_SIZE), ink, bold=own, stroke=stroke)

    def _names(self) -> Iterator[Label]:
        if self.drawing.label == "number":
            return
        for role, at in self.ground.circles.items():
            name = self.drawing.names.get(role, "").strip()
            own = role == self.drawing.emphasis
            if name or self.drawing.label == "name":
                ink = "own" if own else "ink"
                radius = self.ground.radius
                size = self.drawing.letters(NAME_SIZE)
                yield Label(
                    name or role,
                    size,
                    ink,
                    bold=own,
                    center=at,
                    radius=radius,
                    role=role,
                    in_circle=self.drawing.label != "name",
                )

    def _room(self, crosses: Iterable[Guard] = ()) -> Room:
        """The room that everything drawn leaves."""
        ground = self.ground
        room = Room(ground.frame.width, ground.frame.height)
        for at in ground.circles.values():
            room.block_disc(at, ground.radius + 1.5)
        if self.ball is not None and ground.scene.holder is not None:
            x, y = ground.circles[ground.scene.holder]
            reach = ground.radius + 1
            room.block_disc((x + reach * self.ball[0], y + reach * self.ball[1]), BALL + 1.5)
        block_strokes(room, self.strokes)
        self._block_basket(room)
        for cross in crosses:
            room.block(cross.room)
        return room

    def _block_basket(self, room: Room) -> None:
        """Ring and board of every end in view stay free."""
        frame, here = self.ground.frame, court(self.play.court)
        for far in (False, True):
            (left, top), (right, bottom) = (
                frame.to((x, here.length - y if far else y))
                for x, y in (
                    (-here.board_half_width, here.board_y),
                    (here.board_half_width, here.basket.y + here.ring_radius),
                )
            )
            high, low = min(top, bottom) - 1, max(top, bottom) + 1
            room.block(Rect(left, high, right - left, low - high))
