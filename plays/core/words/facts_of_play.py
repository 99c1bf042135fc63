"""Find what one role has to be told: from the document, from ``cues`` and from ``course``.

A step's number counts the role's own actions through the whole play in written order, as the
numbered moments of a drawing do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import dist
from typing import Final

from plays.core.court.courts import court
from plays.core.court.spots import nearest
from plays.core.play import Action, ActionKind, CueRule, JointShape, Look, Moment, Play, Point, Role
from plays.core.sequence.after_look import numbers_after
from plays.core.sequence.course import (
    BALL_MOVERS,
    WITH_BALL,
    Leg,
    assumed_looks,
    final_places,
    lane,
    legs,
)
from plays.core.sequence.cues import CueGraph, Link, Waits, Why
from plays.core.words.bearings import goes_by, heads
from plays.core.words.company import company
from plays.core.words.detours import detours
from plays.core.words.facts import (
    AfterLook,
    Awaits,
    Catches,
    Decoys,
    Detours,
    Does,
    Ends,
    Event,
    Fact,
    Gate,
    GoesOn,
    Jogs,
    Looks,
    PartFacts,
    Pauses,
    Starts,
    StepFacts,
    Uses,
    plain_jog,
)
from plays.core.words.there import meets, says_where

AT_SHOULDER: Final = 2.0  # who is within this of a screener runs past their shoulder
NEARBY: Final = 1.5  # a waypoint this near to an end or to a used screen is not


def step_numbers(play: Play) -> dict[str, int]:
    """The number of each action among its role's own, by action id: 1, 2, ... as written."""
    counted: dict[Role, int] = {}
    numbers = {}
    for action in play.actions():
        counted[action.role] = counted.get(action.role, 0) + 1
        numbers[action.id] = counted[action.role]
    return numbers


