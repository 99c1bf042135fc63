"""The improved schedule against brute force, its own bounds, and the instant plan."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from practice.core.install import improve as improving
from practice.core.install.build import model
from practice.core.install.greedy import is_sound, tidied
from practice.core.install.improve import ImproveProgress, improve
from practice.core.install.model import Indices, as_schedule, minutes_used, worth
from practice.core.install.pieces import curve_over, gain_lines
from practice.core.install.programme import Programme
from practice.core.install.question import Ask, ScheduleEntry
from practice.core.install.rework import instant
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import chance
from practice.core.reps.rep import Mode
from shared.core.milp import solved
from tests.practice.core.install.cases import GAME, big_ask, broken_rules, small_ask

SOON = GAME - timedelta(days=2)


def best_by_trying(ask: Ask) -> float:
    """Every plan of up to three reps each, all of them valued."""
    model_ = model(ask)
    best = 0.0
    shape = model_.shape
    per_play = []
    for k in range(shape[0]):
        own: list[tuple[Indices, object]] = []
        for counts in itertools.product(range(4), repeat=3 * shape[3]):
            reps = np.zeros(shape, dtype=np.int64)
            reps[k, 0] = np.array(counts).reshape(3, shape[3])
            used = minutes_used(model_, reps)
            if (used.sum(axis=0) <= model_.room + 1e-9).all() and is_sound(model_, reps):
                own.append((reps, used))
        per_play.append(own)
    for choice in itertools.product(*per_play):
        reps = np.sum([reps for reps, _ in choice], axis=0)
        used = minutes_used(model_, reps).sum(axis=0)
        if (used <= model_.room + 1e-9).all() and is_sound(model_, reps):
            best = max(best, worth(model_, reps))
    return best


@pytest.mark.parametrize(("plays", "minutes"), [(1, 5.0), (1, 6.5), (2, 3.5), (2, 4.5)])
def test_small_questions_against_every_plan_there_is(plays: int, minutes: float) -> None:
    ask = small_ask(plays, minutes)
    best = best_by_trying(ask)
    assert best > 0
    found = improve(ask, 5.0, time.perf_counter, relative_gap=0.0)
    assert found.schedule.worth == pytest.approx(best, rel=0.01)
    assert found.bound >= best - 1e-9
    assert instant(ask).worth >= 0.85 * best


def test_the_improved_plan_is_no_worse_keeps_the_rules_and_reports() -> None:
    ask = big_ask(plays=6, practices=5)
    heard: list[ImproveProgress] = []

    def listen(progress: ImproveProgress) -> bool:
        heard.append(progress)
        return True

    found = improve(ask, 4.0, time.perf_counter, listen)
    assert found.instant == instant(ask)
    assert found.schedule.worth > found.instant.worth
    assert found.improved
    assert broken_rules(ask, found.schedule) == []
    assert found.gap is not None
    assert 0 <= found.gap < 0.2
    assert found.bound >= found.schedule.worth
    assert 0 <= found.approximation < 0.02 * found.bound
    assert [heard[0].stage, heard[-1].stage] == ["instant", "done"]
    assert [p.worth for p in heard] == sorted(p.worth for p in heard)
    assert [p.bound for p in heard] == sorted((p.bound for p in heard), reverse=True)


def test_drawn_parts_come_first_and_an_interior_point_bounds_before_the_programme(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The interior point method's answer is held to HiGHS's own, where nothing need be whole."""
    ask = big_ask(plays=6, practices=5)
    heard: list[ImproveProgress] = []

    def until_bounded(progress: ImproveProgress) -> bool:
        heard.append(progress)
        return progress.stage != "bounded"

    monkeypatch.setattr(improving, "FRUITLESS", 10)
    improve(ask, 60.0, lambda: 0.0, until_bounded)
    assert list(dict.fromkeys(one.stage for one in heard)) == [
        "instant",
        "reworked",
        "bounded",
        "done",
    ]
    programme = Programme(model(ask))
    loose = replace(programme.milp, whole=np.zeros_like(programme.milp.whole))
    fractions = solved(loose, None, 0.0).bound
    assert fractions is not None
    assert heard[-1].bound == pytest.approx(programme.constant - fractions, abs=1e-4)
    assert heard[-1].bound < programme.loosest


