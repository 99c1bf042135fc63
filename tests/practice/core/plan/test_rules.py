"""What a plan's findings say, word by word, and on which side of each bound they begin.

The rules are our own; the 10 minutes on one activity are those of the FIBA/WABC coaches manual.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from plays.core.play import AgeGroup
from practice.core.plan.plan import Block, BlockKind, Booking, PracticePlan
from practice.core.plan.rules import PlanSquad, check_plan
from practice.core.reps.rep import Mode
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH

START = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
SQUAD = PlanSquad(AgeGroup.U16, {"ada": "Ada", "bo": "Bo", "cy": "Cy"})
TEACH = Block("a", BlockKind.INSTALL, 10, play="lantern", mode=Mode.LIVE, unit="red")


def found(block: Block, squad: PlanSquad = SQUAD) -> list[Finding]:
    return list(check_plan(PracticePlan(START, (block,)), squad, ENGLISH))


def in_hall(opens: int, closes: int, minutes: float = 10.0) -> list[Finding]:
    """Findings of one block at 18:00 in a hall that is open over these minutes from then."""
    booking = Booking(START + timedelta(minutes=opens), START + timedelta(minutes=closes))
    plan = PracticePlan(START, (Block("a", BlockKind.FREE, minutes),), booking)
    return list(check_plan(plan, SQUAD, ENGLISH))


@pytest.mark.parametrize(
    ("changes", "code", "field", "sentence"),
    [
        ({"minutes": 0.0}, "no_minutes", "minutes", "A block needs more than 0 minutes."),
        ({"mode": Mode.GAME}, "game_block", "mode", "A practice has no block in game mode."),
        ({"play": None}, "no_play", "play", "An install block says which play it is for."),
        (
            {"mode": None},
            "no_mode",
            "mode",
            "An install block says how the play is run: walk-through, half speed or live.",
        ),
        (
            {"play": "gone"},
            "unknown_play",
            "play",
            "This play is not in the team's package any more.",
        ),
        ({"unit": "gone"}, "unknown_unit", "unit", "This unit does not exist any more."),
    ],
)
def test_each_fault_of_a_block_stops_a_save_at_its_field(
    changes: dict[str, object], code: str, field: str, sentence: str
) -> None:
    squad = replace(SQUAD, plays=frozenset({"lantern"}), units=frozenset({"red"}))
    assert found(TEACH, squad) == []
    odd = replace(TEACH, **changes)  # type: ignore[arg-type]  # each is a field of a block
    assert found(odd, squad) == [Finding(code, Severity.SERIOUS, f"/blocks/0/{field}", sentence)]


def test_without_a_package_and_units_no_play_and_no_unit_is_unknown() -> None:
    assert found(replace(TEACH, play="gone", unit="gone")) == []


def test_ten_minutes_on_one_activity_are_not_yet_long() -> None:
    """FIBA/WABC coaches manual, level 1, 2.1.5: 7 to 10 minutes."""
    (long,) = found(replace(TEACH, minutes=10.5))
    assert (long.code, long.place) == ("long_activity", "/blocks/0/minutes")
    assert long.sentence == (
        "10.5 minutes on one activity: 7 to 10 are suggested before a change or a break."
    )
    assert found(Block("a", BlockKind.WARM_UP, 20)) == []


def test_who_stays_out_of_a_live_block_is_named_with_the_caution() -> None:
    squad = replace(SQUAD, limited=frozenset({"cy", "ada"}), out=frozenset({"bo"}))
    assert found(TEACH, squad) == [
        Finding(
            "left_out",
            Severity.WARNING,
            "/blocks/0/unit",
            "Leave out of this live block: Ada, Bo and Cy. "
            "Local rules and licensed advice come first.",
        )
    ]


def test_a_booking_that_ends_before_it_begins_is_all_that_is_said_of_the_hall() -> None:
    wanted = Finding(
        "booking_backwards",
        Severity.SERIOUS,
        "/booking/closes",
        "The hall booking ends at 18:05, before it begins at 18:30.",
    )
    assert in_hall(30, 5) == [wanted]
    assert [one.code for one in in_hall(30, 30)] == ["booking_backwards"]


def test_a_start_before_the_hall_opens_is_told_with_both_times() -> None:
    assert in_hall(1, 60) == [
        Finding(
            "too_early",
            Severity.SERIOUS,
            "/starts",
            "Practice starts at 18:00, but the hall opens at 18:01.",
        )
    ]
    assert in_hall(0, 60) == []


def test_a_practice_that_ends_with_its_booking_is_not_too_long() -> None:
    assert in_hall(0, 10) == []
    (over,) = in_hall(0, 10, 10.5)
    assert over.sentence == (
        "The blocks take 10.5 minutes, but the hall is booked until 18:10: 0.5 minutes too long."
    )
    assert [one.code for one in in_hall(5, 8)] == ["too_early", "too_long"]


def test_a_plan_without_blocks_is_noted() -> None:
    assert check_plan(PracticePlan(START), SQUAD, ENGLISH) == (
        Finding("no_blocks", Severity.NOTE, "/blocks", "The plan has no blocks yet."),
    )
