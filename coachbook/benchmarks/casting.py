"""How long coverage and casting take, beside general tools that answer the same question.

An invented team of 15 with a package of 40 plays, ratings and needs drawn from a seed. All
3,003 fives are matched with all plays: by our own dynamic programme, by networkx's
Hopcroft-Karp (every tenth pair, scaled up) and by scipy's linear assignment (every pair), and
the answers are compared. Casting two deep is compared with casting every play by itself; it
ends by the work done, never by the clock, so that the mark of the cast is the same on every run.
networkx is a development tool only.
"""

from __future__ import annotations

import tracemalloc
from collections.abc import Callable
from hashlib import sha256
from importlib.util import find_spec
from time import monotonic, perf_counter
from typing import Final, TextIO

import numpy as np

from coachbook.benchmarks.repeats import best
from plays.core.play import ROLES, AgeGroup, Need, Quality
from roster.core.cast import Cast
from roster.core.casting.question import CastingAnswer, CastingQuestion, CastPlay
from roster.core.casting.quick import quick_casting
from roster.core.casting.search import SearchProgress, casting
from roster.core.coverage.absence import absences
from roster.core.coverage.fives import fives
from roster.core.coverage.matching import Known, Worth, best_fillings, coverage
from roster.core.coverage.squad import squad
from roster.core.coverage.teach import teach_next
from roster.core.coverage.weights import floor
from roster.core.people import RATED, Player

PLAYERS: Final = 15
PLAYS: Final = 40
SEED: Final = 20261
READY: Final = 0.6
EVERY: Final = 10  # of the pairs, for networkx
REPEATS: Final = 20


def run(out: TextIO) -> None:
    """Measures and writes: times, ratios, quality and memory."""
    readiness = np.random.default_rng(SEED).beta(2, 2.2, (PLAYERS, PLAYS, len(ROLES)))
    known = readiness >= READY
    worth = np.where(known, readiness, -np.inf)
    out.write(f"{PLAYERS} players, {PLAYS} plays, {len(fives(PLAYERS)) * PLAYS} pairs\n")
    _coverage(out, known)
    _fillings(out, known, worth)
    _follow_up(out)
    _casting(out)


def question() -> CastingQuestion:
    """The invented team and package."""
    rng = np.random.default_rng(SEED)
    players = tuple(
        Player(
            number,
            {quality: int(np.clip(round(rng.normal(3, 1.1)), 1, 5)) for quality in RATED},
            int(rng.normal(172, 7)),
        )
        for number in range(PLAYERS)
    )
    plays = tuple(
        CastPlay(
            number,
            tuple(
                Need(role, quality, int(rng.integers(2, 6)), int(rng.integers(1, 4)))
                for role in ROLES
                for quality in rng.choice(list(Quality), 2, replace=False)
            ),
            float(rng.choice([1.0, 0.7, 0.4])),
        )
        for number in range(PLAYS)
    )
    return CastingQuestion(plays, players, group=AgeGroup.U16)


def _coverage(out: TextIO, known: Known) -> None:
    seconds = best(lambda: coverage(known), REPEATS)
    _time(out, "coverage", seconds, "under 5 ms")
    _memory(out, lambda: coverage(known))
    if find_spec("networkx") is None:
        out.write("networkx is not installed: nothing to compare with\n")
        return
    ours = coverage(known).ravel()[::EVERY]
    begin = perf_counter()
    theirs = [_hopcroft_karp(floor_five) for floor_five in _pairs(known)[::EVERY]]
    looped = (perf_counter() - begin) * EVERY
    _time(out, "  networkx, Hopcroft-Karp", looped, f"{looped / seconds:,.0f} times ours")
    out.write(f"  different answers: {int((ours != np.array(theirs)).sum())} of {len(ours)}\n")


