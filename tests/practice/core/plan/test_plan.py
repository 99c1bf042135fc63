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
    PlannedRun,
    PracticePlan,
    at_moment,
    moved,
    running_clock,
    scaled,
    whole_minutes,
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


def test_a_block_begins_with_its_first_minute_and_is_over_with_its_last() -> None:
    """On the minute that ends one block the next one is the present one."""
    view = at_moment(PLAN, START + timedelta(minutes=15))
    assert view.line is not None
    assert (view.line.block.id, view.line.from_minute, view.line.to_minute) == ("teach", 15, 25)
    assert (view.left_in_block, view.left_in_practice, view.until_start) == (10, 25, 0)
    assert [line.block.id for line in view.following] == ["live", "cool"]
    first = at_moment(PLAN, START)
    assert first.line is not None
    assert (first.line.block.id, first.left_in_block, first.until_start) == ("warm", 15, 0)
    assert [line.block.id for line in first.following] == ["teach", "live", "cool"]
    last = at_moment(PLAN, START + timedelta(minutes=39.5))
    assert last.line is not None
    assert (last.line.block.id, last.left_in_block, last.left_in_practice) == ("cool", 0.5, 0.5)
    over = at_moment(PLAN, START + timedelta(minutes=55))
    assert (over.left_in_block, over.left_in_practice, over.until_start) == (0, 0, 0)


def test_what_is_spare_in_the_hall_is_told_with_its_sign_and_only_of_a_booking() -> None:
    assert replace(PLAN, booking=None).spare is None
    assert replace(PLAN, booking=Booking(START, START + timedelta(minutes=40))).spare == 0
    assert replace(PLAN, booking=Booking(START, START + timedelta(minutes=30))).spare == -10


def test_a_block_of_a_senseless_length_takes_no_time_from_the_clock() -> None:
    plan = PracticePlan(START, (Block("a", BlockKind.FREE, -5), Block("b", BlockKind.SKILL, 10)))
    assert plan.minutes == 10
    assert [(line.from_minute, line.to_minute) for line in running_clock(plan)] == [(0, 0), (0, 10)]


@pytest.mark.parametrize(
    ("to", "order"),
    [
        (-3, ["live", "warm", "teach", "cool"]),
        (1, ["warm", "live", "teach", "cool"]),
        (2, ["warm", "teach", "live", "cool"]),
        (3, ["warm", "teach", "cool", "live"]),
        (4, ["warm", "teach", "cool", "live"]),
    ],
)
def test_a_block_goes_to_its_place_and_beyond_the_ends_to_the_end(
    to: int, order: list[str]
) -> None:
    after = moved(PLAN, "live", to)
    assert [block.id for block in after.blocks] == order
    assert (after.starts, after.booking) == (START, BOOKING)


def test_a_block_that_is_not_there_cannot_go() -> None:
    with pytest.raises(KeyError, match="nothing"):
        without(PLAN, "nothing")
    after = without(PLAN, "warm")
    assert (after.starts, after.booking, after.blocks) == (START, BOOKING, BLOCKS[1:])


def test_more_blocks_than_minutes_are_refused_and_as_many_have_one_each() -> None:
    with pytest.raises(ValueError, match=r"^4 blocks do not fit into 3 minutes$"):
        scaled(BLOCKS, 3)
    assert [block.minutes for block in scaled(BLOCKS, 4)] == [1, 1, 1, 1]
    assert scaled((), 0) == ()


def test_blocks_of_no_length_share_the_minutes_alike() -> None:
    blocks = [Block(n, BlockKind.FREE, 0) for n in range(3)]
    assert [block.minutes for block in scaled(blocks, 10)] == [4, 3, 3]


def test_scaled_blocks_keep_their_order_and_all_else() -> None:
    made = scaled(BLOCKS, 80)
    assert [block.minutes for block in made] == [30, 20, 20, 10]
    assert [replace(block, minutes=0) for block in made] == [
        replace(block, minutes=0) for block in BLOCKS
    ]


@pytest.mark.parametrize(
    ("wanted", "total", "whole"),
    [
        # The largest remainder (Hamilton's method) of six shares of 100; the shares are those of
        # a common textbook example, from memory: only 15.9 is rounded up.
        ([47.0, 16.0, 15.9, 12.0, 6.0, 3.1], 100, [47, 16, 16, 12, 6, 3]),
        # Of equal remainders the first one.
        ([1.5, 1.5], 3, [2, 1]),
        ([2.25, 2.25, 5.5], 10, [2, 2, 6]),
        # What the least minute of some costs is taken where least is lost, never below one.
        ([0.2, 2.1, 2.9], 4, [1, 1, 2]),
        ([0.1, 3.0, 3.0], 6, [1, 2, 3]),
        ([0.5, 0.5, 2.0], 3, [1, 1, 1]),
        ([0.0, 0.0, 0.0, 6.0], 6, [1, 1, 1, 3]),
        ([], 0, []),
    ],
)
def test_whole_minutes_by_hand(wanted: list[float], total: int, whole: list[int]) -> None:
    assert whole_minutes(wanted, total) == whole


@pytest.mark.parametrize(
    ("block", "is_open"),
    [
        (Block("a", BlockKind.INSTALL, 10), True),
        (Block("a", BlockKind.WALK_THROUGH, 10), True),
        (Block("a", BlockKind.SKILL, 10), False),
        (Block("a", BlockKind.INSTALL, 10, play="lantern"), False),
        (Block("a", BlockKind.INSTALL, 10, drill="shell"), False),
        (Block("a", BlockKind.INSTALL, 10, title="New"), False),
    ],
)
def test_a_block_is_open_as_long_as_nothing_says_what_it_is_for(
    block: Block, is_open: bool
) -> None:
    assert block.is_open is is_open


def test_one_live_run_makes_a_block_live() -> None:
    runs = (PlannedRun(Mode.HALF_SPEED, 2), PlannedRun(Mode.LIVE, 1))
    block = Block("a", BlockKind.INSTALL, 10, mode=Mode.HALF_SPEED, runs=runs)
    assert block.is_live
    assert not replace(block, runs=runs[:1]).is_live


def test_the_templates_last_as_long_as_they_always_did() -> None:
    """Our own shapes: a change of one is meant, and shows here."""
    lasting = {name: PracticePlan(START, blocks).minutes for name, blocks in TEMPLATES.items()}
    assert lasting == {"standard": 65, "day_before_game": 45, "young_players": 50}
    for blocks in TEMPLATES.values():
        kinds = [block.kind for block in blocks]
        assert (kinds[0], kinds[-1]) == (BlockKind.WARM_UP, BlockKind.COOL_DOWN)
        assert len({block.id for block in blocks}) == len(blocks)
        assert all(block.contact == (block.kind is BlockKind.LIVE) for block in blocks)
