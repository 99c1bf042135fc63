"""What a role has to be told, as values without words: who, what, whom, where, after what.

``facts_of_play`` finds them and ``words`` says each of them in one sentence, in order of
time. Places are metres as in ``play``. A step is one action of the role with the facts that
belong to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from plays.core.play import Action, ActionKind, CueRule, Cut, JointShape, Look, Moment, Point, Role

Gate = Literal["", "open", "close"]  # the part of a gate that a screen plays


# As seen facing the basket; "half" is half court, "own" the baseline that one defends.
Toward = Literal["", "baseline", "half", "own", "left", "right"]

# A boundary of the court; "own" is the baseline that one defends.
Edge = Literal["sideline", "baseline", "own"]


@dataclass(frozen=True, slots=True)
class Starts:
    """Where the role stands at time zero, and what it holds and gives."""

    role: Role
    at: Point
    throws_in: bool = False
    ball: bool = False
    gives_signal: bool = False  # and no step of its own tells so


@dataclass(frozen=True, slots=True)
class Keeps:
    """How far from another role it starts, in metres."""

    role: Role
    other: Role
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class InLine:
    """The role stands in a line: its place in it, counted from ``side``, and between whom."""

    role: Role
    rank: int
    total: int
    side: Toward
    between: tuple[Role, Role | Edge] | None = None


@dataclass(frozen=True, slots=True)
class StandsBeside:
    """``mate`` stands right beside the role at the start, on which side of it."""

    role: Role
    mate: Role
    toward: Toward


@dataclass(frozen=True, slots=True)
class StandsBetween:
    """The role starts between two others, or between another and an edge of the court."""

    role: Role
    one: Role
    other: Role | Edge


@dataclass(frozen=True, slots=True)
class Event:
    """One thing to wait for. ``at`` is where it happens, of ``action``'s leg or waypoint."""

    moment: Moment
    action: Action | None = None
    at: Point | None = None
    wait: float = 0.0
    shoulder: bool = False  # somebody runs close past the waiting screener
    named: bool = False  # the way goes close by the named place nearest to ``at``
    heads: bool = False  # the way, and no other of the role, leads toward that place
    gate: Gate = ""  # what ``action`` does to one


@dataclass(frozen=True, slots=True)
class Awaits:
    """All of the events, or the first of them; ``holding`` a screen or a ``gate`` meanwhile."""

    role: Role
    events: tuple[Event, ...]
    rule: CueRule = CueRule.ALL
    holding: bool = False
    gate: Gate = ""
    gives_signal: bool = False  # of who gives the signal that the others wait for


@dataclass(frozen=True, slots=True)
class Pauses:
    """So many seconds after the role's own previous action."""

    role: Role
    seconds: float
    holding: bool = False
    gate: Gate = ""


@dataclass(frozen=True, slots=True)
class GoesOn:
    """The step belongs to what follows once the ball is in, or to what is kept for some looks."""

    role: Role
    phase: str
    looks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class AfterLook:
    """The deed, or the ``catch`` after it, is written for when one of these looks was thrown.

    Who ``runs`` with the ball runs there after other looks too, without it.
    """

    role: Role
    looks: tuple[int, ...]
    runs: bool = False
    catch: bool = False


@dataclass(frozen=True, slots=True)
class Uses:
    """The role runs off screens set for it; ``closers`` shut a gate behind it."""

    role: Role
    screeners: tuple[Role, ...]
    shape: JointShape | None = None
    closers: tuple[Role, ...] = ()


@dataclass(frozen=True, slots=True)
class Detours:
    """Places on the way that a straight line would miss, and that have a name of their own."""

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
    began: Point | None = None  # of a way: where it starts
    there: bool = False  # of a pass: what is waited for has said the place


@dataclass(frozen=True, slots=True)
class Jogs:
    """Set-up movement, not at full effort; a plain cut says so by its own verb."""

    role: Role


@dataclass(frozen=True, slots=True)
class Decoys:
    """The role draws a defender: no ball comes here."""

    role: Role


@dataclass(frozen=True, slots=True)
class Catches:
    """The ball comes to the role by a pass or hand-off that is written down."""

    role: Role
    action: Action
    at: Point
    there: bool = False  # the deed has said the place


@dataclass(frozen=True, slots=True)
class Ends:
    """Where the role stands when the play is over; ``moved`` if that is not its start."""

    role: Role
    at: Point
    moved: bool
    standing: bool  # in a screen, where the step counts
    began: Point | None = None  # where the role started


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
    phase: str  # in which the look may be there


Fact = (
    Starts | Keeps | InLine | StandsBeside | StandsBetween
    | AfterLook | Awaits | Pauses | GoesOn | Uses | Detours | Does | Jogs | Decoys | Catches | Ends
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StepFacts:
    """One numbered step of a role, and every fact that belongs to it."""

    number: int
    phase: str
    action: Action
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class PartFacts:
    """Everything that one role has to be told, counters aside.

    Where its last steps depend on the look that was thrown, these tell where it ends, and
    ``ends`` is None.
    """

    role: Role
    starts: tuple[Fact, ...]
    steps: tuple[StepFacts, ...]
    ends: Ends | None
    looks: tuple[Looks, ...] = ()


def plain_jog(action: Action) -> bool:
    """A cut without a style, at a jog: the verb itself can tell it."""
    return action.kind is ActionKind.CUT and action.easy and action.cut in {None, Cut.STRAIGHT}