def _fillings(out: TextIO, known: Known, worth: Worth) -> None:
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 (slow to import)

    seconds = best(lambda: best_fillings(worth), REPEATS)
    _time(out, "best filling", seconds, "under 10 ms")
    _memory(out, lambda: best_fillings(worth))
    pairs = _pairs(np.where(known, worth, -1000.0))
    begin = perf_counter()
    theirs = np.array([pair[linear_sum_assignment(pair, maximize=True)].sum() for pair in pairs])
    looped = perf_counter() - begin
    _time(out, "  scipy, linear assignment", looped, f"{looped / seconds:,.0f} times ours")
    ours = best_fillings(worth).ravel()
    differ = np.where(np.isinf(ours), theirs >= 0, np.abs(ours - theirs) > 1e-12)
    out.write(f"  different answers: {int(differ.sum())} of {len(ours)}\n")


def _follow_up(out: TextIO) -> None:
    asked = question()
    minutes: dict[int | str, float] = {number: 30.0 - 2 * number for number in range(PLAYERS)}
    _time(out, "weights of all fives", best(lambda: floor(range(PLAYERS), minutes), REPEATS), "")
    team = squad(range(PLAYERS), range(PLAYS), quick_casting(asked).cast, minutes=minutes)
    _time(out, "each player out", best(lambda: absences(team), REPEATS), "")
    _time(out, "each pair out", best(lambda: absences(team, 2), REPEATS), "")
    _time(out, "what to teach next", best(lambda: teach_next(team), REPEATS), "")


def _casting(out: TextIO) -> None:
    asked = question()
    alone = quick_casting(asked)
    _time(out, "casting, every play by itself", best(lambda: quick_casting(asked), REPEATS), "")
    _quality(out, asked, alone)
    told: list[SearchProgress] = []
    begin = perf_counter()
    whole = casting(asked, None, monotonic, told.append)
    _time(out, "casting the package", perf_counter() - begin, "")
    _quality(out, asked, whole)
    first = next((step for step in told if step.value > alone.value), told[-1])
    out.write(f"  better than play by play after {first.seconds:.1f} s\n")
    gap = "not bounded" if whole.gap is None else f"{100 * whole.gap:.2f} %"
    out.write(f"  {whole.ending}, gap {gap}, cast {_mark(whole.cast)}\n")
    out.write(f"peak memory of the process: {_peak()}\n")


def _quality(out: TextIO, asked: CastingQuestion, found: CastingAnswer) -> None:
    loads = [len(found.cast.of(player.id)) for player in asked.players]
    out.write(
        f"  value {found.value:.2f}; slots per player {min(loads)} to {max(loads)}, "
        f"role numbers per player up to {_most_roles(asked, found.cast)}\n"
    )


def _mark(cast: Cast) -> str:
    """Eight digits that two casts share only where they are the same."""
    return sha256(repr(cast.assignments).encode()).hexdigest()[:8]


def _most_roles(asked: CastingQuestion, cast: Cast) -> int:
    return max(len({a.role for a in cast.of(player.id)}) for player in asked.players)


def _pairs(table: np.ndarray) -> np.ndarray:
    """(fives * plays, 5 players, 5 roles)."""
    floors = table[fives(PLAYERS)].transpose(0, 2, 1, 3)
    return floors.reshape(-1, len(ROLES), len(ROLES))


def _hopcroft_karp(known: np.ndarray) -> bool:
    import networkx as nx  # noqa: PLC0415 (a development tool)

    graph = nx.Graph()
    graph.add_nodes_from(range(5, 10))
    graph.add_edges_from((int(player), 5 + int(role)) for player, role in np.argwhere(known))
    return len(nx.bipartite.hopcroft_karp_matching(graph, range(5, 10))) == 10


def _time(out: TextIO, name: str, seconds: float, beside: str) -> None:
    shown = f"{1000 * seconds:9.2f} ms" if seconds < 1 else f"{seconds:9.2f} s "
    out.write(f"{name:36}{shown}  {beside}".rstrip() + "\n")


def _memory(out: TextIO, work: Callable[[], object]) -> None:
    tracemalloc.start()
    work()
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    out.write(f"  peak memory {peak / 2**20:.1f} MB\n")


def _peak() -> str:
    if find_spec("resource") is None:
        return "not told by this system"
    import resource  # noqa: PLC0415 (not on every system)

    return f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB"
