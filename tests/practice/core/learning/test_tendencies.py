"""What an opponent does: sums by hand, ranges by scipy and statsmodels."""

from __future__ import annotations

from datetime import date

import pytest
from statsmodels.stats.proportion import proportion_confint

from plays.core.defence.stance import Tactic
from plays.core.play import Situation
from practice.core.learning.tendencies import (
    DefenceShare,
    DefenceSighting,
    Tendency,
    share_text,
    tendencies,
    usual_text,
)
from shared.core.language import ENGLISH

SIDELINE, BASELINE = Situation.SIDELINE, Situation.BASELINE
SEPTEMBER, OCTOBER = date(2026, 9, 12), date(2026, 10, 3)
SEEN = [
    DefenceSighting(SIDELINE, Tactic.SWITCH, 3, SEPTEMBER),
    DefenceSighting(SIDELINE, Tactic.SWITCH, 4, OCTOBER),
    DefenceSighting(SIDELINE, Tactic.CHASE, 3, OCTOBER),
    DefenceSighting(BASELINE, Tactic.ZONE, 4, SEPTEMBER),
    DefenceSighting(BASELINE, Tactic.TRAP, 0, OCTOBER),
]


def test_sums_by_situation_the_most_frequent_first() -> None:
    found = tendencies(SEEN)
    assert [each.situation for each in found.by_situation] == [SIDELINE, BASELINE]
    sideline, baseline = found.by_situation
    assert [(s.defence, s.count, s.total) for s in sideline.shares] == [
        (Tactic.SWITCH, 7, 10),
        (Tactic.CHASE, 3, 10),
    ]
    assert (sideline.last, baseline.last) == (OCTOBER, SEPTEMBER)
    assert (found.overall.situation, found.overall.total) == (None, 14)
    assert sum(found.overall.weights.values()) == pytest.approx(1.0)
    assert found.overall.weights[Tactic.ZONE] == pytest.approx(4 / 14)


def test_a_situation_seen_less_than_five_times_gives_way_to_all_of_them() -> None:
    found = tendencies(SEEN)
    assert found.against(SIDELINE).total == 10
    assert found.against(BASELINE) is found.overall  # four zones
    assert found.against(Situation.LAST_SHOT) is found.overall


def test_the_range_is_wilsons() -> None:
    share = tendencies(SEEN).by_situation[0].shares[0]
    reference = proportion_confint(7, 10, alpha=0.1, method="wilson")
    assert (share.inside.low, share.inside.high) == pytest.approx(reference, abs=1e-9)
    assert share_text(share, ENGLISH) == "7 of 10 times: 44 to 87 %"


def test_below_five_only_counts_are_told() -> None:
    [baseline] = tendencies(SEEN[3:]).by_situation
    assert share_text(baseline.shares[0], ENGLISH) == "4 of 4 times"
    assert usual_text(baseline, ENGLISH) == ""
    assert share_text(DefenceShare(Tactic.TRAP, 1, 1), ENGLISH) == "1 of 1 time"


def test_what_they_do_most_is_named_where_something_leads() -> None:
    assert usual_text(tendencies(SEEN).overall, ENGLISH) == "mostly switch"
    even = [
        DefenceSighting(SIDELINE, tactic, 5, OCTOBER) for tactic in (Tactic.SWITCH, Tactic.ZONE)
    ]
    assert tendencies(even).overall.usual is None
    assert tendencies(even[:1]).overall.usual is Tactic.SWITCH


def test_nothing_seen_is_nothing_said() -> None:
    found = tendencies([])
    assert found.overall == Tendency(None)
    assert (found.by_situation, found.overall.usual, found.overall.weights) == ((), None, {})
    with pytest.raises(ValueError, match="-1 times"):
        tendencies([DefenceSighting(SIDELINE, Tactic.SAG, -1, OCTOBER)])
