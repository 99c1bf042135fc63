"""A team's own pace: measured times before constants, people before the team."""

from __future__ import annotations

import numpy as np
import pytest

from plays.core.check.setting import DEFENCES, DRAWN, Setting, checked, staged, usual_defence
from plays.core.motion.pace import PACES, pace_of
from plays.core.motion.sprint import split_times, time_scalar
from plays.core.motion.team_pace import EDITABLE, TeamPace, Timed, bounds
from plays.core.play import AgeGroup, RuleSet
from tests.plays.core.demo_plays import DEMO

PLAYS = {play.key: play for play in DEMO}


def test_without_anything_of_its_own_it_is_the_tables_row() -> None:
    for age in AgeGroup:
        assert TeamPace().base(age, 0.8) == pace_of(age, 0.8)
    assert TeamPace().paces(AgeGroup.U14) == {}
    assert not TeamPace().is_own


def test_times_come_back_from_the_fitted_pace() -> None:
    """The fit is undone by the law that it is fitted to, the metres before the gate included."""
    timed = Timed(ten=2.0, twenty=3.45, gate=0.5)
    base = TeamPace(timed=timed).base(AgeGroup.U14)
    found = split_times(np.array([10.0, 20.0]), base.top_speed, base.time_constant, 0.5)
    assert base.time_constant == PACES[AgeGroup.U14].time_constant  # two splits do not fix T
    assert found == pytest.approx([2.0, 3.45], abs=0.05)
    one = TeamPace(timed=Timed(twenty=3.45)).base(AgeGroup.U14)
    assert split_times(np.array([20.0]), one.top_speed, one.time_constant, 0.5) == pytest.approx(
        [3.45]
    )


def test_the_gate_changes_the_answer() -> None:
    """The same times from further behind the gate are those of a slower runner."""
    tight = TeamPace(timed=Timed(twenty=3.4, gate=0.0)).base(AgeGroup.U16)
    loose = TeamPace(timed=Timed(twenty=3.4, gate=1.0)).base(AgeGroup.U16)
    assert tight.top_speed > loose.top_speed
    run = time_scalar(20.0, tight.top_speed, tight.time_constant)
    assert run == pytest.approx(3.4, abs=1e-6)


def test_a_slower_person_in_a_role_makes_that_role_later_and_no_other_sooner() -> None:
    play = PLAYS["gangway"]
    base = checked(play, Setting(AgeGroup.U14))
    slow = TeamPace(people={"4": Timed(twenty=4.6), "2": Timed()})
    other = checked(play, Setting(AgeGroup.U14, pace=slow))
    assert set(slow.paces(AgeGroup.U14)) == {"4"}
    for id_, span in base.line.spans.items():
        assert other.line.spans[id_].end >= span.end - 1e-9
    mine = [id_ for id_, span in base.line.spans.items() if span.role == "4"]
    assert any(other.line.spans[i].end > base.line.spans[i].end + 0.05 for i in mine)


def test_constants_are_kept_and_come_back() -> None:
    own = TeamPace({"reaction": 0.4, "top_speed": 7.7}, Timed(2.0, None, 0.3))
    again = TeamPace.from_json(own.to_json(), {})
    assert again == own
    assert again.base(AgeGroup.U12).reaction == 0.4
    assert again.base(AgeGroup.U12).top_speed == 7.7  # written down goes before the times
    assert TeamPace.from_json({"constants": {"gone": 1.0}}, {}) == TeamPace()


@pytest.mark.parametrize("name", EDITABLE)
def test_the_tables_own_rows_lie_within_the_bounds(name: str) -> None:
    low, high = bounds(name)
    for row in PACES.values():
        assert low < getattr(row, name) < high


def test_the_effort_is_no_constant_of_a_team() -> None:
    assert "effort" not in EDITABLE
    with pytest.raises(KeyError):
        bounds("effort")


def test_drawn_defenders_count_only_as_drawn() -> None:
    play = PLAYS["breakwater"]
    assert play.defenders
    assert usual_defence(play) == DRAWN
    assert staged(play, Setting(AgeGroup.U14, defence=DRAWN)).defenders == play.defenders
    assert staged(play, Setting(AgeGroup.U14, defence="switch")).defenders == ()
    assert usual_defence(PLAYS["lamp-row"]) == "chase"


@pytest.mark.parametrize("defence", DEFENCES)
def test_every_defence_can_be_asked_for(defence: str) -> None:
    report = checked(PLAYS["breakwater"], Setting(AgeGroup.U14, defence=defence))
    assert len(report.verdicts) == len(PLAYS["breakwater"].looks)


def test_another_rule_set_puts_the_play_on_its_court() -> None:
    report = checked(PLAYS["gangway"], Setting(AgeGroup.U14, rule_set=RuleSet.NFHS))
    assert report.play.court is RuleSet.NFHS
    assert report.rule_set is RuleSet.NFHS


def test_what_a_team_keeps_is_its_constants_and_times() -> None:
    own = TeamPace({"reaction": 0.4}, Timed(2.0, None, 0.3), {"4": Timed(twenty=3.5)})
    stored = own.to_json()
    assert stored == {
        "constants": {"reaction": 0.4},
        "timed": {"ten": 2.0, "twenty": None, "gate": 0.3},
    }
    assert TeamPace.from_json(stored, own.people) == own
    old = {"constants": {"reaction": 1, "shoe_size": 44}}
    assert TeamPace.from_json(old, {}) == TeamPace({"reaction": 1.0}, Timed())


def test_a_team_has_a_pace_of_its_own_with_one_number() -> None:
    assert TeamPace({"reaction": 0.4}).is_own
    assert TeamPace(timed=Timed(ten=2.0)).is_own
    assert TeamPace(people={"1": Timed(), "2": Timed(twenty=3.6)}).is_own
    assert not TeamPace(people={"1": Timed()}).is_own
