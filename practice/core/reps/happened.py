"""What happened in a practice: runs and clean runs by play, and who erred how often and how.

Counts only: nothing here is an estimate. A rep that was not clean and names nobody stays a rep
that was not clean.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from practice.core.reps.rep import Id, Mode, Rep, Slip
from shared.core.language import N_, NN_, Language

WEEK: Final = timedelta(days=7)
MISSED: Final = NN_("{who} was away and missed {plays}", "{who} were away and missed {plays}")
BEHIND: Final = N_("{who} has missed the last {n} times that {play} was run")
LEAST_MISSED: Final = 2  # times: of one, the day after tells. Our choice
RUNS: Final = NN_("{n} run, {clean} clean", "{n} runs, {clean} clean")
_TIMES: Final[Mapping[Slip | None, tuple[str, str]]] = {
    Slip.EARLY: NN_("{who} too early once", "{who} too early {n} times"),
    Slip.LATE: NN_("{who} too late once", "{who} too late {n} times"),
    Slip.WRONG_SPOT: NN_("{who} in the wrong spot once", "{who} in the wrong spot {n} times"),
    Slip.WRONG_READ: NN_("{who} with the wrong read once", "{who} with the wrong read {n} times"),
    Slip.PASS: NN_("{who} with a bad pass once", "{who} with a bad pass {n} times"),
    Slip.SCREEN: NN_("{who} with a bad screen once", "{who} with a bad screen {n} times"),
    None: NN_("{who} with an error once", "{who} with an error {n} times"),
}


@dataclass(frozen=True, slots=True)
class Errors:
    """How often one person went wrong in one way; ``slip`` is None where nobody said how."""

    player: Id
    slip: Slip | None
    times: int


@dataclass(frozen=True, slots=True)
class PlayRuns:
    """One play in one practice. ``errors`` come most often first, ``calls`` too: those named."""

    play: Id
    runs: int
    clean: int
    modes: tuple[tuple[Mode, int], ...]
    errors: tuple[Errors, ...]
    calls: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class MissedLately:
    """Somebody without a rep of a play in the last ``times`` practices in which it was run."""

    player: Id
    play: Id
    times: int


@dataclass(frozen=True, slots=True)
class Week:
    """The practices of one week, from its Monday; a week without any stands too."""

    first: date
    practices: int
    runs: int
    clean: int


@dataclass(frozen=True, slots=True)
class Day:
    """The runs of one practice."""

    on: date
    runs: int
    clean: int


def runs_by_play(reps: Iterable[Rep]) -> tuple[PlayRuns, ...]:
    """The plays in the order in which they were first run."""
    by_play: dict[Id, list[Rep]] = {}
    for rep in reps:
        by_play.setdefault(rep.play, []).append(rep)
    return tuple(_runs(play, same) for play, same in by_play.items())


def errors_over(plays: Iterable[PlayRuns]) -> tuple[Errors, ...]:
    """Who erred how over all these plays: each person and way once, most often first."""
    wrong: Counter[tuple[Id, Slip | None]] = Counter()
    for play in plays:
        for each in play.errors:
            wrong[each.player, each.slip] += each.times
    return _by_times(wrong)


def missed(
    absent: Iterable[Id], parts: Iterable[tuple[Id, Id]], runs: Iterable[PlayRuns]
) -> tuple[tuple[tuple[Id, ...], tuple[Id, ...]], ...]:
    """Who was away, with the plays run meanwhile in which they have a part; alike together.

    ``parts`` are pairs of a player and a play. Somebody who missed no part is left out.
    """
    run, known = [each.play for each in runs], set(parts)
    found: dict[tuple[Id, ...], list[Id]] = {}
    for who in absent:
        plays = tuple(play for play in run if (who, play) in known)
        found.setdefault(plays, []).append(who)
    return tuple((tuple(people), plays) for plays, people in found.items() if plays)


def missed_lately(
    ran: Iterable[tuple[Id, Id, Id]], parts: Collection[tuple[Id, Id]]
) -> tuple[MissedLately, ...]:
    """Who had a rep of a play before and none the last times it was run, most times first.

    ``ran`` are a practice, a play run in it and one who ran it, the newest practice first;
    ``parts`` are pairs of a player and a play. Who has run none of it yet has missed nothing.
    """
    held: dict[Id, dict[Id, set[Id]]] = {}
    for practice, play, who in ran:
        held.setdefault(play, {}).setdefault(practice, set()).add(who)
    found = []
    for player, play in parts:
        times = [player in there for there in held.get(play, {}).values()]
        if True in times and times.index(True) >= LEAST_MISSED:
            found.append(MissedLately(player, play, times.index(True)))
    return tuple(sorted(found, key=lambda one: -one.times))


def by_week(days: Iterable[Day]) -> tuple[Week, ...]:
    """Every week from the first to the last of these days, the first one first."""
    found: dict[date, list[Day]] = {}
    for day in days:
        found.setdefault(day.on - timedelta(days=day.on.weekday()), []).append(day)
    first, last = min(found, default=date.max), max(found, default=date.min)
    mondays = (first + n * WEEK for n in range((last - first) // WEEK + 1))
    return tuple(_week(monday, found.get(monday, [])) for monday in mondays)


def runs_told(runs: int, clean: int, language: Language) -> str:
    """As in "20 runs, 17 clean"."""
    return language.say_n(*RUNS, runs, clean=clean)


def errors_told(errors: Errors, who: str, language: Language) -> str:
    """As in "Carla too early 3 times"."""
    return language.say_n(*_TIMES[errors.slip], errors.times, who=who)


def missed_told(who: Sequence[str], plays: Sequence[str], language: Language) -> str:
    """As in "Zoë and Chiara were away and missed Foghorn"."""
    people, calls = language.all_of(who), language.all_of(plays)
    return language.say_n(*MISSED, len(who), who=people, plays=calls)


def missed_lately_told(missed: MissedLately, who: str, play: str, language: Language) -> str:
    """As in "Noor has missed the last 3 times that Foghorn was run"."""
    return language.say(BEHIND, who=who, play=play, n=missed.times)


def _runs(play: Id, reps: list[Rep]) -> PlayRuns:
    modes = Counter(rep.mode for rep in reps)
    wrong: Counter[tuple[Id, Slip | None]] = Counter()
    for rep in reps:
        if not rep.clean and rep.erred and (who := rep.player(rep.erred)) is not None:
            wrong[who, rep.slip] += 1
    return PlayRuns(
        play=play,
        runs=len(reps),
        clean=sum(rep.clean for rep in reps),
        modes=tuple((mode, modes[mode]) for mode in Mode if modes[mode]),
        errors=_by_times(wrong),
        calls=tuple(Counter(rep.call for rep in reps if rep.call is not None).most_common()),
    )


def _by_times(wrong: Counter[tuple[Id, Slip | None]]) -> tuple[Errors, ...]:
    return tuple(Errors(who, slip, times) for (who, slip), times in wrong.most_common())


def _week(monday: date, days: list[Day]) -> Week:
    return Week(monday, len(days), sum(day.runs for day in days), sum(day.clean for day in days))
