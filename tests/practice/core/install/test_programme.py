"""The integer programme against every plan there is, valued by the pieces one by one.

Its optimum must be the best of ``value_of`` over all plans that keep the rules: neither more,
or a row is missing, nor less, or one is too strict. The pieces themselves are held in
``test_improve``.
"""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from plays.core.play import ROLES
from practice.core.install.build import model
from practice.core.install.greedy import _filling, filled, is_sound, tidied
from practice.core.install.model import HALF, WALK, bonuses, minutes_used
from practice.core.install.programme import Programme
from practice.core.install.question import Ask
from practice.core.install.rework import instant
from practice.core.readiness.assumptions import Assumptions
from practice.core.reps.rep import Mode, Touch
from tests.practice.core.install.cases import GAME, slot, small_ask


def best_of_the_pieces(programme: Programme) -> float:
    """Every sound plan of one play by one unit that fits, by the pieces' own value."""
    model_ = programme.model
    _, _, modes, practices = model_.shape
    most = [int(model_.play_room.max() / minutes) for minutes in model_.minutes for _ in range(2)]
    best = programme.value_of(np.zeros(model_.shape, dtype=np.int64))
    for counts in itertools.product(*(range(one + 1) for one in most)):
        reps = np.array(counts, dtype=np.int64).reshape(1, 1, modes, practices)
        used = minutes_used(model_, reps)
        fits = (used <= model_.play_room + 1e-9).all() and (used[0] <= model_.room + 1e-9).all()
        if fits and (reps[~model_.can] == 0).all() and is_sound(model_, reps):
            best = max(best, programme.value_of(reps))
    return best


def known(days: float, reps: int = 1) -> tuple[Touch, ...]:
    at = GAME - timedelta(days=days)
    players = small_ask().players
    return tuple(
        Touch(who, "k0", role, "old", at, Mode.LIVE, clean=True, count=reps)
        for role, who in zip(ROLES, players, strict=True)
    )


SMALL = small_ask(plays=1, minutes=3.0, longest_on_play=3.0, setup_minutes=0.0)
LONG_AGO = (slot("t0", 100.0, 3.0), slot("t1", 90.0, 3.0))


@pytest.mark.parametrize(
    "ask",
    [
        SMALL,
        # A strength beyond the foot of the curve from the beginning, and one within it.
        replace(SMALL, history=known(5.0)),
        replace(SMALL, history=known(60.0)),
        # So long before the game that no plan leaves the foot.
        replace(SMALL, slots=LONG_AGO),
        # Quotas of which nothing is asked, and quotas that are full before anything is planned.
        replace(SMALL, rules=replace(SMALL.rules, least_live=0, least_second=0)),
        replace(SMALL, history=known(30.0, 2)),
        # A deadline before the last practice, a rep that must not come alone, no discount.
        replace(SMALL, plays=(replace(SMALL.plays[0], deadline=GAME - timedelta(days=2)),)),
        replace(SMALL, rules=replace(SMALL.rules, least_reps=1, walk_first=0)),
        replace(SMALL, assumptions=Assumptions(massing=1.0)),
        # Nobody learns from walking through; live reps leave a player out.
        replace(SMALL, assumptions=Assumptions(walk_through=0.0)),
        replace(
            SMALL,
            slots=(SMALL.slots[0], replace(SMALL.slots[1], limited=frozenset({"cy"}))),
            players=(*SMALL.players, "fay"),
        ),
    ],
    ids=[
        "plain",
        "past the foot",
        "within the foot",
        "foot only",
        "no quotas",
        "quota full",
        "deadline",
        "no steps",
        "no discount",
        "walking is nothing",
        "limited",
    ],
)
def test_the_optimum_is_the_best_plan_by_the_pieces(ask: Ask) -> None:
    programme = Programme(model(ask))
    found = programme.solve(20.0, 0.0)
    assert found.reps is not None
    best = best_of_the_pieces(programme)
    assert found.bound == pytest.approx(best, abs=2e-6)
    assert programme.value_of(found.reps) == pytest.approx(best, abs=2e-6)
    assert best > 0


def test_a_quota_of_nothing_is_full_without_a_rep() -> None:
    """Each bonus as its rule has it: live 0.1, second depth 0.05, times the priority of 1."""
    rules = replace(SMALL.rules, least_live=0, least_second=0)
    model_ = model(replace(SMALL, rules=rules))
    none = np.zeros(model_.shape, dtype=np.int64)
    assert bonuses(model_, none).tolist() == pytest.approx([0.15])
    assert bonuses(model(SMALL), none).tolist() == [0.0]


def test_what_more_reps_fill_of_a_quota() -> None:
    more = np.array([0, 1, 2, 5])
    assert _filling(0, more, 4).tolist() == [0.0, 0.25, 0.5, 1.0]
    assert _filling(3, more, 4).tolist() == [0.0, 0.25, 0.25, 0.25]
    assert _filling(4, more, 4).tolist() == [0.0, 0.0, 0.0, 0.0]
    assert _filling(0, more, 0).tolist() == [0.0, 0.0, 0.0, 0.0]


@pytest.mark.parametrize(
    ("half_minutes", "half_speed", "walks"),
    [(0.75, 0.6, 1), (0.8, 0.6, 4), (0.75, 0.3, 1), (0.75, 0.29, 4)],
)
def test_walks_are_only_run_faster_where_that_costs_nothing(
    half_minutes: float, half_speed: float, walks: int
) -> None:
    """A walk-through takes 0.75 minutes and is worth 0.3: as much or better will do."""
    ask = replace(
        small_ask(plays=1, minutes=30.0, half_minutes=half_minutes),
        assumptions=Assumptions(half_speed=half_speed),
    )
    model_ = model(ask)
    reps = np.zeros(model_.shape, dtype=np.int64)
    reps[0, 0, WALK, 1] = 4
    found = tidied(model_, reps)
    assert found[0, 0, :, 1].tolist() == [walks, 4 - walks, 0]
    assert reps[0, 0, WALK, 1] == 4, "what was given is not changed"


def test_a_walk_in_an_earlier_practice_is_the_one_that_is_needed() -> None:
    model_ = model(small_ask(plays=1, minutes=30.0))
    reps = np.zeros(model_.shape, dtype=np.int64)
    reps[0, 0, WALK] = 2, 2
    assert tidied(model_, reps)[0, 0, [WALK, HALF]].tolist() == [[1, 0], [1, 2]]


def test_filling_leaves_no_time_for_a_block_that_gains() -> None:
    """Filled once, nothing more fits: filling again changes nothing."""
    model_ = model(small_ask(plays=2, minutes=9.0))
    reps = filled(model_, model_.fixed)
    np.testing.assert_array_equal(filled(model_, reps), reps)
    assert instant(model_.ask).worth > 0
