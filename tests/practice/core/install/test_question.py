"""The instant schedule: its rules, its worth, what it answers to changes."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plays.core.play import ROLES
from practice.core.install.blocks import install_blocks, install_times
from practice.core.install.build import NothingToPlanError, model
from practice.core.install.model import as_reps, as_schedule, bonuses, efforts
from practice.core.install.outlook import outlook
from practice.core.install.question import (
    SECONDS,
    Ask,
    PlayToInstall,
    Schedule,
    ScheduleEntry,
    Unit,
    with_learners,
)
from practice.core.install.rework import instant
from practice.core.install.rules import check_schedule
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.finding import errors
from shared.core.language import ENGLISH
from tests.practice.core.install.cases import (
    GAME,
    SPEED,
    big_ask,
    broken_rules,
    mean_readiness,
    planned_touches,
    slot,
    small_ask,
)

FIVE = {"1": "ada", "2": "bo", "3": "cy", "4": "di", "5": "eva"}


@pytest.mark.parametrize("seed", range(4))
def test_the_instant_plan_keeps_every_rule(seed: int) -> None:
    ask = big_ask(seed)
    plan = instant(ask)
    assert len(plan.entries) > 40
    assert broken_rules(ask, plan) == []
    assert check_schedule(ask, plan, {}, ENGLISH) == ()


def test_the_reading_of_the_rules_does_find_faults() -> None:
    ask = small_ask(minutes=3.0)
    plan = Schedule(
        (
            ScheduleEntry("t0", "k0", "firsts", Mode.LIVE, 1),
            ScheduleEntry("t0", "k1", "firsts", Mode.WALK_THROUGH, 20),
        ),
        0.0,
    )
    said = broken_rules(replace(ask, rules=replace(ask.rules, most_new=1)), plan)
    assert len(said) == 6


def test_the_same_question_has_the_same_answer() -> None:
    assert instant(big_ask()) == instant(big_ask())


def test_the_worth_of_a_plan_is_what_the_readiness_formula_says() -> None:
    ask = small_ask(
        minutes=15.0, touch_bonus=0.0, live_bonus=0.0, second_bonus=0.0, ready_bonus=0.0
    )
    plan = instant(ask)
    history = planned_touches(ask, plan, FIVE)
    wanted = sum(p.priority * mean_readiness(history, p.play, FIVE) for p in ask.plays)
    assert plan.worth == pytest.approx(wanted, abs=1e-12)
    for expected in outlook(ask, plan, {}, ENGLISH):
        wanted = mean_readiness(history, expected.play, FIVE)
        assert expected.mean == pytest.approx(wanted, abs=1e-12)


def test_history_counts_in_worth_and_shortens_the_steps() -> None:
    ask = small_ask(plays=1, minutes=4.0)
    known = tuple(
        Touch(who, "k0", role, "old", GAME - timedelta(days=9), Mode.LIVE, clean=True)
        for role, who in zip(ROLES, FIVE.values(), strict=True)
        for _ in range(2)
    )
    plan = instant(replace(ask, history=known))
    assert all(entry.mode is not Mode.WALK_THROUGH for entry in plan.entries)
    assert any(entry.mode is Mode.WALK_THROUGH for entry in instant(ask).entries)
    assert plan.worth > instant(ask).worth


def test_plans_and_entries_are_inverse() -> None:
    ask = big_ask()
    model_, plan = model(ask), instant(ask)
    assert as_schedule(model_, as_reps(model_, plan.entries)) == plan


@settings(deadline=None, max_examples=20)
@given(st.integers(0, 10_000))
def test_more_minutes_are_never_worth_less(seed: int) -> None:
    chance = np.random.default_rng(seed)
    minutes = float(chance.integers(3, 12))
    one = instant(small_ask(minutes=minutes)).worth
    assert instant(small_ask(minutes=minutes + 10.0)).worth >= one - 1e-9


# --- who takes part -----------------------------------------------------------------------


def test_nobody_absent_is_planned_and_a_second_takes_the_place() -> None:
    players: tuple[Id, ...] = ("ada", "bo", "cy", "di", "eva", "fay")
    cast = {role: (FIVE[role], "fay") if role == "1" else (FIVE[role],) for role in ROLES}
    away = replace(slot("t0", 2.0), absent=frozenset({"ada"}))
    ask = Ask(GAME, (away, slot("t1", 1.0)), (PlayToInstall("k0", cast),), players)
    model_ = model(ask)
    names = [[model_.cells[c][2] for c in model_.fives[0, 0, t, 0]] for t in (0, 1)]
    assert names == [["fay", "bo", "cy", "di", "eva"], ["ada", "bo", "cy", "di", "eva"]]


def test_limited_players_stay_out_of_live_reps_only() -> None:
    players: tuple[Id, ...] = ("ada", "bo", "cy", "di", "eva", "fay")
    cast = {role: (FIVE[role],) for role in ROLES}
    half_fit = replace(slot("t0", 1.0), limited=frozenset({"ada"}))
    model_ = model(Ask(GAME, (half_fit,), (PlayToInstall("k0", cast),), players))
    assert (model_.fives[0, 0, 0, 0] >= 0).all()
    assert model_.fives[0, 0, 0, 1].tolist()[0] == -1  # fay stands in, and is not cast


def test_without_five_players_nothing_is_planned() -> None:
    ask = small_ask()
    thin = tuple(replace(one, absent=frozenset({"ada"})) for one in ask.slots)
    plan = instant(replace(ask, slots=thin))
    assert plan.entries == ()
    (first, _) = outlook(replace(ask, slots=thin), plan, {}, ENGLISH)
    assert first.reasons[1:] == ("There is no practice in which enough of its players are there.",)


def test_a_lock_where_no_five_is_there_counts_for_nobody() -> None:
    asked = small_ask(plays=2)
    few = replace(asked.slots[0], absent=frozenset({"ada"}))
    lock = ScheduleEntry(few.practice, asked.plays[0].play, asked.units[0].id, Mode.LIVE, 5)
    made = model(replace(asked, slots=(few, *asked.slots[1:]), fixed=(lock,)))
    assert (made.fives[0, 0, 0] == -2).all()
    assert efforts(made, made.fixed).sum() == 0


def test_a_unit_of_named_players_runs_the_play_in_their_best_roles() -> None:
    players: tuple[Id, ...] = tuple(f"p{n}" for n in range(10))
    cast = {role: (players[i], players[i + 5]) for i, role in enumerate(ROLES)}
    mixed = Unit("red", (players[0], players[6], players[2], players[8], players[4]))
    model_ = model(Ask(GAME, (slot("t0", 1.0),), (PlayToInstall("k0", cast),), players, (mixed,)))
    five = [model_.cells[c][2] for c in model_.fives[0, 0, 0, 0]]
    assert sorted(map(str, five)) == sorted(map(str, mixed.players))


def test_the_second_depth_gets_its_share() -> None:
    players: tuple[Id, ...] = tuple(f"p{n}" for n in range(10))
    cast = {role: (players[i], players[i + 5]) for i, role in enumerate(ROLES)}
    slots = tuple(slot(f"t{n}", 8.0 - 2 * n) for n in range(4))
    plan = instant(Ask(GAME, slots, (PlayToInstall("a", cast), PlayToInstall("b", cast)), players))
    reps = {
        unit: sum(e.reps for e in plan.entries if e.unit == unit) for unit in ("firsts", "seconds")
    }
    assert reps["firsts"] > reps["seconds"] >= 4


def test_reps_of_the_second_five_are_counted_apart_from_those_of_the_first() -> None:
    players: tuple[Id, ...] = tuple(f"p{n}" for n in range(10))
    cast = {role: (players[i], players[i + 5]) for i, role in enumerate(ROLES)}
    done = tuple(
        Touch(players[i + 5 * depth], "a", role, "old", GAME - timedelta(days=9), Mode.LIVE, True)
        for depth, reps in ((0, 4), (1, 3))
        for i, role in enumerate(ROLES)
        for _ in range(reps)
    )
    ask = Ask(GAME, (slot("t0", 4.0),), (PlayToInstall("a", cast),), players, history=done)
    assert model(ask).seconds.tolist() == [3]
    assert model(ask).lives.tolist() == [7]


def test_two_live_reps_are_enough_and_a_third_adds_no_bonus() -> None:
    """How many are enough is ours: no source says how often a play has to be run live."""
    ask = small_ask(plays=1)

    def worth(reps: int) -> float:
        done = tuple(
            Touch(who, "k0", role, "old", GAME - timedelta(days=9), Mode.LIVE, clean=True)
            for role, who in zip(ROLES, FIVE.values(), strict=True)
            for _ in range(reps)
        )
        made = model(replace(ask, history=done))
        return float(bonuses(made, np.zeros(made.shape, dtype=np.int64)).sum())

    assert [worth(n) for n in range(4)] == pytest.approx([0.0, 0.05, 0.1, 0.1])


# --- time ---------------------------------------------------------------------------------


def test_every_play_is_touched_in_the_last_two_days_where_there_is_room() -> None:
    ask = replace(big_ask(plays=4), slots=tuple(slot(f"t{n}", 9.0 - 2 * n, 40.0) for n in range(5)))
    plan = instant(ask)
    last = {entry.play for entry in plan.entries if entry.practice == "t4"}
    assert last == {carried.play for carried in ask.plays}


def test_every_play_gets_live_reps() -> None:
    plan = instant(replace(big_ask(plays=4)))
    for play in ("k0", "k1", "k2", "k3"):
        assert sum(e.reps for e in plan.entries if (e.play, e.mode) == (play, Mode.LIVE)) >= 2


def test_a_deadline_draws_a_play_forward() -> None:
    ask = small_ask(minutes=10.0)
    early = GAME - timedelta(days=3)
    due = replace(ask, plays=(replace(ask.plays[0], deadline=early), ask.plays[1]))

    def early_reps(plan: Schedule) -> int:
        return sum(e.reps for e in plan.entries if (e.practice, e.play) == ("t0", "k0"))

    plain, drawn = instant(ask), instant(due)
    assert early_reps(drawn) > early_reps(plain)
    expected = outlook(due, drawn, {}, ENGLISH)
    assert expected[0].by_deadline is not None
    assert expected[1].by_deadline is None


def test_practices_after_the_game_are_not_used() -> None:
    ask = small_ask()
    late = replace(ask, slots=(*ask.slots, slot("after", -2.0, 90.0)))
    assert instant(late).entries == instant(ask).entries


# --- locks and replanning -----------------------------------------------------------------


def test_locks_are_kept_and_their_minutes_are_gone() -> None:
    ask = small_ask(minutes=8.0)
    lock = ScheduleEntry("t1", "k0", "firsts", Mode.WALK_THROUGH, 5)
    plan = instant(replace(ask, fixed=(lock,)))
    kept = [e for e in plan.entries if (e.practice, e.play, e.mode) == ("t1", "k0", lock.mode)]
    assert sum(entry.reps for entry in kept) >= 5
    assert not [found for found in broken_rules(ask, plan) if "takes" in found]


def test_a_lock_that_bends_the_rules_is_kept_and_named() -> None:
    ask = small_ask(minutes=2.0)
    locks = (
        ScheduleEntry("t0", "k0", "firsts", Mode.LIVE, 9),
        ScheduleEntry("t1", "k1", "firsts", Mode.HALF_SPEED, 1),
    )
    plan = instant(replace(ask, fixed=locks))
    assert set(locks) <= set(plan.entries)
    found = check_schedule(ask, plan, {"k0": "Lantern", "k1": "Anchor"}, ENGLISH)
    codes = {one.code for one in found}
    assert {"too_long", "play_long", "too_soon"} <= codes
    assert errors(found) == ()
    assert any("Lantern takes 12.8 minutes here" in one.sentence for one in found)


def test_entries_that_cannot_be_are_errors() -> None:
    ask = small_ask()
    thin = replace(ask, slots=(ask.slots[0], replace(ask.slots[1], absent=frozenset({"bo"}))))
    plan = Schedule(
        (
            ScheduleEntry("t0", "gone", "firsts", Mode.LIVE, 1),
            ScheduleEntry("t1", "k0", "firsts", Mode.WALK_THROUGH, 1),
            ScheduleEntry("t0", "k0", "firsts", Mode.WALK_THROUGH, 0),
        ),
        0.0,
    )
    found = check_schedule(thin, plan, {}, ENGLISH)
    assert [(one.place, one.code) for one in errors(found)] == [
        ("/entries/0", "elsewhere"),
        ("/entries/1", "no_five"),
        ("/entries/2", "no_reps"),
    ]


def test_a_practice_that_falls_away_is_planned_around() -> None:
    ask = small_ask(minutes=9.0)
    left = replace(ask, slots=tuple(slot for slot in ask.slots if slot.practice != "t0"))
    plan = instant(left)
    assert broken_rules(left, plan) == []
    assert {entry.practice for entry in plan.entries} == {"t1"}


def test_what_was_done_is_not_planned_again() -> None:
    ask = small_ask(minutes=9.0)
    first = instant(ask)
    done = tuple(touch for touch in planned_touches(ask, first, FIVE) if touch.practice == "t0")
    slots = tuple(slot for slot in ask.slots if slot.practice != "t0")
    left = replace(ask, slots=slots, history=done)
    again = instant(left)
    assert model(left).walked.tolist() != model(replace(left, history=())).walked.tolist()
    # What is still to come is worth as much as it was when the whole was planned.
    assert again.worth >= first.worth - 0.05


def test_no_practices_or_no_plays_is_no_plan_and_no_fault() -> None:
    ask = small_ask()
    assert instant(replace(ask, slots=())).entries == ()
    assert instant(replace(ask, plays=())).entries == ()
    with pytest.raises(NothingToPlanError):
        model(replace(ask, plays=()))


def test_the_usual_units_are_the_first_and_the_second_depth() -> None:
    ask = Ask(GAME, (), (), ())
    assert [unit.depth for unit in ask.units] == [1, 2]
    assert ask.units[1] == SECONDS


# --- into the practice plan ---------------------------------------------------------------


def test_a_practice_of_the_schedule_becomes_blocks_in_the_order_of_the_steps() -> None:
    ask = big_ask()
    plan = instant(ask)
    for one in ask.slots:
        plays = install_times(ask, plan, one.practice)
        assert sum(play.minutes for play in plays) <= one.minutes + 1e-9
        assert [play.is_new for play in plays] == sorted((p.is_new for p in plays), reverse=True)
        assert sum(play.is_new for play in plays) <= ask.rules.most_new
        blocks = install_blocks(plays, range(100))
        assert [block.play for block in blocks] == [play.play for play in plays]
        for block, play in zip(blocks, plays, strict=True):
            modes = [run.mode for run in block.runs]
            assert modes == sorted(modes, key=SPEED.index)
            assert [run.reps for run in block.runs] == [entry.reps for entry in play.entries]
            assert (block.mode, block.unit) == (block.runs[0].mode, block.runs[0].unit)
            assert play.minutes <= block.minutes < play.minutes + 1
            assert block.is_live == (Mode.LIVE in modes)
    assert [play.is_new for play in install_times(ask, plan, "t0")] == [True, True]
    with pytest.raises(ValueError, match="more blocks than ids"):
        install_blocks(install_times(ask, plan, "t0"), [1])


def test_a_play_left_alone_for_long_begins_with_its_steps_again() -> None:
    ask = small_ask(plays=1, minutes=8.0)

    def first_mode(days: float) -> Mode:
        at = GAME - timedelta(days=days)
        known = tuple(
            Touch(who, "k0", role, "old", at, Mode.LIVE, clean=True)
            for role, who in zip(ROLES, FIVE.values(), strict=True)
            for _ in range(2)
        )
        plan = instant(replace(ask, history=known))
        return min((e.mode for e in plan.entries), key=SPEED.index)

    # The first practice is four days before the game; reps count for 14 days.
    assert first_mode(4.0 + 13.9) is not Mode.WALK_THROUGH
    assert first_mode(4.0 + 14.1) is Mode.WALK_THROUGH


def test_a_last_touch_is_one_of_the_first_five() -> None:
    players: tuple[Id, ...] = tuple(f"p{n}" for n in range(10))
    cast = {role: (players[i], players[i + 5]) for i, role in enumerate(ROLES)}
    model_ = model(Ask(GAME, (slot("t0", 1.0),), (PlayToInstall("k0", cast),), players))
    by_seconds = as_reps(model_, [ScheduleEntry("t0", "k0", "seconds", Mode.WALK_THROUGH, 1)])
    by_firsts = as_reps(model_, [ScheduleEntry("t0", "k0", "firsts", Mode.WALK_THROUGH, 1)])
    rules = model_.ask.rules
    # One rep of the second depth fills half of its quota of two.
    assert bonuses(model_, by_seconds).tolist() == [rules.second_bonus / 2]
    assert bonuses(model_, by_firsts).tolist() == [rules.touch_bonus]


@pytest.mark.parametrize(
    ("cast", "learners", "made"),
    [
        (("ada", "bo"), ["cy"], ("ada", "cy", "bo")),
        (("ada", "bo", "cy"), ["cy", "di"], ("ada", "cy", "di", "bo")),
        (("ada", "bo"), ["ada"], ("ada", "bo")),
        ((), ["cy"], ("cy",)),
        (("ada", "bo"), [], ("ada", "bo")),
    ],
)
def test_who_is_to_learn_comes_behind_the_first(
    cast: tuple[str, ...], learners: list[str], made: tuple[str, ...]
) -> None:
    found = with_learners({"2": cast, "3": ("eva",)}, [("2", who) for who in learners])
    assert found == {"2": made, "3": ("eva",)}


def test_too_much_that_is_new_and_too_few_reps_are_told() -> None:
    ask = small_ask(plays=3, minutes=30.0, most_new=2, least_reps=2)
    one_each = tuple(
        ScheduleEntry("t0", carried.play, "firsts", Mode.WALK_THROUGH, 1) for carried in ask.plays
    )

    def codes(count: int) -> list[str]:
        found = check_schedule(ask, Schedule(one_each[:count], 0.0), {}, ENGLISH)
        return sorted(each.code for each in found if each.code in ("many_new", "few_reps"))

    assert codes(3) == ["few_reps", "few_reps", "few_reps", "many_new"]
    assert codes(2) == ["few_reps", "few_reps"]
