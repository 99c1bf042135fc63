"""What a play is: frozen values, and nothing that computes.

Units and axes: metres and seconds. x runs across the court, 0 on the line through the
basket and positive to the right when facing the basket from half court; y runs up the
court from the inner edge of the baseline. Coordinates are kept to the millimetre.

Everything here is data that a coach can say. What follows from it lies beside it:
``document`` reads and writes it, ``problems`` finds its faults of form, ``course`` says
who stands where when a phase begins, ``motion`` says when.

Long since it is the vocabulary that everything speaks: one page to read, nothing to compute.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final, Literal, NamedTuple

from plays.core.limits import MAX_ITEMS, MAX_NAME, Range, Words

VERSION: Final = 1

Role = Literal["1", "2", "3", "4", "5"]
ROLES: Final[tuple[Role, ...]] = ("1", "2", "3", "4", "5")


def role_of(text: object) -> Role | None:
    """The role that a text of somebody else's names, or None."""
    return next((role for role in ROLES if role == text), None)


def as_role(text: str) -> Role:
    """A role that our own database holds as text. Raises StopIteration where it is none."""
    return next(role for role in ROLES if role == text)


Name = Annotated[str, Words(MAX_NAME, needed=True)]
Apart = Annotated[float, Range(0.5, 28)]  # metres
Seconds = Annotated[float, Range(0, 3600)]
Points = Annotated[int, Range(-200, 200)]


class Point(NamedTuple):
    """A place on or beside the court, in metres."""

    x: float
    y: float


class Situation(StrEnum):
    SIDELINE = "sideline"
    BASELINE = "baseline"
    PRESS_BREAK = "press_break"
    HALF_COURT = "half_court"
    AFTER_TIMEOUT = "after_timeout"
    LAST_SHOT = "last_shot"


class Formation(StrEnum):
    LINE_ACROSS = "line_across"  # perpendicular to the sideline of the throw-in
    LINE_ALONG = "line_along"  # parallel to it
    STACK = "stack"
    BOX = "box"
    DIAMOND = "diamond"
    FOUR_ACROSS = "four_across"
    SPREAD = "spread"
    OTHER = "other"


class RuleSet(StrEnum):
    FIBA = "FIBA"
    NFHS = "NFHS"  # the 84 ft court of most high schools
    NFHS_94 = "NFHS_94"
    NCAA = "NCAA"
    NBA = "NBA"
    WNBA = "WNBA"


class AgeGroup(StrEnum):
    """The youngest group a play is meant for, and the group a team plays in."""

    U10 = "U10"
    U12 = "U12"
    U14 = "U14"
    U16 = "U16"
    U18 = "U18"
    ADULT = "adult"


class ActionKind(StrEnum):
    CUT = "cut"
    SCREEN = "screen"
    PASS = "pass"
    DRIBBLE = "dribble"
    HANDOFF = "handoff"
    SHOT = "shot"
    HOLD = "hold"


class Cut(StrEnum):
    """How a cut is run, or what it is for."""

    STRAIGHT = "straight"
    CURL = "curl"
    FADE = "fade"
    POP = "pop"
    ROLL = "roll"
    SLIP = "slip"
    SEAL = "seal"
    POST_UP = "post_up"
    CLEAR_OUT = "clear_out"


class ScreenStyle(StrEnum):
    DOWN = "down"
    BACK = "back"
    CROSS = "cross"
    FLARE = "flare"
    BALL = "ball"
    OTHER = "other"


class JointShape(StrEnum):
    """How two screeners work together."""

    GATE = "gate"
    DOUBLE = "double"
    STAGGER = "stagger"


class PassKind(StrEnum):
    DIRECT = "direct"
    BOUNCE = "bounce"
    LOB = "lob"
    OVERHEAD = "overhead"


class Moment(StrEnum):
    """What an action can wait for."""

    SIGNAL = "signal"  # the thrower's slap or word; needs no action
    START = "start"  # another action begins
    SET = "set"  # a screen stands still
    END = "end"  # another action is done; of a pass: it is caught
    PASSES = "passes"  # another role runs past a waypoint of its path
    HAS_LEFT = "has_left"  # the place where another action began is free
    BALL_IN = "ball_in"  # the throw-in is caught; needs no action


class CueRule(StrEnum):
    ALL = "all"
    FIRST = "first"


class Defence(StrEnum):
    """What the other team does that a counter answers."""

    SWITCH = "switch"
    FRONT = "front"
    BEHIND = "behind"
    TRAP = "trap"
    SAG = "sag"
    CHASE = "chase"
    DENY = "deny"
    OVER = "over"  # over the screen, on the cutter's trail
    UNDER = "under"  # behind the screener's back


