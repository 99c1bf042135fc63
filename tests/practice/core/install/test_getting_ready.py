"""What a play that becomes ready is worth, and what is not spent on one that cannot.

Held to every plan there is, judged by the readiness formula rep by rep; no source outside says how
minutes are best shared out.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from plays.core.play import ROLES
from practice.core.install.build import model
from practice.core.install.getting_ready import aimed, can_be_ready, lifted, minutes_to_ready
from practice.core.install.greedy import is_sound
from practice.core.install.model import (
    Indices,
    as_reps,
    as_schedule,
    chances,
    minutes_used,
    ready_plays,
    strengths,
    worth,
)
from practice.core.install.outlook import outlook
from practice.core.install.programme import Programme
from practice.core.install.question import Ask, ScheduleEntry
from practice.core.install.rework import drawn_part, instant, refilled
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import readiness
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import ENGLISH
from tests.practice.core.install.cases import GAME, big_ask, planned_touches, small_ask

FIVE: dict[str, Id] = {"1": "ada", "2": "bo", "3": "cy", "4": "di", "5": "eva"}
BAR = Assumptions().ready


def is_ready(history: list[Touch], play: Id) -> bool:
    """By the formula, player by player."""
    return all(
        readiness(history, (FIVE[role], play, role), GAME, Assumptions()).value >= BAR
        for role in ROLES
    )


def every_plan(ask: Ask) -> Iterator[Indices]:
    """Every plan of up to four reps each that keeps the rules and fits."""
    model_ = model(ask)
    for counts in itertools.product(range(5), repeat=6):
        reps = np.array(counts, dtype=np.int64).reshape(1, 1, 3, 2)
        used = minutes_used(model_, reps)
        if (used <= np.minimum(model_.play_room, model_.room) + 1e-9).all() and is_sound(
            model_, reps
        ):
            yield reps


@pytest.mark.parametrize(
    "rules",
    [{}, {"walk_first": 2, "half_first": 2}, {"least_reps": 1}, {"longest_on_play": 3.5}],
    ids=["plain", "more steps", "single reps", "short on a play"],
)
@pytest.mark.parametrize("minutes", [1.5, 2.5, 2.9, 3.1, 3.5, 4.0, 5.0])
def test_a_play_can_be_ready_where_some_plan_of_all_makes_it_so(
    minutes: float, rules: dict[str, float]
) -> None:
    ask = small_ask(plays=1, minutes=minutes, **rules)
    model_ = model(ask)
    found = any(
        is_ready(planned_touches(ask, as_schedule(model_, reps), FIVE), "k0")
        for reps in every_plan(ask)
    )
    assert can_be_ready(model_, 0) == found
    made = lifted(model_, model_.fixed, 0)
    assert (made is not None) == found
    if made is not None:
        history = planned_touches(ask, as_schedule(model_, made), FIVE)
        assert is_ready(history, "k0")
        assert is_sound(model_, made)


def test_both_answers_are_among_those_tried() -> None:
    can = [can_be_ready(model(small_ask(plays=1, minutes=m)), 0) for m in (1.5, 5.0)]
    assert can == [False, True]


@pytest.mark.parametrize("seed", range(20))
def test_a_plan_has_the_bonus_of_the_plays_that_the_formula_calls_ready(seed: int) -> None:
    ask = small_ask(plays=2, minutes=30.0)
    bare = replace(ask, rules=replace(ask.rules, ready_bonus=0.0))
    model_, without = model(ask), model(bare)
    reps = np.random.default_rng(seed).integers(0, 2, size=model_.shape)
    history = planned_touches(ask, as_schedule(model_, reps), FIVE)
    wanted = sum(0.5 * p.priority for p in ask.plays if is_ready(history, p.play))
    assert worth(model_, reps) - worth(without, reps) == pytest.approx(wanted, abs=1e-12)


def test_walking_through_alone_has_no_bonus_and_is_lifted_beyond() -> None:
    at = GAME - timedelta(days=1)
    walked = tuple(
        Touch(FIVE[role], "k0", role, "old", at, Mode.WALK_THROUGH, clean=True, count=20)
        for role in ROLES
    )
    ask = replace(small_ask(plays=1, minutes=6.0), history=walked)
    model_ = model(ask)
    values = chances(model_, strengths(model_, model_.fixed))
    assert (values[:, 0] > BAR).all()
    assert not ready_plays(model_, model_.fixed, values).any()
    made = lifted(model_, model_.fixed, 0)
    assert made is not None
    assert made[:, :, 1:].sum() > 0
    assert minutes_to_ready(model_, model_.fixed, 0, 120.0) == 1.5 + 2 * 0.75


def test_minutes_make_one_play_ready_before_they_half_teach_two() -> None:
    """The same question without the bonus: the minutes go round, and less is ready."""
    asks = [
        replace(ask, slots=tuple(replace(one, minutes=14.0) for one in ask.slots))
        for ask in (big_ask(seed) for seed in (1, 2, 3))
    ]

    def ready(ask: Ask) -> int:
        return sum(one.ready for one in outlook(ask, instant(ask), {}, ENGLISH))

    plain = [replace(ask, rules=replace(ask.rules, ready_bonus=0.0)) for ask in asks]
    assert sum(map(ready, asks)) >= sum(map(ready, plain)) + 3


# --- nothing for what cannot be ready -----------------------------------------------------


def two_plays_of_which_one_cannot() -> Ask:
    """``k1``, the dearer one, has a first who is away until the game; ``k0`` has five others."""
    ask = small_ask(plays=2, minutes=9.0)
    cast = {role: ask.plays[1].cast[role] for role in ROLES} | {"1": ("gus", "ada")}
    slots = tuple(replace(one, absent=frozenset({"gus"})) for one in ask.slots)
    plays = (ask.plays[0], replace(ask.plays[1], cast=cast))
    return replace(ask, players=(*ask.players, "gus"), slots=slots, plays=plays)


def test_a_play_that_cannot_be_ready_has_no_minute_and_is_told_why() -> None:
    ask = two_plays_of_which_one_cannot()
    plan = instant(ask)
    assert {entry.play for entry in plan.entries} == {"k0"}
    told = outlook(ask, plan, {"gus": "Gus"}, ENGLISH)[1].reasons
    said = "Not in the plan: even with all the minutes to itself it would not be ready by then."
    assert told[1] == said
    assert "Gus misses 2 of the 2 practices left." in told


def test_the_programme_spends_nothing_on_it_either() -> None:
    model_ = aimed(model(two_plays_of_which_one_cannot()))
    assert model_.counts.tolist() == [True, False]
    programme = Programme(model_)
    most = [programme.rows.highest(int(column)) for column in programme.reps[1].ravel()]
    assert set(most) == {0}, "reps that count nothing may stand anywhere in an optimum"
    found = programme.solve(5.0, 0.0)
    assert found.reps is not None
    assert found.reps[1].sum() == 0
    assert found.reps[0].sum() > 0


def test_what_the_coach_locks_of_it_stays() -> None:
    lock = ScheduleEntry("t0", "k1", "firsts", Mode.WALK_THROUGH, 2)
    plan = instant(replace(two_plays_of_which_one_cannot(), fixed=(lock,)))
    assert [entry for entry in plan.entries if entry.play == "k1"] == [lock]


def test_a_play_whose_date_is_after_the_game_is_learnt_for_that_date() -> None:
    ask = two_plays_of_which_one_cannot()
    later = replace(ask.plays[1], deadline=GAME + timedelta(days=7))
    plan = instant(replace(ask, plays=(ask.plays[0], later)))
    assert {entry.play for entry in plan.entries} == {"k0", "k1"}
    at_game = replace(ask.plays[1], deadline=GAME)
    plan = instant(replace(ask, plays=(ask.plays[0], at_game)))
    assert {entry.play for entry in plan.entries} == {"k0"}


def test_where_no_play_can_be_ready_all_are_begun() -> None:
    ask = small_ask(plays=2, minutes=3.0, setup_minutes=1.0)
    asked = replace(ask, assumptions=Assumptions(ready=0.95))
    assert not any(can_be_ready(model(asked), k) for k in range(2))
    assert instant(asked).entries != ()
    assert aimed(model(asked)).counts.tolist() == [True, True]


# --- parts drawn by chance ----------------------------------------------------------------


def test_drawn_parts_never_make_a_plan_worse_nor_break_a_rule() -> None:
    model_ = aimed(model(big_ask(seed=3, plays=6, practices=5)))
    reps = as_reps(model_, instant(model_.ask).entries)
    chance = np.random.default_rng(5)
    began = worth(model_, reps)
    for _ in range(40):
        part, first = drawn_part(model_, chance)
        assert part.any()
        assert set(first) <= set(np.flatnonzero(part.any(axis=(1, 2, 3))).tolist())
        again = refilled(model_, reps, part, first)
        assert worth(model_, again) >= worth(model_, reps)
        assert is_sound(model_, again)
        reps = again
    assert worth(model_, reps) > began


def test_the_same_seed_draws_the_same_parts() -> None:
    model_ = model(big_ask(plays=5, practices=4))
    drawn = [[drawn_part(model_, np.random.default_rng(seed)) for _ in range(3)] for seed in (7, 7)]
    for (one, first), (other, second) in zip(*drawn, strict=True):
        np.testing.assert_array_equal(one, other)
        assert first == second
