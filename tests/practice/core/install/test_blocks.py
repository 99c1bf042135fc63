"""From a schedule to blocks by hand: order, whole minutes, what is new. Our own rules."""

from __future__ import annotations

from dataclasses import replace

import pytest

from practice.core.install.blocks import InstallTime, install_blocks, install_times
from practice.core.install.question import Ask, Schedule, ScheduleEntry
from practice.core.install.rework import instant
from practice.core.plan.plan import Block, BlockKind, PlannedRun
from practice.core.reps.rep import Mode, Touch
from tests.practice.core.install.cases import GAME, small_ask

WALK, HALF, LIVE = Mode.WALK_THROUGH, Mode.HALF_SPEED, Mode.LIVE
ASK = small_ask(plays=3)  # priorities 1, 2 and 3; a set-up takes 1.5 minutes


def entry(play: str, mode: Mode, reps: int, practice: str = "t0") -> ScheduleEntry:
    return ScheduleEntry(practice, play, "firsts", mode, reps)


def times(*entries: ScheduleEntry, ask: Ask = ASK, practice: str = "t0") -> tuple[InstallTime, ...]:
    return install_times(ask, Schedule(entries, 0.0), practice)


def test_the_entries_of_a_play_stand_together_in_the_order_of_the_steps() -> None:
    live, walk, half = entry("k0", LIVE, 2), entry("k0", WALK, 3), entry("k0", HALF, 1)
    (time,) = times(live, walk, half, entry("k0", WALK, 9, "t1"))
    assert time.entries == (walk, half, live)
    assert time.minutes == 1.5 + 3 * 0.75 + 0.75 + 2 * 1.25
    assert time.is_new


def test_what_is_begun_comes_first_and_then_the_greatest_priority() -> None:
    known = tuple(
        Touch("ada", play, "1", "old", GAME, WALK, clean=True) for play in ("k0", "k2", "k9")
    )
    ask = replace(ASK, history=known)
    mixed = entry("k9", WALK, 1), entry("k0", WALK, 1), entry("k1", WALK, 1), entry("k2", WALK, 1)
    found = times(*mixed, ask=ask)
    assert [(time.play, time.is_new) for time in found] == [
        ("k1", True),
        ("k2", False),
        ("k0", False),
        ("k9", False),
    ]
    assert found[-1].minutes == 0.75, "a play that is gone has no set-up of its own any more"


def test_a_play_is_new_until_a_practice_before_this_one_runs_it() -> None:
    both = entry("k0", WALK, 2), entry("k0", WALK, 2, "t1"), entry("k1", WALK, 2, "t1")
    assert [time.is_new for time in times(*both)] == [True]
    later = times(*both, practice="t1")
    assert [(time.play, time.is_new) for time in later] == [("k1", True), ("k0", False)]
    elsewhere = entry("k0", WALK, 2, "gone")
    assert times(entry("k0", WALK, 2), elsewhere)[0].is_new


def test_a_play_may_have_a_set_up_of_its_own() -> None:
    own = tuple(replace(play, setup_minutes=0.0) for play in ASK.plays)
    assert times(entry("k0", WALK, 4), ask=replace(ASK, plays=own))[0].minutes == 3.0


@pytest.mark.parametrize(
    ("reps", "setup", "minutes"),
    [
        (2, 1.5, 3),  # 1.5 + 2 * 0.75 = 3 exactly
        (3, 1.5, 4),  # 3.75
        (1, 0.0, 1),  # 0.75
        (4, 0.1, 4),  # 3.1
    ],
)
def test_a_block_has_whole_minutes_that_are_enough(reps: int, setup: float, minutes: int) -> None:
    own = tuple(replace(play, setup_minutes=setup) for play in ASK.plays)
    (block,) = install_blocks(times(entry("k0", WALK, reps), ask=replace(ASK, plays=own)), ["b"])
    assert (block.minutes, type(block.minutes)) == (minutes, int)


def test_a_block_lasts_a_minute_at_least() -> None:
    (block,) = install_blocks([InstallTime("k0", True, (entry("k0", WALK, 1),), 0.0)], ["b"])
    assert block.minutes == 1


def test_a_block_tells_its_runs_and_begins_with_the_first() -> None:
    found = times(
        entry("k0", LIVE, 2), entry("k0", WALK, 3), entry("k1", HALF, 2), entry("k0", HALF, 1)
    )
    assert install_blocks(found, iter(["x", "y", "z"])) == (
        Block(
            "x",
            BlockKind.INSTALL,
            3,  # 1.5 + 2 * 0.75
            play="k1",
            mode=HALF,
            unit="firsts",
            runs=(PlannedRun(HALF, 2, "firsts"),),
        ),
        Block(
            "y",
            BlockKind.INSTALL,
            7,  # 1.5 + 3 * 0.75 + 0.75 + 2 * 1.25
            play="k0",
            mode=WALK,
            unit="firsts",
            contact=True,
            runs=(
                PlannedRun(WALK, 3, "firsts"),
                PlannedRun(HALF, 1, "firsts"),
                PlannedRun(LIVE, 2, "firsts"),
            ),
        ),
    )


def test_too_few_ids_are_refused_and_more_than_enough_are_not() -> None:
    found = times(entry("k0", WALK, 2), entry("k1", WALK, 2))
    with pytest.raises(ValueError, match=r"^there are more blocks than ids$"):
        install_blocks(found, ["x"])
    assert [block.id for block in install_blocks(found, ["x", "y"])] == ["x", "y"]
    assert install_blocks([], []) == ()


def test_where_there_is_nothing_to_plan_the_locks_stay() -> None:
    lock = entry("k0", WALK, 2)
    assert instant(replace(ASK, slots=(), fixed=(lock,))) == Schedule((lock,), 0.0)