class Stance(StrEnum):
    BETWEEN = "between"  # between man and basket
    DENY = "deny"  # in the passing lane
    FRONT = "front"  # in front of a post player
    BEHIND = "behind"  # at a post player's back


class Quality(StrEnum):
    """What a role can need in a person; the same words rate a player."""

    PASSING = "passing"
    STRENGTH = "strength"
    SPEED = "speed"
    FINISHING = "finishing"
    SHOOTING = "shooting"
    SCREENING = "screening"
    READING = "reading"
    REACH = "reach"  # never rated by hand: it follows from height


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the ball is thrown in from.

    ``edge`` is the line; ``side`` the left or right half seen when facing the basket from
    half court; ``along`` is y for a sideline, and the distance |x| from the basket's line
    for the baseline, in metres. ``far`` is for the baseline only: the one at the other end,
    behind the team's own basket; a sideline reaches the whole court by ``along``.
    """

    edge: Literal["sideline", "baseline"]
    side: Literal["left", "right"]
    along: Annotated[float, Range(0, 30)]
    far: bool = False


@dataclass(frozen=True, slots=True)
class Start:
    role: Role
    at: Point


@dataclass(frozen=True, slots=True)
class Spacing:
    """How far apart two roles start, in metres from ``low`` to ``high``: the drawn starts are one
    way of many."""

    one: Role
    other: Role
    low: Apart
    high: Apart


@dataclass(frozen=True, slots=True)
class Cue:
    """One thing an action waits for, and how long it waits after it.

    ``action`` names the other action (not for SIGNAL and BALL_IN); ``point`` is the index of
    the waypoint in that action's ``path`` (PASSES only); ``wait`` is in seconds.
    """

    on: Moment
    action: str | None = None
    point: Annotated[int, Range(0, MAX_ITEMS - 1)] | None = None
    wait: Annotated[float, Range(0, 30)] = 0.0


@dataclass(frozen=True, slots=True)
class Joint:
    """Two screens with one ``name`` that work together.

    A GATE has two screens with part "open" and, behind the cutter, one or two with part
    "close". STAGGER and DOUBLE use "open" only.
    """

    name: Name
    shape: JointShape
    part: Literal["open", "close"] = "open"


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that one role does.

    ``path`` holds the waypoints after the place where the role stands; empty means on the
    spot. Without ``cues`` an action starts when the same role's previous action ends, and a
    role's first action on the signal. A screen is held until the role's next action starts.
    """

    id: Name
    role: Role
    kind: ActionKind
    path: tuple[Point, ...] = ()
    cues: tuple[Cue, ...] = ()
    cue_rule: CueRule = CueRule.ALL
    cut: Cut | None = None  # of a CUT
    screen: ScreenStyle | None = None  # of a SCREEN
    cutter: Role | None = None  # of a SCREEN: the role that it frees
    joint: Joint | None = None  # of a SCREEN
    to: Role | None = None  # of a PASS or HANDOFF
    pass_kind: PassKind | None = None  # of a PASS
    easy: bool = False  # a jog or a walk: set-up movement, not at full effort
    decoy: bool = False  # meant to draw a defender, not the ball
    teach: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Phase:
    """Actions that share one diagram. ``rotation`` marks what follows once the ball is in.

    A rotation may be for some looks only: those from the throw-in whose ids stand in ``after``.
    One that names none is run after all looks from the throw-in that no phase names.
    """

    id: Name
    title: Name
    actions: tuple[Action, ...]
    rotation: bool = False
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DefenceRead:
    """What the defence does when a look is the one to throw: ``whose`` defenders, or all five."""

    defence: Defence
    whose: tuple[Role, ...] = ()


@dataclass(frozen=True, slots=True)
class Look:
    """A pass that the passer may make; a play lists its looks in order of preference.

    ``action`` is what the receiver is doing: the ball reaches them as it ends, or at ``at``.
    ``guess`` is the coach's own guess, 0 to 1, of how often this look is there. With a ``read``
    it is thrown when the defence does that; looks that read the same defenders share a turn.
    ``shot`` says that who catches it shoots at once.
    """

    id: Name
    passer: Role
    receiver: Role
    action: str
    pass_kind: PassKind = PassKind.DIRECT
    condition: str = ""
    at: Point | None = None
    guess: Annotated[float, Range(0, 1)] | None = None
    read: DefenceRead | None = None
    shot: bool = False


