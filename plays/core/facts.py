"""What one role has to be told, as facts without words: who, what, whom, where, after what.

``words`` says each of them in one sentence, in order of time. They follow from the document
and from ``cues``; places are metres as in ``play``. A step is one action of the role, with
the facts that belong to it; its number counts the role's own actions through the whole play
in written order, as the moments in a drawing do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import dist
from typing import Final

from plays.core.course import BALL_MOVERS, Leg, final_places, lane, legs
from plays.core.cues import Link, Waits, Why, cutter_of, throw_in, waits
from plays.core.play import (
    Action,
    ActionKind,
    CueRule,
    Cut,
    JointShape,
    Look,
    Moment,
    Play,
    Point,
    Role,
)

AT_SHOULDER: Final = 2.0  # who is within this of a screener runs past their shoulder
DETOUR: Final = 1.2  # a waypoint this far off the straight way is worth telling
NEARBY: Final = 1.5  # a waypoint this near to an end or to a used screen is not


@dataclass(frozen=True, slots=True)
class Starts:
    """Where the role stands at time zero, and what it holds and gives."""

    role: Role
    at: Point
    throws_in: bool = False
    ball: bool = False
    gives_signal: bool = False  # and no step of its own tells so


@dataclass(frozen=True, slots=True)
class Event:
    """One thing to wait for. ``at`` is where it happens, of ``action``'s leg or waypoint."""

    moment: Moment
    action: Action | None = None
    at: Point | None = None
    wait: float = 0.0
    shoulder: bool = False  # somebody runs close past the waiting screener


@dataclass(frozen=True, slots=True)
class Awaits:
    """All of the events, or the first of them; ``holding`` a screen meanwhile."""

    role: Role
    events: tuple[Event, ...]
    rule: CueRule = CueRule.ALL
    holding: bool = False


@dataclass(frozen=True, slots=True)
class Pauses:
    """So many seconds after the role's own previous action."""

    role: Role
    seconds: float
    holding: bool = False


@dataclass(frozen=True, slots=True)
class GoesOn:
    """The step belongs to what follows once the ball is in."""

    role: Role
    phase: str


@dataclass(frozen=True, slots=True)
class Uses:
    """The role runs off screens set for it; ``closers`` shut a gate behind it."""

    role: Role
    screeners: tuple[Role, ...]
    shape: JointShape | None = None
    closers: tuple[Role, ...] = ()


@dataclass(frozen=True, slots=True)
class Detours:
    """Places on the way that a straight line would miss."""

    role: Role
    by: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Does:
    """The action itself: where it ends, or for a pass where it is caught."""

    role: Role
    action: Action
    at: Point
    throw_in: bool = False
    partners: tuple[Role, ...] = ()  # of a screen with a joint
    rank: int = 1  # of a screen in a stagger


@dataclass(frozen=True, slots=True)
class Jogs:
    """Set-up movement, not at full effort; a plain cut says so by its own verb."""

    role: Role


@dataclass(frozen=True, slots=True)
class Decoys:
    role: Role


@dataclass(frozen=True, slots=True)
class Catches:
    """The ball comes to the role by a pass or hand-off that is written down."""

    role: Role
    action: Action
    at: Point


@dataclass(frozen=True, slots=True)
class Ends:
    """Where the role stands when the play is over; ``moved`` if that is not its start."""

    role: Role
    at: Point
    moved: bool


@dataclass(frozen=True, slots=True)
class Looks:
    """The role's place in the order of looks: as the passer, or as who may receive."""

    role: Role
    number: int
    total: int
    look: Look
    at: Point
    reads: bool
    step: int | None  # the receiver's own step at whose end the ball comes


