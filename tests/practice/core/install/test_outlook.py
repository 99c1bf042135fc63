"""What will not be ready on the day, why, and what would be enough."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import pytest

from plays.core.play import ROLES
from practice.core.install.build import model
from practice.core.install.model import as_reps, only_walked, worth
from practice.core.install.outlook import outlook
from practice.core.install.question import (
    Ask,
    Rules,
    Schedule,
    ScheduleEntry,
    Unit,
)
from practice.core.install.rework import instant
from practice.core.readiness.assumptions import Assumptions
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import ENGLISH
from tests.practice.core.install.cases import GAME, small_ask


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


# --- each reason in words -----------------------------------------------------------------

NAMES: dict[Id, str] = {"ada": "Ada", "bo": "Bo", "cy": "Cy", "di": "Di", "eva": "Eva"}


def reasons(ask: Ask, schedule: Schedule | None = None) -> tuple[str, ...]:
    (told,) = outlook(ask, instant(ask) if schedule is None else schedule, NAMES, ENGLISH)
    assert not told.ready
    return told.reasons


def test_what_two_hours_more_do_not_reach_is_told_without_a_number_of_ours() -> None:
    """Beyond 120 minutes no number is named: two practices hold only so much."""
    bare = replace(
        small_ask(plays=1, minutes=4.0), assumptions=Assumptions(ready=0.99, massing=0.1)
    )
    (told,) = outlook(bare, instant(bare), NAMES, ENGLISH)
    assert told.extra_minutes is None
    assert told.reasons[-1] == "Needs more than 120 more minutes."


def test_the_minutes_are_told_rounded_up_in_the_right_number() -> None:
    """A walk-through takes 0.75 minutes, and units run one rep at least: 0.75 is told as 1."""
    ask = small_ask(plays=1, minutes=0.8, longest_on_play=90.0, setup_minutes=0.0, least_reps=1)
    (told,) = outlook(ask, instant(ask), NAMES, ENGLISH)
    assert told.extra_minutes is not None
    assert float(told.reasons[-1].split()[1]) - 1 < told.extra_minutes
    assert told.extra_minutes <= float(told.reasons[-1].split()[1])
    near = replace(ask, assumptions=Assumptions(ready=told.first[0].value + 0.001))
    (told,) = outlook(near, instant(near), NAMES, ENGLISH)
    assert told.extra_minutes == 0.75
    assert told.reasons[-1] == "Needs 1 more minute."


def test_who_is_limited_all_along_is_told_to_stay_out_of_live_reps() -> None:
    ask = small_ask(plays=1, minutes=2.0)
    always = tuple(replace(one, limited=frozenset({"bo"})) for one in ask.slots)
    assert reasons(replace(ask, slots=always))[-1] == "Bo is left out of live reps."
    once = (always[0], ask.slots[1])
    assert not any("live reps" in one for one in reasons(replace(ask, slots=once)))


def test_who_misses_a_practice_is_told_with_the_count_and_not_as_limited() -> None:
    ask = small_ask(plays=1, minutes=2.0)
    first = replace(ask.slots[0], absent=frozenset({"bo"}), limited=frozenset({"bo"}))
    second = replace(ask.slots[1], limited=frozenset({"bo"}))
    told = reasons(replace(ask, slots=(first, second), players=(*ask.players, "fay")))
    assert told[-1] == "Bo misses 1 of the 2 practices left."
    assert not any("left out" in one for one in told)
    only = replace(ask, slots=(first,), players=(*ask.players, "fay"))
    assert reasons(only)[-1] == "Bo misses the only practice left."


def test_too_few_players_in_every_practice_is_the_one_reason() -> None:
    ask = small_ask(plays=1, minutes=9.0)
    thin = tuple(replace(one, absent=frozenset({"ada", "bo"})) for one in ask.slots)
    told = reasons(replace(ask, slots=thin))
    assert told == (
        "The weakest is Ada in role 1, at 0 %.",
        "There is no practice in which enough of its players are there.",
    )


def test_every_role_without_a_first_is_named_in_order_and_nothing_else() -> None:
    ask = small_ask(plays=1)
    cast = {role: ask.plays[0].cast[role] for role in (ROLES[0], ROLES[3])}
    assert reasons(replace(ask, plays=(replace(ask.plays[0], cast=cast),))) == (
        "Role 2 has nobody in first place.",
        "Role 3 has nobody in first place.",
        "Role 5 has nobody in first place.",
    )


def test_a_play_that_others_leave_no_minutes_for_is_told_so() -> None:
    """Begun already, so that no rule stands against it: only the minutes do."""
    ask = small_ask(plays=2, minutes=9.0)
    at = GAME - timedelta(days=20)
    known = tuple(
        Touch(who, play.play, role, "old", at, Mode.WALK_THROUGH, clean=True)
        for play in ask.plays
        for role, who in zip(ROLES, ask.players, strict=True)
    )
    other = Schedule((ScheduleEntry("t0", "k1", "firsts", Mode.WALK_THROUGH, 3),), 0.0)
    told = outlook(replace(ask, history=known), other, NAMES, ENGLISH)[0].reasons
    assert told[1] == "Not in the plan: the minutes go further on other plays."


def test_whom_no_unit_runs_it_with_is_told_with_what_to_do() -> None:
    ask = small_ask(plays=1, minutes=9.0)
    cast = {role: (*ask.plays[0].cast[role], f"second{role}") for role in ROLES}
    players = (*ask.players, *(f"second{role}" for role in ROLES))
    own = Unit("u0", ("ada", *(f"second{role}" for role in ROLES[1:])))
    split = replace(ask, plays=(replace(ask.plays[0], cast=cast),), players=players, units=(own,))
    told = reasons(split)
    wanted = "No unit runs it with {} in role {}: make a unit that does, or practise it apart."
    said = [
        wanted.format(NAMES[who], role) for role, who in zip("2345", ask.players[1:], strict=True)
    ]
    assert [one for one in told if one.startswith("No unit")] == said
    assert not any("more minute" in one for one in told), "no minutes of this unit would do"


def test_counts_and_means_of_a_plan_by_hand() -> None:
    """One walk-through of 0.75 minutes and two live reps of 1.25 with a set-up of 1.5."""
    ask = small_ask(plays=1, minutes=9.0)
    plan = Schedule(
        (
            ScheduleEntry("t0", "k0", "firsts", Mode.WALK_THROUGH, 1),
            ScheduleEntry("t1", "k0", "firsts", Mode.LIVE, 2),
        ),
        0.0,
    )
    (told,) = outlook(ask, plan, NAMES, ENGLISH)
    assert told.minutes == 1.5 + 0.75 + 1.5 + 2.5
    assert told.reps == {Mode.WALK_THROUGH: 1, Mode.HALF_SPEED: 0, Mode.LIVE: 2}
    # sqrt(0.3) * 4 ** -0.5 + sqrt(2): 1.688 ** (1 / 0.45) = 3.2 of 4.2.
    strength = 0.3**0.5 / 2 + 2**0.5
    odds = strength ** (1 / 0.45)
    assert told.mean == pytest.approx(odds / (1 + odds))
    assert told.without == 0.0
    assert told.ready
    assert (told.reasons, told.extra_minutes) == ((), None)