def test_parts_drawn_by_chance_better_the_instant_plan_and_the_same_seed_the_same_way(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The clock stands, so that the draws end by work done."""
    monkeypatch.setattr(improving, "FRUITLESS", 60)
    ask = big_ask(plays=6, practices=5)

    def reached(seed: int) -> float:
        worths = []

        def listen(progress: ImproveProgress) -> bool:
            worths.append(progress.worth)
            return progress.stage != "bounded"

        improve(ask, 30.0, lambda: 0.0, listen, seed=seed)
        return worths[-1]

    assert reached(0) == reached(0) > 1.02 * instant(ask).worth


def test_the_relaxation_bounds_every_plan() -> None:
    ask = big_ask(plays=4, practices=4)
    programme = Programme(model(ask))
    loose = replace(programme.milp, whole=np.zeros_like(programme.milp.whole))
    fractions = solved(loose, None, 0.0).bound
    assert fractions is not None
    relaxed = programme.constant - fractions
    assert instant(ask).worth <= relaxed <= programme.loosest
    found = programme.solve(5.0, 0.01)
    assert found.bound <= relaxed + 1e-6


@pytest.mark.parametrize("most_new", [1, 2])
def test_what_the_programme_solves_keeps_every_rule_by_itself(most_new: int) -> None:
    ask = big_ask(plays=4, practices=2)
    strict = replace(ask, rules=replace(ask.rules, most_new=most_new))
    model_ = model(strict)
    solved = Programme(model_).solve(5.0, 0.02)
    assert solved.reps is not None
    assert broken_rules(strict, as_schedule(model_, solved.reps)) == []
    assert worth(model_, solved.reps) <= solved.bound + 1e-6


def test_it_stops_when_told_and_keeps_the_instant_plan() -> None:
    ask = big_ask(plays=3, practices=3)
    found = improve(ask, 60.0, time.perf_counter, lambda p: False)
    assert found.schedule == found.instant == instant(ask)
    assert not found.improved


def test_locks_survive_the_improvement() -> None:
    lock = ScheduleEntry("t0", "k0", "firsts", Mode.WALK_THROUGH, 3)
    ask = replace(small_ask(minutes=8.0), fixed=(lock,))
    found = improve(ask, 2.0, time.perf_counter)
    kept = [e.reps for e in found.schedule.entries if replace(e, reps=3) == lock]
    assert sum(kept) >= 3


def test_a_lock_against_the_steps_does_not_make_the_programme_impossible() -> None:
    lock = ScheduleEntry("t0", "k0", "firsts", Mode.LIVE, 4)
    ask = replace(small_ask(minutes=2.0), fixed=(lock,))
    solved = Programme(model(ask)).solve(5.0, 0.0)
    assert solved.reps is not None


# --- the pieces ---------------------------------------------------------------------------


@given(st.floats(0.2, 1.0), st.floats(0.05, 0.9), st.floats(0.0, 1.0))
def test_the_gain_pieces_never_lie_below_the_power(
    massing: float, least: float, share: float
) -> None:
    lines = gain_lines(massing, least)
    effort = least + share * (12.0 - least)
    assert min(level + slope * effort for level, slope in lines) >= effort**massing - 1e-9
    assert min(level for level, _ in lines) == pytest.approx(0.0)


@given(
    st.floats(0.0, 3.0),
    st.floats(-1.0, 1.0),
    st.floats(0.15, 1.5),
    st.floats(0.0, 8.0),
)
def test_the_readiness_pieces_never_lie_below_the_logistic(
    start: float, offset: float, spread: float, fresh: float
) -> None:
    assumptions = Assumptions(spread=spread, threshold=0.1)
    over = curve_over(start, offset, assumptions).at(fresh)
    assert over >= chance(start + fresh, assumptions, offset) - 1e-9


def test_the_readiness_pieces_lie_close() -> None:
    over = curve_over(0.0, 0.0, Assumptions())
    gaps = [over.at(s) - chance(s, Assumptions()) for s in np.linspace(0, 6, 601).tolist()]
    assert max(gaps) < 0.06
    assert sum(gaps) / len(gaps) < 0.01


@settings(deadline=None, max_examples=25)
@given(st.integers(0, 10_000))
def test_the_pieces_overrate_every_plan(seed: int) -> None:
    model_ = model(big_ask(seed=2, plays=3, practices=3))
    programme = Programme(model_)
    reps = np.random.default_rng(seed).integers(0, 3, size=model_.shape)
    assert programme.value_of(reps) >= worth(model_, reps) - 1e-9


def test_where_nothing_counts_no_plan_is_said_to_be_better_by_a_number() -> None:
    ask = small_ask(plays=1, minutes=4.0)
    idle = replace(ask, plays=(replace(ask.plays[0], priority=0.0),))
    found = improve(idle, 1.0, time.perf_counter)
    assert found.bound == 0
    assert found.gap is None
    assert found.proved


def test_a_deadline_at_the_game_asks_nothing_more_than_the_game() -> None:
    ask = small_ask()
    at_game = replace(ask, plays=tuple(replace(one, deadline=ask.game) for one in ask.plays))
    np.testing.assert_array_equal(model(at_game).weight, model(ask).weight)
    early = replace(ask, plays=tuple(replace(p, deadline=SOON) for p in ask.plays))
    assert (model(early).weight[:, 1] > 0).all()


def test_walks_that_nothing_needs_are_run_at_half_speed_but_locked_ones_stay() -> None:
    """One walk-through must come first here; the lock asks for two more."""
    lock = ScheduleEntry("t0", "k0", "firsts", Mode.WALK_THROUGH, 3)
    for fixed, walked in (((), 1), ((lock,), 3)):
        model_ = model(replace(small_ask(minutes=30.0), fixed=fixed))
        reps = np.zeros(model_.shape, dtype=np.int64)
        reps[0, 0, 0, 0] = 5
        found = tidied(model_, reps)
        assert found[0, 0, 0, 0] == walked
        assert found.sum() == 5