Fact = (
    Starts | Awaits | Pauses | GoesOn | Uses | Detours | Does | Jogs | Decoys | Catches | Ends
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StepFacts:
    number: int
    phase: str
    action: Action
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class PartFacts:
    """Everything that one role has to be told, counters aside."""

    role: Role
    starts: tuple[Fact, ...]
    steps: tuple[StepFacts, ...]
    ends: Ends
    looks: tuple[Looks, ...] = field(default=())


def step_numbers(play: Play) -> dict[str, int]:
    """The number of each action among its role's own, by action id: 1, 2, ... as written."""
    counted: dict[Role, int] = {}
    numbers = {}
    for action in play.actions():
        counted[action.role] = counted.get(action.role, 0) + 1
        numbers[action.id] = counted[action.role]
    return numbers


def part_facts(play: Play, role: Role) -> PartFacts:
    """What a role has to be told. Raises KeyError for a role without a start."""
    return _Reader(play, role).part()


def plain_jog(action: Action) -> bool:
    """A cut without a style, at a jog: the verb itself can tell it."""
    return action.kind is ActionKind.CUT and action.easy and action.cut in {None, Cut.STRAIGHT}


def detours(points: Sequence[Point]) -> tuple[Point, ...]:
    """The inner points of a polyline that its simplification to DETOUR keeps.

    The method is Douglas and Peucker's of 1973.
    """
    if len(points) < 3:
        return ()
    offs = [_off(points[0], points[-1], point) for point in points[1:-1]]
    worst = max(range(len(offs)), key=offs.__getitem__)
    if offs[worst] < DETOUR:
        return ()
    split = worst + 1
    return (*detours(points[: split + 1]), points[split], *detours(points[split:]))


class _Reader:
    """A play looked up once, for one role."""

    def __init__(self, play: Play, role: Role) -> None:
        self.play = play
        self.role = role
        self.legs = legs(play)
        self.waits = waits(play)
        self.numbers = step_numbers(play)
        self.screens = [a for a in play.actions() if a.kind is ActionKind.SCREEN]
        self.own = [leg for leg in self.legs.values() if leg.action.role == role]

    def part(self) -> PartFacts:
        steps = tuple(self.step(index) for index in range(len(self.own)))
        return PartFacts(self.role, self.starts(), steps, self.ends(), self.looks())

    def starts(self) -> tuple[Fact, ...]:
        play, role = self.play, self.role
        throws = role == play.thrower
        signalled = any(
            link.moment is Moment.SIGNAL for found in self.waits.values() for link in found.links
        )
        tells = any(self.on_signal(self.waits[leg.action.id]) for leg in self.own)
        gives = throws and signalled and not tells
        start = Starts(role, play.start_of(role), throws, play.ball == role, gives)
        return (start, *self.catches(None))

    @staticmethod
    def on_signal(waiting: Waits) -> bool:
        return any(link.moment is Moment.SIGNAL for link in waiting.links)

    def step(self, index: int) -> StepFacts:
        leg = self.own[index]
        action = leg.action
        before = self.own[index - 1].action if index else None
        facts: list[Fact] = []
        if self.play.phase(leg.phase).rotation and self.first_in_phase(index):
            facts.append(GoesOn(self.role, leg.phase))
        facts += self.awaits(action, before)
        uses = list(self.uses(action))
        facts += uses
        facts += self.detours(leg, uses)
        facts.append(self.does(leg))
        if action.easy and not plain_jog(action):
            facts.append(Jogs(self.role))
        if action.decoy:
            facts.append(Decoys(self.role))
        facts += self.catches(index)
        return StepFacts(self.numbers[action.id], leg.phase, action, tuple(facts))

    def first_in_phase(self, index: int) -> bool:
        return index == 0 or self.own[index - 1].phase != self.own[index].phase

    def awaits(self, action: Action, before: Action | None) -> Iterator[Fact]:
        """One fact for the written cues, one more for what follows from the screen or the start.

        That the own previous action is done first is told by the numbers of the steps, that
        the ball is caught first by the catch, and that the ball is in by the rotation.
        """
        waiting = self.waits[action.id]
        holding = before is not None and before.kind is ActionKind.SCREEN
        told = [link for link in waiting.cues if not self.plainly_next(link, before)]
        if len(told) == 1 and before is not None and told[0].action == before.id:
            yield Pauses(self.role, told[0].wait, holding)
        elif told:
            events = tuple(self.event(link, action, before) for link in told)
            yield Awaits(self.role, events, action.cue_rule, holding)
        for link in waiting.implied:
            if link.why in {Why.SHOULDER, Why.SIGNAL}:
                yield Awaits(self.role, (self.event(link, action, before),), holding=holding)

    def plainly_next(self, link: Link, before: Action | None) -> bool:
        own = before is not None and link.action == before.id
        return own and link.moment in {Moment.END, Moment.SET} and link.wait == 0

    def event(self, link: Link, action: Action, before: Action | None) -> Event:
        if link.action is None:
            return Event(link.moment, wait=link.wait)
        other = self.legs[link.action]
        if link.why is Why.SHOULDER:
            return Event(link.moment, other.action, other.start, link.wait, shoulder=True)
        at = other.end
        if link.moment is Moment.PASSES and link.point is not None:
            at = other.points[min(link.point + 1, len(other.points) - 1)]
        return Event(
            link.moment, other.action, at, link.wait, self.shoulder(link, at, action, before)
        )

    def shoulder(self, link: Link, at: Point, action: Action, before: Action | None) -> bool:
        """Whether who runs past does so close by, at the screen that the role is holding."""
        if link.moment is not Moment.PASSES or before is None:
            return False
        screen = before.kind is ActionKind.SCREEN
        return screen and dist(at, self.legs[action.id].start) <= AT_SHOULDER

    def uses(self, action: Action) -> Iterator[Uses]:
        if action.kind in BALL_MOVERS:
            return
        told: set[str] = set()
        for screen in self.screens:
            if cutter_of(self.play, screen) != action.id or self.closes(screen):
                continue
            if screen.joint is None:
                yield Uses(self.role, (screen.role,))
            elif screen.joint.name not in told:
                told.add(screen.joint.name)
                yield self.joint_use(screen.joint.name, screen.joint.shape)

    def joint_use(self, name: str, shape: JointShape) -> Uses:
        members = [s for s in self.screens if s.joint is not None and s.joint.name == name]
        opened = tuple(s.role for s in members if not self.closes(s))
        closers = tuple(s.role for s in members if self.closes(s))
        return Uses(self.role, opened, shape if len(opened) > 1 else None, closers)

    @staticmethod
    def closes(screen: Action) -> bool:
        return screen.joint is not None and screen.joint.part == "close"

    def detours(self, leg: Leg, uses: Sequence[Uses]) -> Iterator[Detours]:
        roles = {role for use in uses for role in use.screeners}
        marks = [self.legs[s.id].end for s in self.screens if s.role in roles]
        near = [leg.start, leg.end, *marks]
        by = tuple(p for p in detours(leg.points) if all(dist(p, q) > NEARBY for q in near))
        if by and leg.action.kind not in BALL_MOVERS:
            yield Detours(self.role, by)

    def does(self, leg: Leg) -> Does:
        first = throw_in(self.play)
        thrown = first is not None and first.id == leg.action.id
        joint = leg.action.joint
        if joint is None:
            return Does(self.role, leg.action, leg.end, thrown)
        row = [
            s.role
            for s in self.screens
            if s.joint is not None and s.joint.name == joint.name and s.joint.part == joint.part
        ]
        partners = tuple(role for role in row if role != self.role)
        return Does(self.role, leg.action, leg.end, thrown, partners, row.index(self.role) + 1)

    def catches(self, index: int | None) -> Iterator[Catches]:
        """What is passed to the role after its step at ``index`` (None: before all steps)."""
        latest = None
        for leg in self.legs.values():
            if leg.action.role == self.role:
                latest = 0 if latest is None else latest + 1
            elif leg.action.to == self.role and latest == index:
                yield Catches(self.role, leg.action, leg.end)

    def ends(self) -> Ends:
        at = final_places(self.play)[self.role]
        return Ends(self.role, at, at != self.play.start_of(self.role))

    def looks(self) -> tuple[Looks, ...]:
        return tuple(
            self.look(number, look)
            for number, look in enumerate(self.play.looks, 1)
            if self.role in {look.passer, look.receiver} and look.action in self.legs
        )

    def look(self, number: int, look: Look) -> Looks:
        reads = look.passer == self.role
        own = self.legs[look.action].action.role == self.role
        step = self.numbers[look.action] if own and not reads else None
        at = lane(self.play, look)[1]
        return Looks(self.role, number, len(self.play.looks), look, at, reads, step)


def _off(a: Point, b: Point, point: Point) -> float:
    """How far a point lies from the straight piece from a to b, in metres."""
    dx, dy = b.x - a.x, b.y - a.y
    square = dx * dx + dy * dy
    if square == 0:
        return dist(a, point)
    along = ((point.x - a.x) * dx + (point.y - a.y) * dy) / square
    along = min(1.0, max(0.0, along))
    return dist((a.x + along * dx, a.y + along * dy), point)
