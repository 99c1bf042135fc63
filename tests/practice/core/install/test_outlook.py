"""What will not be ready on the day, why, and what would be enough."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from plays.core.play import ROLES
from practice.core.install.build import model
from practice.core.install.model import as_reps, only_walked, worth
from practice.core.install.outlook import outlook
from practice.core.install.question import (
    Rules,
    Schedule,
    Unit,
)
from practice.core.install.rework import instant
from shared.core.language import ENGLISH
from tests.practice.core.install.cases import (
    small_ask,
)


def test_the_outlook_says_what_will_not_be_ready_and_why() -> None:
    ask = small_ask(minutes=4.0, setup_minutes=1.5)
    told = outlook(ask, instant(ask), {}, ENGLISH)
    late = [one for one in told if not one.ready]
    assert late
    for one in late:
        assert one.extra_minutes is not None
        assert any("more minute" in reason for reason in one.reasons)


def test_a_play_that_is_not_ready_names_its_weakest_role() -> None:
    ask = small_ask(plays=1, minutes=4.0, setup_minutes=1.5)
    (told,) = outlook(ask, Schedule((), 0.0), {"ada": "Ada"}, ENGLISH)
    weakest = min(told.first, key=lambda one: one.value)
    assert f"in role {weakest.role}, at {int(100 * weakest.value)} %" in told.reasons[0]
    assert "more minute" in told.reasons[1]
    bare = tuple(replace(one, minutes=0.0) for one in ask.slots)
    (told,) = outlook(replace(ask, slots=bare), Schedule((), 0.0), {}, ENGLISH)
    assert told.reasons[1] == "Not in the plan: no practice left has the minutes to run it."


def test_of_four_players_there_is_no_chance_of_all_five() -> None:
    """A product over the four there are would be a number about a play that nobody can run."""
    ask = small_ask(plays=1)
    (told,) = outlook(ask, instant(ask), {}, ENGLISH)
    assert told.all_right == pytest.approx(math.prod(one.value for one in told.first))
    cast = {role: ask.plays[0].cast[role] for role in ROLES[:4]}
    short = replace(ask, plays=(replace(ask.plays[0], cast=cast),))
    (told,) = outlook(short, instant(short), {}, ENGLISH)
    assert len(told.first) == 4
    assert told.all_right is None
    assert not told.ready


def test_a_starter_whom_no_unit_holds_is_named() -> None:
    ask = small_ask(plays=1)
    cast = {role: (*ask.plays[0].cast[role], f"second{role}") for role in ROLES}
    players = (*ask.players, *(f"second{role}" for role in ROLES))
    own = Unit("u0", ("ada", *(f"second{role}" for role in ROLES[1:])))
    split = replace(ask, plays=(replace(ask.plays[0], cast=cast),), players=players, units=(own,))
    (told,) = outlook(split, instant(split), {"bo": "Bo"}, ENGLISH)
    assert any(one.startswith("No unit runs it with Bo in role") for one in told.reasons)
    assert not any(one.startswith("No unit runs it with ada") for one in told.reasons)


@pytest.mark.parametrize("minutes", [0.0, 0.8, 1.0])
def test_the_minutes_named_are_enough(minutes: float) -> None:
    ask = small_ask(plays=1, minutes=minutes, longest_on_play=90.0, setup_minutes=0.0)
    (before,) = outlook(ask, instant(ask), {}, ENGLISH)
    assert not before.ready
    assert before.extra_minutes is not None
    more = tuple(replace(one, minutes=one.minutes + before.extra_minutes) for one in ask.slots)
    (after,) = outlook(replace(ask, slots=more), instant(replace(ask, slots=more)), {}, ENGLISH)
    assert after.ready


def test_an_empty_role_and_an_absent_player_are_named() -> None:
    ask = small_ask(minutes=4.0)
    cast = {role: ask.plays[0].cast[role] if role != "3" else () for role in ROLES}
    holey = replace(ask, plays=(replace(ask.plays[0], cast=cast),))
    (told,) = outlook(holey, instant(holey), {}, ENGLISH)
    assert told.reasons == ("Role 3 has nobody in first place.",)
    players = (*ask.players, "fay")
    few = small_ask(minutes=3.0).slots
    thin = (few[0], replace(few[1], absent=frozenset({"bo"})))
    away = replace(ask, slots=thin, players=players, plays=ask.plays[:1])
    (told,) = outlook(away, instant(away), {"bo": "Bo"}, ENGLISH)
    assert told.first[0].player == "bo"
    assert "Bo misses 1 of the 2 practices left." in told.reasons


def test_a_play_that_may_not_begin_says_so() -> None:
    ask = small_ask(plays=2, minutes=60.0)
    strict = replace(ask, slots=ask.slots[1:], rules=Rules(most_new=1))
    told = {one.play: one.reasons for one in outlook(strict, instant(strict), {}, ENGLISH)}
    assert told["k0"][1] == "Not begun: no practice may begin another play (at most 1)."
    assert worth(model(strict), as_reps(model(strict), instant(strict).entries)) > 0


def test_a_play_without_first_players_is_told_no_average() -> None:
    """There is nobody to take the mean of: 0 % would be a number that nobody has."""
    ask = small_ask(minutes=8.0)
    nobody = replace(ask.plays[0], cast=dict.fromkeys(ROLES, ()))
    empty, cast = outlook(
        replace(ask, plays=(nobody, ask.plays[1])), Schedule((), 0.0), {}, ENGLISH
    )
    assert (empty.mean, empty.without, empty.by_deadline) == (None, None, None)
    assert cast.mean == pytest.approx(sum(one.value for one in cast.first) / 5)


def test_only_walked_are_those_that_neither_the_log_nor_the_plan_takes_faster() -> None:
    made = model(small_ask(plays=1))
    none = as_reps(made, ())
    assert only_walked(made, none).all()
    walked, run = none.copy(), none.copy()
    walked[:, :, 0] = 3
    assert only_walked(made, walked).all()
    run[:, :, 1] = 1
    assert not only_walked(made, run).any()