class FactReader:
    """One way of a play looked up once, for one role; numbers are those of the whole play."""

    def __init__(self, play: Play, role: Role, whole: Play) -> None:
        self.play = play
        self.role = role
        self.legs = legs(play)
        self.cues = CueGraph(play)
        self.waits = self.cues.waits
        self.numbers = step_numbers(whole)
        self.assumed = assumed_looks(whole)
        self.kept = numbers_after(whole)
        self.screens = [a for a in play.actions() if a.kind is ActionKind.SCREEN]
        self.gives_signal = role == (play.thrower or play.ball)
        self.own = [leg for leg in self.legs.values() if leg.action.role == role]

    def part(self) -> PartFacts:
        steps = tuple(self.step(index) for index in range(len(self.own)))
        ends = self.ends() if not any(leg.phase in self.kept for leg in self.own) else None
        return PartFacts(self.role, self.starts(), steps, ends, self.looks())

    def phase_of(self, caught: Catches) -> str:
        return self.legs[caught.action.id].phase

    def starts(self) -> tuple[Fact, ...]:
        play, role = self.play, self.role
        signalled = any(map(self.on_signal, self.waits.values()))
        tells = any(self.on_signal(self.waits[leg.action.id]) for leg in self.own)
        gives = self.gives_signal and signalled and not tells
        throws = role == play.thrower
        start = Starts(role, play.start_of(role), throws, play.ball == role, gives)
        caught = tuple(self.catches(None))
        return (start, *company(play, role), *caught, *self.caught_after(caught, None))

    @staticmethod
    def on_signal(waiting: Waits) -> bool:
        return any(link.moment is Moment.SIGNAL for link in waiting.links)

    def step(self, index: int) -> StepFacts:
        leg = self.own[index]
        action = leg.action
        before = self.own[index - 1].action if index else None
        facts: list[Fact] = []
        if self.play.phase(leg.phase).rotation and self.first_in_phase(index):
            facts.append(GoesOn(self.role, leg.phase, self.kept.get(leg.phase, ())))
        facts += self.awaits(action, before)
        facts += self.uses(action)
        facts += self.detours(leg)
        facts.append(does := says_where(facts, self.does(leg)))
        if action.easy and not plain_jog(action):
            facts.append(Jogs(self.role))
        if action.decoy:
            facts.append(Decoys(self.role))
        own = tuple(self.after_look(leg))
        caught = tuple(self.catches(index, does))
        facts += [*own, *caught, *(() if own else self.caught_after(caught, index))]
        if leg.phase in self.kept and index + 1 == len(self.own):
            ends = self.ends()
            facts += [] if meets(does, ends.at) else [ends]
        return StepFacts(self.numbers[action.id], leg.phase, action, tuple(facts))

    def after_look(self, leg: Leg) -> Iterator[AfterLook]:
        """A deed with a ball that another look would have brought elsewhere."""
        kind, looks = leg.action.kind, self.assumed.get(leg.phase)
        if looks and kind in WITH_BALL:
            yield AfterLook(self.role, looks, kind not in BALL_MOVERS and bool(leg.action.path))

    def caught_after(self, caught: Iterable[Catches], index: int | None) -> Iterator[AfterLook]:
        """The same of what others throw to the role, or of a pass that comes after some looks only
        and to a step of all looks; once, however many there are."""
        here = None if index is None else self.own[index].phase
        for phase in map(self.phase_of, caught):
            kept = self.kept.get(phase) if phase != here else None
            if looks := self.assumed.get(phase, kept):
                yield AfterLook(self.role, looks, catch=True)
                return

    def first_in_phase(self, index: int) -> bool:
        return index == 0 or self.own[index - 1].phase != self.own[index].phase

    def awaits(self, action: Action, before: Action | None) -> Iterator[Fact]:
        """One fact for the written cues, one more for what follows from the screen or the start.

        That the own previous action is done first is told by the numbers of the steps, that
        the ball is caught first by the catch, and that the ball is in by the rotation.
        """
        waiting = self.waits[action.id]
        holding = before is not None and before.kind is ActionKind.SCREEN
        gate = self.gate(before)
        told = [link for link in waiting.cues if not self.told_already(link, waiting, before)]
        if len(told) == 1 and before is not None and told[0].action == before.id:
            yield Pauses(self.role, told[0].wait, holding, gate)
        elif told:
            events = tuple(self.event(link, action, before) for link in told)
            yield Awaits(self.role, events, action.cue_rule, holding, gate, self.gives_signal)
        for link in waiting.implied:
            if link.why in {Why.SHOULDER, Why.SIGNAL}:
                event = self.event(link, action, before)
                yield Awaits(self.role, (event,), CueRule.ALL, holding, gate, self.gives_signal)

    def told_already(self, link: Link, waiting: Waits, before: Action | None) -> bool:
        """By the number of the step, or by the rotation that the step belongs to."""
        own = before is not None and link.action == before.id
        plainly_next = own and link.moment in {Moment.END, Moment.SET}
        rotates = any(other.why is Why.ROTATION for other in waiting.implied)
        in_turn = rotates and link.moment is Moment.BALL_IN
        return link.wait == 0 and (plainly_next or in_turn)

    def event(self, link: Link, action: Action, before: Action | None) -> Event:
        if link.action is None:
            return Event(link.moment, wait=link.wait)
        other = self.legs[link.action]
        if link.why is Why.SHOULDER:
            return Event(link.moment, other.action, other.start, link.wait, shoulder=True)
        at = other.start if link.moment is Moment.HAS_LEFT else other.end
        if link.moment is Moment.PASSES and link.point is not None:
            at = other.points[min(link.point + 1, len(other.points) - 1)]
        close = self.shoulder(link, at, action, before)
        floor, gate = court(self.play.court), self.gate(other.action)
        named = goes_by(floor, other, at)
        leads = link.moment is Moment.START and heads(floor, other, self.legs.values())
        return Event(link.moment, other.action, at, link.wait, close, named, leads, gate)

    def gate(self, screen: Action | None) -> Gate:
        """What a screen does to a gate; nothing where it stands alone."""
        joint = None if screen is None else screen.joint
        if joint is None or joint.shape is not JointShape.GATE:
            return ""
        if joint.part == "close":
            return "close"
        posts = [s for s in self.screens if s.joint == joint]
        return "open" if len(posts) > 1 else ""

    def shoulder(self, link: Link, at: Point, action: Action, before: Action | None) -> bool:
        """Whether who runs past does so close by, at the screen that the role is holding."""
        if link.moment is not Moment.PASSES or before is None:
            return False
        screen = before.kind is ActionKind.SCREEN
        return screen and dist(at, self.legs[action.id].start) <= AT_SHOULDER

    def uses(self, action: Action) -> Iterator[Uses]:
        """One fact for each screen, or for all of one joint; twice by one person is once."""
        told: set[str] = set()
        for screen in self.used(action):
            name = screen.role if screen.joint is None else "joint " + screen.joint.name
            if name in told:
                continue
            told.add(name)
            if screen.joint is None:
                yield Uses(self.role, (screen.role,))
            else:
                yield self.joint_use(screen.joint.name, screen.joint.shape)

    def used(self, action: Action) -> list[Action]:
        """The screens that an action runs off, those that close behind it aside."""
        if action.kind in BALL_MOVERS:
            return []
        found = (s for s in self.screens if self.cues.cutter_of(s) == action.id)
        return [screen for screen in found if not self.closes(screen)]

    def joint_use(self, name: str, shape: JointShape) -> Uses:
        members = [s for s in self.screens if s.joint is not None and s.joint.name == name]
        opened = tuple(s.role for s in members if not self.closes(s))
        closers = tuple(s.role for s in members if self.closes(s))
        return Uses(self.role, opened, shape if len(opened) > 1 else None, closers)

    @staticmethod
    def closes(screen: Action) -> bool:
        return screen.joint is not None and screen.joint.part == "close"

    def detours(self, leg: Leg) -> Iterator[Detours]:
        marks = [self.legs[screen.id].end for screen in self.used(leg.action)]
        near = [leg.start, leg.end, *marks]
        floor = court(self.play.court)
        keys = {nearest(floor, point).key for point in near}
        by = tuple(
            point
            for point in detours(leg.points)
            if nearest(floor, point).key not in keys and all(dist(point, q) > NEARBY for q in near)
        )
        if by and leg.action.kind not in BALL_MOVERS:
            yield Detours(self.role, by)

    def does(self, leg: Leg) -> Does:
        first = self.cues.throw_in
        thrown = first is not None and first.id == leg.action.id
        began = None if leg.action.kind in BALL_MOVERS else leg.start
        joint = leg.action.joint if leg.action.kind is ActionKind.SCREEN else None
        if joint is None:
            return Does(self.role, leg.action, leg.end, thrown, began=began)
        row = [
            s.role
            for s in self.screens
            if s.joint is not None and s.joint.name == joint.name and s.joint.part == joint.part
        ]
        partners = tuple(role for role in row if role != self.role)
        rank = row.index(self.role) + 1
        return Does(self.role, leg.action, leg.end, thrown, partners, rank, began)

    def catches(self, index: int | None, does: Does | None = None) -> Iterator[Catches]:
        """What is passed to the role after its step at ``index`` (None: before all steps)."""
        latest = None
        for leg in self.legs.values():
            if leg.action.role == self.role:
                latest = 0 if latest is None else latest + 1
            elif leg.action.to == self.role and latest == index:
                there = does is not None and meets(does, leg.end)
                yield Catches(self.role, leg.action, leg.end, there)

    def ends(self) -> Ends:
        at = final_places(self.play)[self.role]
        runs = [leg.action.kind for leg in self.own if leg.action.kind not in BALL_MOVERS]
        standing = bool(runs) and runs[-1] is ActionKind.SCREEN
        start = self.play.start_of(self.role)
        return Ends(self.role, at, at != start, standing, start)

    def looks(self) -> tuple[Looks, ...]:
        return tuple(
            self.look(number, look)
            for number, look in enumerate(self.play.looks, 1)
            if self.role in {look.passer, look.receiver} and look.action in self.legs
        )

    def look(self, number: int, look: Look) -> Looks:
        reads = look.passer == self.role
        leg = self.legs[look.action]
        own = leg.action.role == self.role
        step = self.numbers[look.action] if own and not reads else None
        at = lane(self.play, look)[1]
        return Looks(self.role, number, len(self.play.looks), look, at, reads, step, leg.phase)
