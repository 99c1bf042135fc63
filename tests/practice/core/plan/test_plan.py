"""The practice plan: running clock, totals, order, templates, and its rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import AgeGroup
from practice.core.plan.cautions import FOR_LIVE, FOR_PLAN
from practice.core.plan.plan import (
    TEMPLATES,
    Block,
    BlockKind,
    Booking,
    PracticePlan,
    at_moment,
    moved,
    running_clock,
    scaled,
    without,
)
from practice.core.plan.rules import PlanSquad, check_plan, left_out
from practice.core.reps.rep import Mode
from shared.core.finding import Severity, errors
from shared.core.language import ENGLISH

OSLO = ZoneInfo("Europe/Oslo")
START = datetime(2026, 3, 3, 18, 0, tzinfo=OSLO)
BOOKING = Booking(START, START + timedelta(minutes=90))
BLOCKS = (
    Block("warm", BlockKind.WARM_UP, 15),
    Block("teach", BlockKind.INSTALL, 10, play="lantern", mode=Mode.HALF_SPEED, unit="red"),
    Block("live", BlockKind.LIVE, 10),
    Block("cool", BlockKind.COOL_DOWN, 5),
)
PLAN = PracticePlan(START, BLOCKS, BOOKING)
SQUAD = PlanSquad(AgeGroup.U16, {"ada": "Ada", "bo": "Bo", "cy": "Cy"})


def test_the_running_clock_adds_up() -> None:
    lines = running_clock(PLAN)
    assert [(f"{line.starts:%H:%M}", f"{line.ends:%H:%M}") for line in lines] == [
        ("18:00", "18:15"),
        ("18:15", "18:25"),
        ("18:25", "18:35"),
        ("18:35", "18:40"),
    ]
    assert PLAN.minutes == 40
    assert PLAN.spare == 50


def test_the_clock_counts_real_minutes_over_a_change_of_the_clocks() -> None:
    # 2026-03-29 at 02:00 the clocks go to 03:00 in Oslo (IANA time zone database).
    plan = PracticePlan(datetime(2026, 3, 29, 1, 50, tzinfo=OSLO), BLOCKS)
    assert f"{running_clock(plan)[0].ends:%H:%M}" == "03:05"


def test_the_court_page_knows_the_present_block_and_what_is_left() -> None:
    view = at_moment(PLAN, START + timedelta(minutes=20))
    assert view.line is not None
    assert view.line.block.id == "teach"
    assert (view.left_in_block, view.left_in_practice) == (5, 20)
    assert [line.block.id for line in view.following] == ["live", "cool"]


def test_before_and_after_the_practice_there_is_no_present_block() -> None:
    before = at_moment(PLAN, START - timedelta(minutes=3))
    assert (before.line, before.until_start, before.left_in_practice) == (None, 3, 40)
    assert len(before.following) == 4
    after = at_moment(PLAN, START + timedelta(minutes=40))
    assert (after.line, after.left_in_practice, after.following) == (None, 0, ())


def test_blocks_move_go_and_come() -> None:
    assert [block.id for block in moved(PLAN, "live", 0).blocks] == [
        "live",
        "warm",
        "teach",
        "cool",
    ]
    assert [block.id for block in moved(PLAN, "warm", 99).blocks][-1] == "warm"
    assert [block.id for block in without(PLAN, "teach").blocks] == ["warm", "live", "cool"]
    with pytest.raises(KeyError):
        moved(PLAN, "nothing", 0)


@given(
    st.lists(st.integers(1, 30), min_size=1, max_size=8),
    st.integers(8, 150),
)
def test_scaled_blocks_fill_the_minutes_exactly(lengths: list[int], minutes: int) -> None:
    blocks = [Block(n, BlockKind.SKILL, size) for n, size in enumerate(lengths)]
    made = scaled(blocks, minutes)
    assert sum(block.minutes for block in made) == minutes
    assert all(block.minutes >= 1 for block in made)
    for block, size in zip(made, lengths, strict=True):
        assert block.minutes <= size * minutes / sum(lengths) + 1


@pytest.mark.parametrize("name", TEMPLATES)
def test_the_templates_keep_their_own_rules(name: str) -> None:
    plan = PracticePlan(START, TEMPLATES[name])
    found = check_plan(plan, SQUAD, ENGLISH)
    # Play and mode are for the coach to fill in; nothing else may be wrong.
    assert {one.code for one in found} <= {"no_play", "no_mode"}


def test_a_plan_inside_its_booking_has_no_findings() -> None:
    assert check_plan(PLAN, SQUAD, ENGLISH) == ()


def test_a_practice_longer_than_the_hall_booking_says_by_how_much() -> None:
    plan = replace(PLAN, blocks=(*PLAN.blocks, Block("extra", BlockKind.FREE, 70)))
    (found,) = errors(check_plan(plan, SQUAD, ENGLISH))
    assert (found.code, found.place) == ("too_long", "/blocks")
    assert found.sentence == (
        "The blocks take 110 minutes, but the hall is booked until 19:30: 20 minutes too long."
    )


def test_a_start_before_the_hall_opens_and_a_backward_booking_are_errors() -> None:
    early = PracticePlan(START - timedelta(minutes=5), BLOCKS, BOOKING)
    assert [found.code for found in check_plan(early, SQUAD, ENGLISH)] == ["too_early"]
    backward = PracticePlan(START, BLOCKS, Booking(BOOKING.closes, START))
    assert [found.code for found in check_plan(backward, SQUAD, ENGLISH)] == ["booking_backwards"]


def test_all_faults_of_the_blocks_are_listed_at_their_places() -> None:
    squad = PlanSquad(AgeGroup.U16, SQUAD.names, plays=frozenset({"anchor"}), units=frozenset())
    plan = PracticePlan(
        START,
        (
            Block("a", BlockKind.INSTALL, 0),
            Block("b", BlockKind.INSTALL, 9, play="lantern", mode=Mode.GAME, unit="red"),
            Block("c", BlockKind.SHOOTING, 25),
        ),
    )
    assert [(one.place, one.code) for one in check_plan(plan, squad, ENGLISH)] == [
        ("/blocks/0/minutes", "no_minutes"),
        ("/blocks/0/play", "no_play"),
        ("/blocks/0/mode", "no_mode"),
        ("/blocks/1/mode", "game_block"),
        ("/blocks/1/play", "unknown_play"),
        ("/blocks/1/unit", "unknown_unit"),
        ("/blocks/2/minutes", "long_activity"),
    ]


def test_one_activity_over_ten_minutes_is_a_warning_with_its_source() -> None:
    plan = PracticePlan(START, (Block("a", BlockKind.SKILL, 11),))
    (found,) = check_plan(plan, SQUAD, ENGLISH)
    assert found.severity is Severity.WARNING
    assert "WABC" in found.source


def test_live_and_contact_blocks_leave_out_limited_players_and_those_who_are_out() -> None:
    squad = PlanSquad(AgeGroup.U16, SQUAD.names, limited=frozenset({"bo"}), out=frozenset({"cy"}))
    assert left_out(Block("a", BlockKind.LIVE, 8), squad) == ("bo", "cy")
    assert left_out(Block("a", BlockKind.FREE, 8, contact=True), squad) == ("bo", "cy")
    assert left_out(Block("a", BlockKind.INSTALL, 8, mode=Mode.LIVE), squad) == ("bo", "cy")
    assert left_out(Block("a", BlockKind.INSTALL, 8, mode=Mode.HALF_SPEED), squad) == ()
    found = check_plan(PLAN, squad, ENGLISH)
    assert [(one.place, one.code) for one in found] == [("/blocks/2/unit", "left_out")]
    assert [one.severity for one in found] == [Severity.WARNING]
    assert "Bo and Cy" in found[0].sentence


def test_an_empty_plan_is_a_note_and_a_nan_is_no_minute() -> None:
    assert [one.code for one in check_plan(PracticePlan(START), SQUAD, ENGLISH)] == ["no_blocks"]
    odd = PracticePlan(START, (Block("a", BlockKind.FREE, float("nan")),))
    assert [one.code for one in check_plan(odd, SQUAD, ENGLISH)] == ["no_minutes"]
    assert odd.minutes == 0


def test_the_cautions_defer_to_local_rules_and_name_no_diagnosis() -> None:
    for cautions in (FOR_PLAN, FOR_LIVE):
        assert any("Local rules and licensed advice" in one.sentence for one in cautions)
        assert all(one.source for one in cautions)
