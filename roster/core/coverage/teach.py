"""What to teach next: the lessons that let a play be run in most game time, for their reps.

A lesson is one role of one play for one player. What it gains is worked out for all of them at
once: a five gains a play when its other four can fill all roles but the one learnt. Where no
single lesson gains anything, the best pair is looked for, since two may help where neither does
alone; and where no pair does, the fewest lessons with which anybody at all can run the play.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from plays.core.play import ROLES, AgeGroup, Need, Role
from roster.core.cast import Lesson, PlayId
from roster.core.coverage.absence import mean_of
from roster.core.coverage.fives import fives, rest_of_five
from roster.core.coverage.matching import best_fillings, coverage, four_of_five
from roster.core.coverage.squad import Squad
from roster.core.coverage.weights import Numbers
from roster.core.fit import NOTHING_ASKED, fit_table
from roster.core.people import Player

USUAL_REPS = 6.0
"""Reps that a lesson is taken to need where nothing else is said: our own choice."""

# Reps that a lesson takes beside the usual ones: our own choice. A role away from a player's
# usual position, or one that asks for more than they bring, is learnt later.
REPS_FOR_A_STEP = 3.0
REPS_FOR_FIT = 12.0  # for each whole unit of fit below one that just meets the needs

_NOTHING = 1e-12


@dataclass(frozen=True, slots=True)
class Teaching:
    """One lesson, or the lessons of one play that only help together.

    ``gain`` is the part of game time, 0 to 1, by which coverage of the package rises,
    ``play_gain`` that of the play alone; ``reps`` are the reps needed for all of them.
    """

    lessons: tuple[Lesson, ...]
    gain: float
    play_gain: float
    reps: float

    @property
    def play(self) -> PlayId:
        return self.lessons[0].play

    @property
    def per_rep(self) -> float:
        return self.gain / self.reps


def teach_next(
    squad: Squad, reps: Mapping[Lesson, float] | None = None, usual_reps: float = USUAL_REPS
) -> tuple[Teaching, ...]:
    """Every lesson that gains something, most gain per rep first, pairs among them.

    Equal lessons come in the order of plays, roles and players.
    """
    gains = lesson_gains(squad)
    found = []
    for column, play in enumerate(squad.plays):
        table = gains[:, column]
        single = [
            Teaching((Lesson(squad.players[p], play, ROLES[k]),), 0.0, float(table[p, k]), 1.0)
            for k, p in np.argwhere(table.T > _NOTHING)
        ]
        found += single or _together(squad, column)
    weighed = [_weighed(squad, teaching, reps or {}, usual_reps) for teaching in found]
    return tuple(sorted(weighed, key=lambda teaching: -round(teaching.per_rep, 12)))


def few_of_each(ranked: Iterable[Teaching], most: int) -> Iterator[Teaching]:
    """The best lessons, at most so many of one play: a list is not to be about one play alone."""
    seen: Counter[PlayId] = Counter()
    for teaching in ranked:
        seen[teaching.play] += 1
        if seen[teaching.play] <= most:
            yield teaching


def lesson_gains(squad: Squad) -> Numbers:
    """(players, plays, 5): the part of game time by which each lesson lets its play be run."""
    players = len(squad.players)
    gains = np.zeros((players, len(squad.plays), len(ROLES)))
    if players < len(ROLES):
        return gains
    four = four_of_five(squad.known)
    missing = ~squad.runnable()
    everyone, rest = fives(players), rest_of_five(players)
    for place in range(len(ROLES)):
        member = everyone[:, place] == np.arange(players)[:, None]
        share = member * squad.floor.weights
        for role in range(len(ROLES)):
            gains[:, :, role] += share @ (four[role][rest[:, place]] & missing)
    gains[squad.known] = 0.0
    return gains


def _together(squad: Squad, column: int) -> list[Teaching]:
    """The best pair of lessons for a play, or the fewest lessons that help."""
    if len(squad.players) < len(ROLES) or squad.floor.weights.sum() <= 0:
        return []
    before = float(squad.floor.weights @ squad.runnable()[:, column])
    if before > 1 - _NOTHING:
        return []
    return [_best_pair(squad, column, before) or _fewest(squad, column, before)]


def _best_pair(squad: Squad, column: int, before: float) -> Teaching | None:
    known = squad.known[:, column]
    if (~known.any(axis=0)).sum() > 2:  # roles that nobody knows: two lessons cannot fill three
        return None
    pairs = list(combinations(np.argwhere(~known.T).tolist(), 2))
    if not pairs:
        return None
    tried = np.repeat(known[:, None], len(pairs), axis=1)
    for number, pair in enumerate(pairs):
        for role, player in pair:
            tried[player, number, role] = True
    shares = squad.floor.weights @ coverage(tried)
    best = int(np.argmax(shares.round(12)))
    if shares[best] <= before + _NOTHING:
        return None
    lessons = tuple(_lesson(squad, column, player, role) for role, player in pairs[best])
    return Teaching(lessons, 0.0, float(shares[best]) - before, 1.0)


def _fewest(squad: Squad, column: int, before: float) -> Teaching:
    """For the five that lacks least, and of those the one expected most."""
    known = squad.known[:, [column]]
    have = best_fillings(known.astype(np.float64))[:, 0]
    have = np.where(squad.floor.weights > 0, have, -1.0)
    likely = np.lexsort((squad.floor.weights, have))[-1]
    five = fives(len(squad.players))[likely]
    taught = replace(squad, known=squad.known.copy())
    lessons = []
    for player, role in _missing(known[five, 0]):
        lessons.append(_lesson(squad, column, int(five[player]), role))
        taught.known[five[player], column, role] = True
    after = float(squad.floor.weights @ taught.runnable()[:, column])
    return Teaching(tuple(lessons), 0.0, after - before, 1.0)


def _missing(known: np.ndarray) -> list[tuple[int, int]]:
    """(player, role) pairs to be learnt so that these five can fill all roles."""
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 (slow to import)

    pairs = zip(*linear_sum_assignment(known, maximize=True), strict=True)
    return [(int(player), int(role)) for player, role in pairs if not known[player, role]]


def _lesson(squad: Squad, column: int, player: int, role: int) -> Lesson:
    return Lesson(squad.players[player], squad.plays[column], ROLES[role])


def _weighed(
    squad: Squad, teaching: Teaching, reps: Mapping[Lesson, float], usual_reps: float
) -> Teaching:
    share = np.array([play == teaching.play for play in squad.plays], dtype=np.float64)
    gain = teaching.play_gain * mean_of(share, squad.importance)
    needed = sum(max(1.0, reps.get(lesson, usual_reps)) for lesson in teaching.lessons)
    return replace(teaching, gain=gain, reps=needed)


def reps_to_learn(
    needs: Mapping[PlayId, Sequence[Need]], players: Sequence[Player], group: AgeGroup
) -> dict[Lesson, float]:
    """Reps that each lesson is taken to need, by fit and usual position."""
    table = fit_table(list(needs.values()), players, group)
    return {
        Lesson(player.id, play, role): USUAL_REPS
        + REPS_FOR_A_STEP * _steps(player, role)
        + REPS_FOR_FIT * max(0.0, NOTHING_ASKED - float(table[row, column, index]))
        for row, player in enumerate(players)
        for column, play in enumerate(needs)
        for index, role in enumerate(ROLES)
    }


def _steps(player: Player, role: Role) -> int:
    """Steps from the nearest usual position to the role's number; one where none is known."""
    return min((abs(int(role) - int(usual)) for usual in player.positions), default=1)
