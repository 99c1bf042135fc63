"""Logged reps: what one run of a play was, and what each of the five did in it.

Every tap is a value with an id that the phone made. An undo is a tap of its own that names the
rep, or the play called in a game, that it takes back, and may arrive before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import Final

from plays.core.play import ROLES, Role

Id = int | str


class Mode(StrEnum):
    WALK_THROUGH = "walk_through"
    HALF_SPEED = "half_speed"
    LIVE = "live"
    GAME = "game"


PRACTICE_MODES: Final = (Mode.WALK_THROUGH, Mode.HALF_SPEED, Mode.LIVE)


class Slip(StrEnum):
    """What went wrong in a rep that was not clean."""

    EARLY = "early"
    LATE = "late"
    WRONG_SPOT = "wrong_spot"
    WRONG_READ = "wrong_read"
    PASS = "pass"
    SCREEN = "screen"


@dataclass(frozen=True, slots=True)
class Rep:
    """One run of a play. ``at`` is aware; ``erred`` and ``slip`` are of a rep not clean.

    ``practice`` is the id of the practice or game, ``cast`` who stood in which role. ``call`` is
    which of the play's calls was run: "" for its first, a further one as the play's document
    writes it, None where nobody said.
    """

    id: str
    practice: Id
    play: Id
    mode: Mode
    at: datetime
    cast: tuple[tuple[Role, Id], ...]
    clean: bool = True
    erred: Role | None = None
    slip: Slip | None = None
    unit: Id | None = None
    by: Id | None = None
    revision: Id | None = None
    call: str | None = None

    def player(self, role: Role) -> Id | None:
        """Who was in the role, if anybody."""
        return dict(self.cast).get(role)


@dataclass(frozen=True, slots=True)
class Undo:
    """Takes one rep or one called play back, for good. ``at`` is aware."""

    id: str
    rep: str
    at: datetime
    by: Id | None = None


@dataclass(frozen=True, slots=True)
class Stray:
    """A rep that names something the club no longer has: kept, and shown for a decision."""

    rep: Rep
    practice_gone: bool
    play_gone: bool
    players_gone: tuple[Id, ...]


def strays(
    reps: Iterable[Rep],
    practices: frozenset[Id],
    plays: frozenset[Id],
    players: frozenset[Id],
) -> tuple[Stray, ...]:
    """The reps that name a practice, play or person that is not among those given."""
    found = []
    for rep in reps:
        gone = tuple(who for _, who in rep.cast if who not in players)
        stray = Stray(rep, rep.practice not in practices, rep.play not in plays, gone)
        if stray.practice_gone or stray.play_gone or gone:
            found.append(stray)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Touch:
    """One player's own part in one rep: what readiness is counted from.

    Or in ``count`` reps of one practice that went alike; ``at`` is then when the first was run.
    """

    player: Id
    play: Id
    role: Role
    practice: Id
    at: datetime
    mode: Mode
    clean: bool
    count: int = 1


def touches(reps: Iterable[Rep]) -> tuple[Touch, ...]:
    """Five touches of each rep.

    An error belongs to the role that erred; the other four did their part. Where nobody
    said who erred, all five count as an error (our choice).
    """
    return tuple(
        Touch(
            who,
            rep.play,
            role,
            rep.practice,
            rep.at,
            rep.mode,
            clean=rep.clean or (rep.erred is not None and rep.erred != role),
        )
        for rep in reps
        for role, who in rep.cast
    )


def summed(single: Iterable[Touch]) -> tuple[Touch, ...]:
    """Touches that differ in their moment only as one, with their count: readiness stays the same.

    In the order in which the first of each was run.
    """
    alike: dict[tuple[object, ...], list[Touch]] = {}
    for t in sorted(single, key=lambda touch: touch.at):
        key = t.practice, t.play, t.player, t.role, t.mode, t.clean
        alike.setdefault(key, []).append(t)
    return tuple(
        replace(same[0], count=sum(touch.count for touch in same)) for same in alike.values()
    )


@dataclass(frozen=True, slots=True)
class Tally:
    """Counts of the reps of one play."""

    clean: int
    total: int
    slips: Mapping[tuple[Role, Slip | None], int]


def tally(reps: Iterable[Rep]) -> Tally:
    """Count clean ones, and who erred how."""
    kept = tuple(reps)
    slips: dict[tuple[Role, Slip | None], int] = {}
    for rep in kept:
        if not rep.clean and rep.erred is not None:
            slips[rep.erred, rep.slip] = slips.get((rep.erred, rep.slip), 0) + 1
    return Tally(sum(rep.clean for rep in kept), len(kept), slips)


def as_cast(players: Mapping[Role, Id]) -> tuple[tuple[Role, Id], ...]:
    """A cast in the order of the roles."""
    return tuple((role, players[role]) for role in ROLES if role in players)
