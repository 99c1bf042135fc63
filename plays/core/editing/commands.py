"""What a coach can do to a play by hand: frozen commands, each one gesture.

A place is in metres. ``counter`` names the counter in which the gesture is made; None means the
play itself. The ids are those of the document and are never shown to anybody.
"""

from __future__ import annotations

from dataclasses import dataclass

from plays.core.play import (
    ActionKind,
    Cue,
    Cut,
    Defence,
    Formation,
    JointShape,
    PassKind,
    Play,
    Point,
    Role,
)


@dataclass(frozen=True, slots=True)
class Place:
    """A role starts somewhere else; the thrower takes the throw-in spot along."""

    role: Role
    at: Point


@dataclass(frozen=True, slots=True)
class Stand:
    """The five stand in a formation of the trade; the thrower stays where they are."""

    formation: Formation


@dataclass(frozen=True, slots=True)
class Act:
    """A role does something more at the end of a phase; ``other`` is for or to whom."""

    phase: str
    role: Role
    kind: ActionKind
    at: Point | None = None
    other: Role | None = None
    cut: Cut | None = None
    pass_kind: PassKind | None = None


@dataclass(frozen=True, slots=True)
class OpenGate:
    """Two open a gate at the end of a phase, somebody runs through, the two close it behind.

    ``title`` is for the phase after, where it has to be made; None as ``cutter`` is whoever
    stands nearest.
    """

    phase: str
    posts: tuple[Role, Role]
    cutter: Role | None = None
    title: str = ""


@dataclass(frozen=True, slots=True)
class MovePoint:
    """A waypoint of an action goes elsewhere; the last one is where it ends."""

    action: str
    point: int
    at: Point


@dataclass(frozen=True, slots=True)
class Bend:
    """A new waypoint, before the one that is at ``point`` now."""

    action: str
    point: int
    at: Point


@dataclass(frozen=True, slots=True)
class SetCue:
    """What an action waits for; None means what follows without a word.

    ``also``: beside what it waits for already; what is there already is taken out.
    """

    action: str
    cue: Cue | None
    also: bool = False


@dataclass(frozen=True, slots=True)
class SetOther:
    """For whom a screen is, or to whom a pass or hand-off goes."""

    action: str
    other: Role


@dataclass(frozen=True, slots=True)
class SetHow:
    """How an action is done; what is None stays as it was."""

    action: str
    cut: Cut | None = None
    pass_kind: PassKind | None = None
    easy: bool | None = None
    decoy: bool | None = None


@dataclass(frozen=True, slots=True)
class JoinScreens:
    """A screen and the other one for the same cutter work together; None parts them."""

    action: str
    shape: JointShape | None


@dataclass(frozen=True, slots=True)
class OrderLooks:
    """The looks are those at these actions, in this order; a look that was there stays itself."""

    actions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AddPhase:
    """What happens next: a phase that starts where the last one ended."""

    title: str


@dataclass(frozen=True, slots=True)
class RenamePhase:
    phase: str
    title: str


@dataclass(frozen=True, slots=True)
class SetAfter:
    """A phase is for what follows once the ball is in, and for these looks; none of them for all
    that have no phase of their own."""

    phase: str
    looks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AddCounter:
    """An answer to what the defence does, from a phase on."""

    defence: Defence
    phase: str
    says: str


@dataclass(frozen=True, slots=True)
class RemoveAction:
    action: str


@dataclass(frozen=True, slots=True)
class RemovePhase:
    phase: str


@dataclass(frozen=True, slots=True)
class RemoveCounter:
    counter: str


@dataclass(frozen=True, slots=True)
class SetWhose:
    """Whose defenders do what a counter answers; none of them for all five."""

    counter: str
    whose: tuple[Role, ...]


@dataclass(frozen=True, slots=True)
class Restore:
    """The whole play as it was earlier: undo and redo."""

    play: Play


InRun = (
    Act
    | OpenGate
    | MovePoint
    | Bend
    | SetCue
    | SetOther
    | SetHow
    | JoinScreens
    | OrderLooks
    | RemoveAction
)
OfPlay = (
    Place
    | Stand
    | AddPhase
    | RenamePhase
    | SetAfter
    | AddCounter
    | RemovePhase
    | RemoveCounter
    | SetWhose
)
Command = InRun | OfPlay | Restore