@dataclass(frozen=True, slots=True)
class Counter:
    """What changes when the defence does something.

    From the beginning of phase ``from_phase`` on: the actions named in ``remove`` fall away,
    those in ``replace`` take the place of the action with the same id, those in ``add`` join
    that phase, and ``looks``, where there are any, take the place of the play's looks at
    actions from that phase on. Looks at earlier actions stay, and come first; one that is
    listed again, by its id, is read where and as the counter lists it. ``whose`` names the roles
    whose defenders do it, none of them for all five.
    """

    id: Name
    defence: Defence
    from_phase: str
    says: Annotated[str, Words(needed=True)]
    remove: tuple[str, ...] = ()
    replace: tuple[Action, ...] = ()
    add: tuple[Action, ...] = ()
    looks: tuple[Look, ...] = ()
    whose: tuple[Role, ...] = ()


@dataclass(frozen=True, slots=True)
class Need:
    """What a role asks of a person: ``level`` on the 1 to 5 of the ratings, ``weight`` 1 to 3."""

    role: Role
    quality: Quality
    level: Annotated[int, Range(1, 5)]
    weight: Annotated[int, Range(1, 3)] = 1


@dataclass(frozen=True, slots=True)
class Defender:
    """A defender that the coach drew: ``at``, or a stance from which the place is computed."""

    guards: Role
    at: Point | None = None
    stance: Stance | None = None


@dataclass(frozen=True, slots=True)
class Conditions:
    """Room for time and score: all limits are inclusive, None means no limit."""

    seconds_left_from: Seconds | None = None
    seconds_left_to: Seconds | None = None
    margin_from: Points | None = None
    margin_to: Points | None = None


@dataclass(frozen=True, slots=True)
class Swap:
    """Two roles that do each other's job; with ``stay`` each from its own start, else from the
    other's."""

    one: Role
    other: Role
    stay: bool = False


@dataclass(frozen=True, slots=True)
class Variant:
    """The same play under a call of its own: jobs swapped, from the other side, or both.

    ``call`` tells the variants of a play apart, and is written as the play's own; ``sign`` is what
    is shown instead of shouted. With ``mirror`` it is run from the other side of the court.
    """

    call: Annotated[str, Words(60, needed=True)]
    sign: Annotated[str, Words(60)] = ""
    swaps: tuple[Swap, ...] = ()
    mirror: bool = False


@dataclass(frozen=True, slots=True)
class Translation:
    """What ``text``, one of the play's own texts as it was entered, is in another ``language``.

    It is found by the text itself: where that is entered anew, nobody reads what it once said.
    """

    language: Annotated[str, Words(3, needed=True)]  # ISO 639, in small letters
    text: Annotated[str, Words(needed=True)]
    said: Annotated[str, Words(needed=True)]


@dataclass(frozen=True, slots=True)
class Origin:
    """How a computed play came about: from which content, by which move."""

    content: str
    move: str


@dataclass(frozen=True, slots=True)
class Play:
    """One designed sequence for five roles.

    ``key`` stays the same through all revisions of a play. ``call`` is the default call; a
    role in braces, as in "Lantern {5}", is filled with the name of the player in that role.
    ``ball`` is who holds the ball at time zero; ``thrower`` who throws it in, if anybody.
    """

    key: Name
    name: Name
    situation: Situation
    formation: Formation
    court: RuleSet
    ball: Role
    starts: tuple[Start, ...]
    phases: tuple[Phase, ...]
    spot: Spot | None = None
    thrower: Role | None = None
    series: Annotated[str, Words(40)] = ""
    level: AgeGroup = AgeGroup.U12
    call: Annotated[str, Words(60)] = ""
    looks: tuple[Look, ...] = ()
    counters: tuple[Counter, ...] = ()
    variants: tuple[Variant, ...] = ()
    needs: tuple[Need, ...] = ()
    spacing: tuple[Spacing, ...] = ()
    defenders: tuple[Defender, ...] = ()
    use: str = ""
    teach: tuple[str, ...] = ()
    errors: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    conditions: Conditions | None = None
    origin: Origin | None = None
    translations: tuple[Translation, ...] = ()

    def start_of(self, role: Role) -> Point:
        """Where a role starts. Raises KeyError for a role without a start."""
        return {start.role: start.at for start in self.starts}[role]

    def phase(self, phase_id: str) -> Phase:
        """The phase with this id. Raises KeyError."""
        return {phase.id: phase for phase in self.phases}[phase_id]

    def actions(self) -> tuple[Action, ...]:
        """All actions, in the order in which they are written."""
        return tuple(action for phase in self.phases for action in phase.actions)
