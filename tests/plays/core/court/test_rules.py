"""Throw-in and screen rules against the books, by article. V read, M from memory."""

from __future__ import annotations

from dataclasses import fields

import pytest

from plays.core.court.rules import (
    SCREENS,
    THROW_INS,
    Backcourt,
    ClosedLines,
    Ruled,
    Sideways,
    live_rules,
    screen_rules,
    throw_in_rules,
)
from plays.core.play import RuleSet
from shared.core.language import ENGLISH

FOOT = 0.3048


@pytest.mark.parametrize(
    ("rule_set", "article"),
    [
        (RuleSet.FIBA, "17.3.1"),  # V
        (RuleSet.NFHS, "7-6-2, 9-2-4"),  # V
        (RuleSet.NFHS_94, "7-6-2, 9-2-4"),  # V
        (RuleSet.NCAA, "7-6.5"),  # V, 2013-15
        (RuleSet.NBA, "Rule 8-III, 10-III"),  # V
        (RuleSet.WNBA, ""),  # M
    ],
)
def test_five_seconds_to_the_release(rule_set: RuleSet, article: str) -> None:
    count = throw_in_rules(rule_set).count
    assert (count.value, count.article.article) == (5.0, article)


def test_how_far_the_thrower_may_go_along_the_line() -> None:
    fiba, nfhs, nba = map(throw_in_rules, (RuleSet.FIBA, RuleSet.NFHS, RuleSet.NBA))
    assert (fiba.sideways.value, fiba.sideways_limit) == (Sideways.TOTAL, 1.0)  # 17.3.1 V
    assert nfhs.sideways.value is Sideways.WIDTH  # 4-42-6 V
    assert nfhs.sideways_limit == pytest.approx(3 * FOOT)
    assert (nba.sideways.value, nba.sideways_limit) == (Sideways.STEP, None)  # 10-III(4) V


def test_team_mates_side_by_side() -> None:
    fiba, nfhs, nba = map(throw_in_rules, (RuleSet.FIBA, RuleSet.NFHS, RuleSet.NBA))
    assert fiba.adjacent.value is ClosedLines.NONE  # Art. 17, V by absence
    assert nfhs.adjacent.value is ClosedLines.ALL  # 7-6-5 V: within 3 ft
    assert nfhs.adjacent_within == pytest.approx(0.9144)
    assert nba.adjacent.value is ClosedLines.BASELINE  # 8-III V


def test_only_the_nba_forbids_the_pass_into_the_backcourt() -> None:
    kept = {one for one, rules in THROW_INS.items() if rules.backcourt.value is Backcourt.ALLOWED}
    assert set(RuleSet) - kept == {RuleSet.NBA, RuleSet.WNBA}  # 8-III-e V; WNBA M
    assert throw_in_rules(RuleSet.NFHS).backcourt.article.article == "9-9 note"  # V


def test_defender_room() -> None:
    assert throw_in_rules(RuleSet.FIBA).defender_room.value == 1.0  # 17.3.2 V
    assert throw_in_rules(RuleSet.NFHS).defender_room.value == pytest.approx(3 * FOOT)  # 7-6-4 V


def test_no_book_allows_a_hand_in_or_a_spot_behind_the_board() -> None:
    # FIBA interpretations 17-8, 17.2.2; NFHS 9-2-2, 7-5-5; NBA 10-III(9), 6-I; V but for M
    assert not any(rules.hand_in.value or rules.behind_board.value for rules in THROW_INS.values())
    assert all(rules.one_out_of_bounds.value for rules in THROW_INS.values())
    assert all(rules.run_after_goal.value for rules in THROW_INS.values())


@pytest.mark.parametrize("rule_set", list(RuleSet))
def test_screens(rule_set: RuleSet) -> None:
    # FIBA 33.7 (2010), NFHS 4-40, NCAA 4-35, NBA 12B-III: one step blind, one to two moving
    rules = screen_rules(rule_set)
    assert (rules.blind_steps.value, rules.moving_steps.value) == (1, (1, 2))
    assert rules.stationary.value
    assert rules.inside.value


def test_what_was_not_read_says_so() -> None:
    for table in (THROW_INS, SCREENS):
        rules = table[RuleSet.WNBA]
        ruled = [getattr(rules, one.name) for one in fields(rules)]
        assert all(one.article.flag == "M" for one in ruled if isinstance(one, Ruled))
    wnba = throw_in_rules(RuleSet.WNBA).count.article.cited(ENGLISH)
    assert wnba == "WNBA Official Rules; from memory, not checked in the book"
    ncaa = throw_in_rules(RuleSet.NCAA).adjacent.article.cited(ENGLISH)
    assert ncaa.endswith("7-6; from memory, not checked in the book")
    nfhs = throw_in_rules(RuleSet.NFHS).adjacent.article.cited(ENGLISH)
    assert nfhs == "NFHS Basketball Rules Book 2025-26, 7-6-5"


@pytest.mark.parametrize("rule_set", list(RuleSet))
def test_every_rule_names_its_own_book(rule_set: RuleSet) -> None:
    family = rule_set.value.removesuffix("_94")
    for rules in (throw_in_rules(rule_set), screen_rules(rule_set)):
        assert rules.rule_set is rule_set
        ruled = [getattr(rules, one.name) for one in fields(rules)]
        assert all(one.article.book.startswith(family) for one in ruled if isinstance(one, Ruled))


@pytest.mark.parametrize(
    ("rule_set", "book", "lane", "backcourt"),
    [
        (RuleSet.FIBA, "FIBA", (3.0, "26.1.1"), (8.0, "28.1")),  # V
        (RuleSet.NFHS, "NFHS", (3.0, "9-7"), (10.0, "9-8")),  # V
        (RuleSet.NFHS_94, "NFHS", (3.0, "9-7"), (10.0, "9-8")),  # V
        (RuleSet.NCAA, "NCAA", (3.0, "9-7"), (10.0, "9-10")),  # M
        (RuleSet.NBA, "NBA", (3.0, "Rule 10-VI"), (8.0, "Rule 10-VIII")),  # V
        (RuleSet.WNBA, "WNBA", (3.0, ""), (8.0, "")),  # M
    ],
)
def test_seconds_in_the_lane_and_to_bring_the_ball_over(
    rule_set: RuleSet, book: str, lane: tuple[float, str], backcourt: tuple[float, str]
) -> None:
    rules = live_rules(rule_set)
    for found, wanted in ((rules.lane, lane), (rules.backcourt, backcourt)):
        assert (found.value, found.article.article) == wanted
        assert found.article.book.startswith(f"{book} ")
