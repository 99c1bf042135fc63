"""Throw-in and screen findings by rule book.

Articles: FIBA 17.2.2, 17.3.1, 17.3.2 and interpretation 17-8; NFHS 4-40-1, 4-42-6, 7-6-5,
9-2-2, 9-2-11; NBA Rule 6-I, 8-III, 10-III.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from plays.core.check.check import PlayFinding, check
from plays.core.play import (
    Action,
    ActionKind,
    AgeGroup,
    Cue,
    Look,
    Moment,
    PassKind,
    Play,
    Point,
    Role,
    RuleSet,
    ScreenStyle,
    Situation,
    Spot,
)
from shared.core.finding import Severity
from tests.plays.core.samples import box, still


def found(play: Play, code: str, rule_set: RuleSet = RuleSet.FIBA) -> list[PlayFinding]:
    report = check(play, age=AgeGroup.U16, rule_set=rule_set)
    return [finding for finding in report.findings if finding.code == code]


def beginning_with(play: Play, *actions: Action) -> Play:
    first = replace(play.phases[0], actions=(*actions, *play.phases[0].actions))
    return replace(play, phases=(first, *play.phases[1:]))


def starting(play: Play, **places: tuple[float, float]) -> Play:
    return replace(
        play,
        starts=tuple(
            replace(s, at=Point(*places[f"r{s.role}"])) if f"r{s.role}" in places else s
            for s in play.starts
        ),
    )


def slide(metres: float) -> Play:
    run = Action("run", "1", ActionKind.CUT, (Point(7.8, 8.325 + metres),))
    return beginning_with(still(), run)


def press(along: float, wait: float = 0.0) -> Play:
    """Thrown in from the right half of the own baseline to the 2, who comes from 8 m away."""
    places: dict[str, tuple[float, float]] = {"r1": (along, 28.3), "r2": (along, 20.3)}
    spread = {"r3": (-2.0, 20.0), "r4": (0.0, 15.0), "r5": (-5.0, 9.0)}
    later = (Cue(Moment.SIGNAL, wait=wait),)
    run = Action("c2", "2", ActionKind.CUT, (Point(along + 1.0, 25.0),), later)
    return replace(
        starting(still(), **places, **spread),
        phases=(replace(still().phases[0], actions=(run,)),),
        situation=Situation.PRESS_BREAK,
        spot=Spot("baseline", "right", along, far=True),
    )


@pytest.mark.parametrize(
    ("rule_set", "metres", "allowed"),
    [
        (RuleSet.FIBA, 0.95, True),
        (RuleSet.FIBA, 1.10, False),
        (RuleSet.NFHS, 0.90, True),
        (RuleSet.NFHS, 0.95, False),  # a spot three feet wide: 0.914 m
    ],
)
def test_how_far_the_thrower_may_move(rule_set: RuleSet, metres: float, allowed: bool) -> None:
    findings = found(slide(metres), "thrower_moves", rule_set)
    assert (not findings) is allowed
    if findings:
        article = {RuleSet.FIBA: "17.3.1", RuleSet.NFHS: "4-42-6"}[rule_set]
        assert article in findings[0].source


def test_there_and_back_adds_up_in_one_book_and_not_in_the_other() -> None:
    there_and_back = beginning_with(
        still(),
        Action("run", "1", ActionKind.CUT, (Point(7.8, 8.925), Point(7.8, 8.325))),
    )
    assert found(there_and_back, "thrower_moves", RuleSet.FIBA)  # 1.2 m in all
    assert not found(there_and_back, "thrower_moves", RuleSet.NFHS)  # within a strip of 0.6 m


def test_after_a_goal_the_baseline_may_be_run() -> None:
    """FIBA 17.2.10, NFHS 7-5-7, NBA 8-III-c: from behind the own basket, all along the line."""
    running = beginning_with(press(2.0), Action("run", "1", ActionKind.CUT, (Point(-2.0, 28.3),)))
    for rule_set, article in ((RuleSet.FIBA, "17.2.10"), (RuleSet.NFHS, "7-5-7")):
        (finding,) = found(running, "thrower_moves", rule_set)
        assert finding.severity is Severity.NOTE
        assert "after a goal only" in finding.sentence
        assert article in finding.source


def test_beside_the_basket_attacked_the_baseline_is_not_run() -> None:
    """There is no goal of theirs before it: their basket is at the other end."""
    base = replace(
        starting(still(), r1=(2.0, -0.3)),
        situation=Situation.BASELINE,
        spot=Spot("baseline", "right", 2.0),
    )
    running = beginning_with(base, Action("run", "1", ActionKind.CUT, (Point(-2.0, -0.3),)))
    (finding,) = found(running, "thrower_moves")
    assert finding.severity is Severity.SERIOUS
    assert "17.3.1" in finding.source


def test_after_a_goal_a_team_mate_may_stand_behind_the_line_and_the_spot_behind_the_board() -> None:
    play = starting(press(0.4), r3=(-3.0, 28.4))
    assert not found(play, "two_out")
    assert not found(play, "behind_board")
    sideline = starting(still(), r3=(3.0, 28.4))
    assert [finding.roles for finding in found(sideline, "two_out")] == [("3",)]


def test_five_seconds_are_counted_at_the_own_baseline_too() -> None:
    """FIBA 17.3.1, 17.2.10: after a goal too, from the first player who has the ball."""
    (finding,) = found(press(2.0, wait=5.0), "count_over")
    assert "17.3.1" in finding.source
    assert not found(press(2.0), "count_over")


def test_side_by_side_at_the_own_baseline() -> None:
    """NFHS 7-6-5: within 3 ft of the boundary plane where the ball is thrown in."""
    near = starting(press(2.0), r3=(-2.0, 27.4), r4=(-1.0, 27.4))
    (finding,) = found(near, "closed_up", RuleSet.NFHS_94)
    assert finding.roles == ("3", "4")
    assert not found(starting(near, r3=(-2.0, 0.5), r4=(-1.0, 0.5)), "closed_up", RuleSet.NFHS_94)


@pytest.mark.parametrize(
    ("rule_set", "article"),
    [(RuleSet.FIBA, "17-8"), (RuleSet.NFHS, "9-2-2"), (RuleSet.NBA, "10-III(9)")],
)
def test_a_throw_in_is_not_handed_over(rule_set: RuleSet, article: str) -> None:
    near = starting(still(), r2=(7.2, 8.3))
    handed = beginning_with(near, Action("h", "1", ActionKind.HANDOFF, to="2"))
    (finding,) = found(handed, "handed_in", rule_set)
    assert article in finding.source
    assert finding.roles == ("1", "2")


@pytest.mark.parametrize(
    ("rule_set", "article"), [(RuleSet.FIBA, "17.3.2"), (RuleSet.NFHS, "9-2-11")]
)
def test_two_out_of_bounds(rule_set: RuleSet, article: str) -> None:
    (finding,) = found(starting(still(), r3=(7.9, 6.0)), "two_out", rule_set)
    assert article in finding.source
    assert finding.roles == ("3",)


def test_team_mates_side_by_side_at_the_line() -> None:
    stacked = starting(still(), r3=(7.0, 6.0), r4=(7.0, 7.0))
    (finding,) = found(stacked, "closed_up", RuleSet.NFHS)
    assert "7-6-5" in finding.source
    assert finding.roles == ("3", "4")
    assert not found(stacked, "closed_up", RuleSet.FIBA)
    assert not found(stacked, "closed_up", RuleSet.NBA)  # its rule is for the baseline
    apart = starting(still(), r3=(6.4, 6.0), r4=(6.4, 7.0))  # 1.1 m from the line
    assert not found(apart, "closed_up", RuleSet.NFHS)


@pytest.mark.parametrize(("metres", "close"), [(1.2, True), (1.25, False)])
def test_an_opponent_fits_between_two_who_stand_further_apart(metres: float, close: bool) -> None:
    """How near is side by side is ours: the books name no distance along the line."""
    two = starting(still(), r3=(7.0, 1.2), r4=(7.0, 1.2 + metres))
    assert bool(found(two, "closed_up", RuleSet.NFHS)) is close


def test_from_frontcourt_to_backcourt_by_rule_set() -> None:
    deep = replace(still(13.0), looks=(Look("l1", "1", "2", "c2", PassKind.DIRECT),))
    (finding,) = found(deep, "backcourt", RuleSet.NBA)
    assert "8-III-e" in finding.source
    assert not found(deep, "backcourt", RuleSet.NFHS)  # 9-9 note
    assert not found(deep, "backcourt", RuleSet.FIBA)


def test_a_catch_so_many_metres_nearer_is_in_the_frontcourt() -> None:
    looks = (Look("l1", "1", "2", "c2", PassKind.DIRECT),)
    (finding,) = found(replace(still(13.0), looks=looks), "backcourt", RuleSet.NBA)
    (metres,) = re.findall(r"([0-9.]+) m", finding.remedy)
    assert not found(replace(still(13.0 - float(metres)), looks=looks), "backcourt", RuleSet.NBA)
    assert not found(replace(still(9.0), looks=looks), "backcourt", RuleSet.NBA)


@pytest.mark.parametrize("along", [0.44, 0.5, 0.77])
def test_not_from_behind_the_backboard(along: float) -> None:
    base = replace(
        starting(still(), r1=(along, -0.3)),
        situation=Situation.BASELINE,
        spot=Spot("baseline", "right", along),
    )
    (finding,) = found(base, "behind_board")
    assert "17.2.2" in finding.source
    # A board is 1.80 m wide (FIBA Basketball Equipment 2022, from memory): half of it is 0.9 m.
    (metres,) = re.findall(r"([0-9.]+) m", finding.remedy)
    assert 0.9 - along - 1e-9 <= float(metres) <= 1.0 - along + 1e-9


@pytest.mark.parametrize(("x", "fine"), [(7.1, True), (7.3, False), (7.6, False)])
def test_screeners_stay_inside(x: float, fine: bool) -> None:
    """NFHS 4-40-1 and case 4.12.2: a foot on the line is outside."""
    wide = beginning_with(
        box(),
        Action(
            "w5", "5", ActionKind.SCREEN, (Point(x, 3.0),), screen=ScreenStyle.FLARE, cutter="2"
        ),
    )
    assert (not found(wide, "screen_outside", RuleSet.NFHS)) is fine


def test_a_blind_screen_on_a_standing_defender_leaves_a_step() -> None:
    def back(distance: float) -> Play:
        """2 stands at the right block; its defender a metre inside; 5 screens behind."""
        away = complex(2.6, 2.8) - complex(0.0, 1.575)
        guard = complex(2.6, 2.8) - away / abs(away)
        at = guard - distance * away / abs(away)
        action = Action(
            "b5", "5", ActionKind.SCREEN, (Point(at.real, at.imag),),
            screen=ScreenStyle.BACK, cutter="2",
        )  # fmt: skip
        play = starting(box(), r5=(at.real, at.imag + 0.4))
        kept = tuple(a for a in play.phases[0].actions if a.id not in ("s5", "c3"))
        return replace(
            play,
            phases=(replace(play.phases[0], actions=(action, *kept)),),
            looks=(play.looks[1],),
        )

    (finding,) = found(back(0.4), "screen_close", RuleSet.NFHS)
    assert "4-40" in finding.source
    assert "judges" in finding.source  # a normal step is a judgement, in every book
    assert not found(back(1.2), "screen_close", RuleSet.NFHS)


def test_half_court_plays_have_no_throw_in_findings() -> None:
    play = replace(still(), thrower=None, spot=None, situation=Situation.HALF_COURT)
    report = check(play, age=AgeGroup.U16)
    codes = {finding.code for finding in report.findings}
    assert not codes & {"thrower_moves", "two_out", "count_over", "handed_in", "closed_up"}


def test_roles_are_roles() -> None:
    role: Role = "1"
    assert found(slide(2.0), "thrower_moves")[0].roles == (role,)
