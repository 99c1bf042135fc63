"""What the install schedule is asked, and what it answers: values only.

``rework.instant`` answers at once, ``improve`` betters it in the background, ``outlook`` says
what to expect, ``rules`` what is wrong with a plan that a coach changed. A schedule is a
proposal: it holds numbers of reps, and decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from plays.core.play import ROLES, Role
from practice.core.readiness.assumptions import NO_OFFSETS, Assumptions, Offsets
from practice.core.readiness.due import STEPS
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import N_

VARIETY: Final = N_(
    "Plays alternate within a practice for variety only: "
    "in young players the published effects of mixing are small (Czyż et al. 2024)."
)


FROM_GAMES: Final = 2.0  # times as much a play counts that a game spoke for; our choice


@dataclass(frozen=True, slots=True)
class Rules:
    """How installing is done here. Minutes; all our choice, and editable per club.

    ``most_new`` plays are begun in one practice; ``walk_first`` walk-throughs come before the
    first half-speed rep of a unit, and ``half_first`` half-speed reps before its first live
    one, where reps older than ``recall_days`` do not count; a unit that runs a play in a
    practice runs it ``least_reps`` times there; nobody stays on one play longer than
    ``longest_on_play`` (7 to 10 minutes on one activity are suggested by the FIBA/WABC
    coaches manual, level 1, 2.1.5). That a play becomes ready counts ``ready_bonus``, as much as
    half of it learnt: two half-learnt plays win no game.
    """

    walk_minutes: float = 0.75
    half_minutes: float = 0.75
    live_minutes: float = 1.25
    setup_minutes: float = 1.5
    longest_on_play: float = 10.0
    most_new: int = 2
    walk_first: int = STEPS.walk_first
    half_first: int = STEPS.half_first
    recall_days: float = STEPS.recall_days
    least_reps: int = 2
    least_live: int = 2
    least_second: int = 2
    last_touch_days: float = 2.0
    expected_clean: float = 0.8
    second_weight: float = 0.5
    third_weight: float = 0.2
    touch_bonus: float = 0.1
    live_bonus: float = 0.1
    second_bonus: float = 0.05
    ready_bonus: float = 0.5

    def minutes(self, mode: Mode) -> float:
        """Minutes of one rep in a practice mode. Raises KeyError for a game."""
        return {
            Mode.WALK_THROUGH: self.walk_minutes,
            Mode.HALF_SPEED: self.half_minutes,
            Mode.LIVE: self.live_minutes,
        }[mode]

    def depth_weight(self, depth: int) -> float:
        """How much a player counts at a depth, 1 the first."""
        return (1.0, self.second_weight, self.third_weight)[min(depth, 3) - 1]


@dataclass(frozen=True, slots=True)
class Unit:
    """A five that practises together: named players, or those cast at a depth of each play."""

    id: Id
    players: tuple[Id, ...] = ()
    depth: int = 1


FIRSTS: Final = Unit("firsts", depth=1)
SECONDS: Final = Unit("seconds", depth=2)


def with_learners(
    cast: Mapping[Role, tuple[Id, ...]], learners: Iterable[tuple[Role, Id]]
) -> dict[Role, tuple[Id, ...]]:
    """A cast in which who is to learn a role comes right behind the first in it."""
    wished = list(learners)
    made = dict(cast)
    for role in ROLES:
        first, rest = made.get(role, ())[:1], made.get(role, ())[1:]
        new = [who for at, who in wished if at == role]
        if new:
            behind = [who for who in new if who not in first]
            made[role] = (*first, *behind, *(who for who in rest if who not in new))
    return made


@dataclass(frozen=True, slots=True)
class PlayToInstall:
    """A play to install. ``cast`` names first, second, third for each role, in order.

    ``deadline`` None means the game. ``priority`` 1 is usual, 0 leaves the play out.
    """

    play: Id
    cast: Mapping[Role, tuple[Id, ...]]
    priority: float = 1.0
    deadline: datetime | None = None
    setup_minutes: float | None = None


@dataclass(frozen=True, slots=True)
class PracticeSlot:
    """A practice to come, with its minutes for installing, and who cannot take part.

    ``limited`` players stay out of live reps; ``absent`` holds those out until cleared too.
    """

    practice: Id
    starts: datetime
    minutes: float
    absent: frozenset[Id] = frozenset()
    limited: frozenset[Id] = frozenset()


@dataclass(frozen=True, slots=True)
class ScheduleEntry:
    """So many reps of a play, in a mode, by a unit, in a practice."""

    practice: Id
    play: Id
    unit: Id
    mode: Mode
    reps: int


@dataclass(frozen=True, slots=True)
class Ask:
    """The whole question. ``fixed`` entries are locked by the coach and always kept."""

    game: datetime
    slots: tuple[PracticeSlot, ...]
    plays: tuple[PlayToInstall, ...]
    players: tuple[Id, ...]
    units: tuple[Unit, ...] = (FIRSTS, SECONDS)
    history: tuple[Touch, ...] = ()
    fixed: tuple[ScheduleEntry, ...] = ()
    rules: Rules = field(default_factory=Rules)
    assumptions: Assumptions = field(default_factory=Assumptions)
    offsets: Offsets = NO_OFFSETS


@dataclass(frozen=True, slots=True)
class Schedule:
    """An answer: entries by practice, play, unit and mode, and what they are worth.

    ``worth`` is the weighted readiness summed over the plays, with the bonuses of the rules;
    it serves to compare plans of one question and nothing else.
    """

    entries: tuple[ScheduleEntry, ...]
    worth: float
