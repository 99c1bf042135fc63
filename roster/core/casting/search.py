"""The search for the best cast of a whole package.

It goes in pieces, each of at most a second or two, so that progress can be shown and the
search be stopped between them (scipy's ``milp``, which is HiGHS, can do neither by itself,
and cannot start from a cast that is known already):

1. every play by itself, by linear assignment: an answer at once; then the package dealt out
   within its limits (``whole``): what follows only ever replaces it by something better;
2. the relaxation, first without and then with the limits on role numbers: a bound that no
   cast can exceed; the second is tighter and takes much longer;
3. after each, every player keeps the role numbers that the relaxation uses most; with these
   settled the programme is nearly free of fractions, and its optimum is found in a moment;
4. the role numbers of three players at a time are set free again, in turn, until a whole
   round brings nothing (large neighbourhood search, Shaw 1998);
5. what time is left goes into the proof that nothing better exists.

The answer depends on nothing but the question, unless time runs out first. Without a limit of
time every piece ends by the work that it has done, and two runs always agree.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.cast import Cast
from roster.core.casting.conflict import locks_in_conflict
from roster.core.casting.model import CastingModel, casting_model
from roster.core.casting.question import CastingAnswer, CastingQuestion, Ending
from roster.core.casting.quick import quick_casting
from roster.core.casting.score import score
from roster.core.casting.whole import whole_casting
from shared.core.language import N_
from shared.core.milp import INFEASIBLE, Solved, relaxed, solved

Numbers = NDArray[np.float64]
Clock = Callable[[], float]

CLOSE_ENOUGH: Final = 2e-4  # of the bound: a gap that nobody could tell from none
_SMALL: Final = 1200  # slots times players
_AT_ONCE: Final = 3  # players set free together
_LONGEST_PIECE: Final = 1.5
_LONGEST_FIRST: Final = 2.5
_MOST_NODES: Final = 50  # of a piece that no clock ends
_PART_FOR_BOUND: Final = 0.4  # of the time that is left
_FRUITLESS_ROUNDS: Final = 2
_TIMES_RELAXED: Final = 5  # HiGHS looks at the clock too rarely to begin a proof with less left


class SearchStage(StrEnum):
    """How far the search has come."""

    QUICK = "quick"
    BOUND = "bound"
    WHOLE = "whole"
    BETTER = "better"
    PROOF = "proof"


STAGES: Final[Mapping[SearchStage, str]] = MappingProxyType(
    {
        SearchStage.QUICK: N_("each play by itself"),
        SearchStage.BOUND: N_("working out the best there could be"),
        SearchStage.WHOLE: N_("a first cast for the whole package"),
        SearchStage.BETTER: N_("looking for a better one"),
        SearchStage.PROOF: N_("proving that there is no better one"),
    }
)


@dataclass(frozen=True, slots=True)
class SearchProgress:
    """Where the search stands: the best cast so far, the bound, and the time it took."""

    stage: SearchStage
    cast: Cast
    value: float
    bound: float | None
    seconds: float


@dataclass(slots=True)
class _CastSearch:
    """The state of one search; ``values`` is the solution behind the best cast."""

    model: CastingModel
    clock: Clock
    began: float
    limit: float | None
    quick: CastingAnswer
    values: Numbers | None = None
    bound: float = -np.inf  # on the cost, from below
    rounds: int = 0
    impossible: bool = False

    @property
    def left(self) -> float:
        return np.inf if self.limit is None else self.limit - (self.clock() - self.began)

    @property
    def cost(self) -> float:
        return np.inf if self.values is None else float(self.model.cost @ self.values)

    @property
    def tolerance(self) -> float:
        """The gap, as a part of the bound, that is let be; none in a small question."""
        return 0.0 if self.model.x.size <= _SMALL else CLOSE_ENOUGH

    @property
    def close(self) -> bool:
        return self.cost - self.bound <= max(1e-7, self.tolerance * abs(self.bound))

    @property
    def improvable(self) -> bool:
        return self.values is not None and not self.close and self.left > 0

    def solved(self, model: CastingModel, longest: float) -> Solved:
        """One piece: so many seconds of what is left, or so much work where nothing is timed."""
        gap = self.tolerance / 2
        if self.limit is None:
            return solved(model, None, gap, _MOST_NODES)
        return solved(model, min(longest, self.left), gap)

    def may_prove(self, relaxing: float) -> bool:
        """Whether a proof may end: nothing but a clock breaks off the first node of a large one."""
        if self.limit is None:
            return self.model.x.size <= _SMALL
        return self.left > _TIMES_RELAXED * relaxing

    def take(self, values: Numbers | None) -> bool:
        """Keep a solution when it is better."""
        if values is None or self.model.cost @ values >= self.cost - 1e-9:
            return False
        self.values = values
        return True

    def progress(self, stage: SearchStage) -> SearchProgress:
        cast, value = self._best()
        bound = -self.bound if np.isfinite(self.bound) else None
        return SearchProgress(stage, cast, value, bound, self.clock() - self.began)

    def answer(self, ending: Ending) -> CastingAnswer:
        cast, value = self._best()
        bound = -self.bound if np.isfinite(self.bound) else None
        return CastingAnswer(cast, ending, value, None if bound is None else max(bound, value))

    def _best(self) -> tuple[Cast, float]:
        """The best cast for the package; play by play while there is none.

        The cast play by play may break the limits of load and roles, so however few holes it
        leaves it gives way to any cast that keeps them.
        """
        if self.values is None:
            return self.quick.cast, self.quick.value
        cast = self.model.cast(self.values)
        return cast, score(self.model.question, cast).total


def casting(
    question: CastingQuestion,
    time_limit: float | None,
    clock: Clock,
    on_progress: Callable[[SearchProgress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> CastingAnswer:
    """The best cast to be found in ``time_limit`` seconds by ``clock``; None ends by work done.

    ``on_progress`` is called after every piece, ``cancelled`` asked before every next one. The
    solver leaves other threads running; it may also run in a process of its own, since
    question and answer can be pickled.
    """
    search = _begun(question, time_limit, clock)
    for progress in _pieces(search):
        if on_progress is not None:
            on_progress(progress)
        if cancelled is not None and cancelled():
            return search.answer(Ending.CANCELLED)
        if search.left <= 0:
            return search.answer(_ending(search, Ending.TIME))
    if search.impossible:
        return _impossible(search)
    settled = search.values is not None and search.left > 0
    return search.answer(_ending(search, Ending.SETTLED if settled else Ending.TIME))


def _begun(question: CastingQuestion, time_limit: float | None, clock: Clock) -> _CastSearch:
    began = clock()
    model = casting_model(question).with_locks(question.locks)
    return _CastSearch(model, clock, began, time_limit, quick_casting(question), _dealt(model))


def _ending(search: _CastSearch, otherwise: Ending) -> Ending:
    proved = search.values is not None and search.cost - search.bound <= 2e-6
    return Ending.PROVED if proved else otherwise


def _impossible(search: _CastSearch) -> CastingAnswer:
    locks = locks_in_conflict(search.model.question)
    answer = search.answer(Ending.CONFLICT if locks else Ending.TIME)
    return replace(answer, conflict=locks, bound=None)


def _pieces(search: _CastSearch) -> Iterator[SearchProgress]:
    yield search.progress(SearchStage.QUICK if search.values is None else SearchStage.WHOLE)
    yield from _relaxed(search, search.model.without_role_limits(), search.left)
    if search.impossible or search.left <= 0:
        return
    began = search.clock()
    yield from _relaxed(search, search.model, search.left * _PART_FOR_BOUND)
    relaxing = search.clock() - began
    if search.values is None and not search.impossible:
        yield from _first(search, search.model) or _first(search, search.model.free_of_cost())
    fruitless = 0
    while search.improvable and fruitless < _FRUITLESS_ROUNDS:
        fruitless = 0 if (yield from _round(search)) else fruitless + 1
    if search.improvable and search.may_prove(relaxing):
        yield _proof(search)


def _dealt(model: CastingModel) -> Numbers | None:
    """The package dealt out; none where locks or fives ask for more than dealing sees."""
    values = model.values(whole_casting(model.question))
    return values if model.allows(values) else None


def _relaxed(search: _CastSearch, model: CastingModel, seconds: float) -> Iterator[SearchProgress]:
    """A bound from fractions, and a first whole cast in the roles that they use most."""
    result = relaxed(model, seconds)
    if result.x is None or result.fun is None:
        search.impossible = result.status == INFEASIBLE
        return
    search.bound = max(search.bound, result.fun)
    yield search.progress(SearchStage.BOUND)
    narrowed = search.model.with_roles(_roles_most_used(search.model, result.x))
    yield from _first(search, narrowed)


def _first(search: _CastSearch, model: CastingModel) -> list[SearchProgress]:
    """One attempt at a cast for the whole package: none or one step of progress."""
    if search.left <= 0:
        return []
    result = search.solved(model, _LONGEST_FIRST)
    if result.status == INFEASIBLE and model is search.model:
        search.impossible = True
    return [search.progress(SearchStage.WHOLE)] if search.take(result.x) else []


def _roles_most_used(model: CastingModel, fractions: Numbers) -> NDArray[np.bool_]:
    """(players, 5): as many role numbers as each may have, the most used first."""
    used = fractions[model.x].sum(axis=(1, 3)) + 1e-3 * fractions[model.z]
    for lock in model.question.locks:
        if lock.player in model.question.player_index:
            used[model.question.player_index[lock.player], ROLES.index(lock.role)] += 1e6
    rank = np.argsort(np.argsort(-used, axis=1, kind="stable"), axis=1, kind="stable")
    return np.asarray(rank < model.question.most_roles()[:, None])


def _round(search: _CastSearch) -> Generator[SearchProgress, None, bool]:
    """Every player is set free with two others. Returns whether anything got better."""
    better = False
    for group in _groups(search):
        if search.values is None or search.left <= 0:
            break
        roles = search.values[search.model.z] > 0.5
        roles[group] = True
        result = search.solved(search.model.with_roles(roles), _LONGEST_PIECE)
        better = search.take(result.x) or better
        yield search.progress(SearchStage.BETTER)
        if search.close:
            break
    return better


def _groups(search: _CastSearch) -> Iterator[list[int]]:
    """All players in threes; every round sorts them into other threes."""
    n = len(search.model.question.players)
    step = 1 + search.rounds % max(1, n - 1)
    order = sorted(range(n), key=lambda p: (p * step % n, p))
    search.rounds += 1
    for first in range(0, n, _AT_ONCE):
        yield order[first : first + _AT_ONCE]


def _proof(search: _CastSearch) -> SearchProgress:
    """Ask for anything better than what is known; that there is nothing is the proof."""
    better = search.model.with_ceiling(search.cost - 1e-6)
    result = search.solved(better, search.left)
    search.take(result.x)
    if result.status == INFEASIBLE:
        search.bound = search.cost
    elif result.bound is not None:
        search.bound = min(search.cost, max(search.bound, result.bound))
    return search.progress(SearchStage.PROOF)
