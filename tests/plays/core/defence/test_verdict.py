"""The defence: arrival against ball, pursuit, held up by screens, switches, limits.

Worked cases: a six metre pass at 10 m/s without drag and a defender (V 7.5 m/s, T 1 s,
reaction 0.25 s, reach 0.9 m) beside the middle of the lane; reckoned apart with the sprint law.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.defence.guarding import STANDARD
from plays.core.defence.march import STEP, Script, march
from plays.core.defence.margin import Lane, curve, lateness
from plays.core.defence.stance import Scheme, ball_places, script
from plays.core.defence.verdict import How, Tactic, Word, against, index, turn_of, word_for
from plays.core.motion.clock import timeline
from plays.core.motion.pace import Pace, pace_of
from plays.core.motion.sprint import Floats
from plays.core.play import (
    AgeGroup,
    Defender,
    Look,
    Play,
    Point,
    Stance,
)
from tests.plays.core.samples import box, down_screen, still

U16 = pace_of(AgeGroup.U16)
RUNNER = replace(U16, top_speed=7.5, time_constant=1.0, effort=1.0, choose=0.25, jump=9.0)


def straight(along: Floats, high: float) -> Lane:
    """A pass along the x axis at 10 m/s without drag, ``high`` all the way."""
    places = along.astype(np.complex128)
    return Lane(places, along, along / 10.0, np.full(len(along), high))


@pytest.mark.parametrize(
    ("beside", "margin"), [(1.0, 0.112), (1.25, 0.259), (1.5, 0.358), (2.0, 0.510), (2.5, 0.631)]
)
def test_hand_against_ball_in_the_worked_cases(beside: float, margin: float) -> None:
    along = np.linspace(0.0, 6.0, 200)
    lane = straight(along, 1.0)
    seen = (np.array([[3.0 + 1j * beside]]), np.zeros((1, 1), dtype=complex))
    late = lateness(lane, seen, np.array([[0.9]]), RUNNER, STANDARD)
    assert late.min() == pytest.approx(margin, abs=0.01)


def test_a_body_in_the_lane_need_not_react() -> None:
    along = np.linspace(0.0, 6.0, 61)
    lane = straight(along, 1.0)
    seen = (np.array([[3.0 + 0.1j]]), np.zeros((1, 1), dtype=complex))
    late = lateness(lane, seen, np.array([[0.9]]), RUNNER, STANDARD)
    assert late.min() == pytest.approx(-0.33, abs=0.02)


def test_a_ball_over_the_jumping_hand_is_safe() -> None:
    along = np.linspace(0.0, 6.0, 61)
    lane = straight(along, U16.jump_reach + 0.2)
    seen = (np.array([[3.0 + 0.1j]]), np.zeros((1, 1), dtype=complex))
    assert lateness(lane, seen, np.array([[0.9]]), U16, STANDARD).min() > 5.0


def chase(aims: Floats, begin: complex, pace: Pace) -> np.ndarray:
    """Where one defender is who wants to be at ``aims`` (n,), every 0.04 s."""
    n = len(aims)
    wanted = np.tile(np.asarray(aims, dtype=complex)[:, None], (1, 5))
    times = np.linspace(0.0, (n - 1) * 0.04, n)
    guards = np.tile(np.arange(5), (n, 1))
    (marking,) = march([Script(pace, times, wanted, np.full(5, begin), guards)])
    return np.asarray(marking.places[:, 0])


def test_pursuit_of_a_standing_man_is_a_sprint_that_brakes() -> None:
    places = chase(np.full(100, 8.0), 0j, U16)
    assert abs(places[-1] - 8.0) < 0.02
    path_seconds = np.argmax(np.abs(places - 8.0) < 0.1) * 0.04
    from plays.core.motion.path import path_through
    from plays.core.motion.run import Legs, run

    legs = Legs(U16.game_speed, U16.time_constant, U16.braking, U16.turn_180)
    wanted = run(path_through((Point(0, 0), Point(8, 0))), legs)
    assert path_seconds == pytest.approx(wanted.when(7.9), abs=0.12)


def test_pursuit_meets_where_the_triangle_says() -> None:
    """3-4-5: a man crosses at 3 m/s, 4 m away; at 5 m/s he is met after one second."""
    times = np.arange(200) * 0.04
    quick = replace(U16, top_speed=5.0, time_constant=0.001, effort=1.0, braking=1e4)
    places = chase(np.full(200, 3.0 + 0j), 4j, quick)
    apart = np.abs(places - 3.0)
    met = times[np.argmax(apart < 0.1)]
    assert met == pytest.approx(1.0, abs=0.05)


def test_closest_approach_of_two_straight_runs() -> None:
    """Worked: (0,0) at (1,0) m/s and (10,5) at (-1,0) m/s are nearest after 5 s, 5 m apart."""
    from plays.core.check.space import closest

    times = np.arange(0.0, 10.0, 0.04)
    here, there = times.astype(np.complex128), (10 - times).astype(np.complex128) + 5j
    when, apart = closest(here, there, times)
    assert (when, apart) == pytest.approx((5.0, 5.0), abs=1e-6)


def test_words_and_the_index_follow_the_margin() -> None:
    assert word_for(0.3) is Word.OPEN
    assert word_for(0.29) is Word.CONTESTED
    assert word_for(0.09) is Word.COVERED
    assert index(-50.0) < index(-0.1) < index(0.1) < index(50.0) <= 1.0


@pytest.mark.parametrize(
    ("low", "high", "thrown"),
    [
        (-0.8, -0.6, 0.001),
        (-0.6, -0.3, 0.006),
        (-0.3, -0.1, 0.038),
        (-0.1, 0.0, 0.084),
        (0.0, 0.1, 0.129),
        (0.1, 0.2, 0.194),
        (0.2, 0.3, 0.332),
        (0.3, 0.4, 0.411),
        (0.4, 0.6, 0.536),
        (0.6, 0.8, 0.641),
        (0.8, 1.1, 0.702),
    ],
)
def test_the_index_is_the_share_of_passes_that_professionals_threw(
    low: float, high: float, thrown: float
) -> None:
    """Measured on publicly posted tracking of adult professionals, 2015-16 (8,415 plays, posted
    under the MIT licence): 5,191 passes thrown and caught against 20,583 team-mates at the same
    moments; the outer bounds of the first and last class are ours."""
    middle = np.mean([index(margin) for margin in np.linspace(low, high, 21)])
    assert middle == pytest.approx(thrown, abs=0.03)


@pytest.mark.parametrize("tactic", Tactic)
@pytest.mark.parametrize("play", [box(), still()], ids=["box", "still"])
def test_no_reaction_and_no_limit_of_speed_leave_no_look_open(play: Play, tactic: Tactic) -> None:
    line = timeline(play, U16)
    gods = replace(
        U16, top_speed=1e5, time_constant=1e-3, braking=1e5, choose=0.0, follow=0.0, jump=9.0,
        screened=0.0,
    )  # fmt: skip
    (verdicts,) = against([replace(line, pace=gods)], [tactic])
    assert verdicts
    assert all(verdict.word in (Word.COVERED, Word.PAST, Word.NOT_YET) for verdict in verdicts)
    assert all(verdict.margin <= 0.02 for verdict in verdicts)


@pytest.mark.parametrize("play", [box(), still()], ids=["box", "still"])
def test_a_wall_of_distance_leaves_every_look_open(play: Play) -> None:
    line = timeline(play, U16)
    for window in line.windows:
        made = script(line, Scheme(Tactic.CHASE), still_out=True)
        far = replace(made, aims=made.aims * 0 + 500.0, begin=made.begin * 0 + 500.0)
        (marking,) = march([far])
        assert curve(window, marking).min() > 5.0


@given(st.floats(0.0, 0.3), st.floats(0.5, 1.0))
def test_a_slower_defence_never_narrows_a_margin(lag: float, slow: float) -> None:
    """With the same places: reaction and speed to the ball only."""
    line = timeline(box(), U16)
    (marking,) = march([script(line, Scheme(Tactic.CHASE), still_out=True)])
    marking = replace(marking, speeds=marking.speeds * 0, places=marking.places[:1].repeat(300, 0))
    late = replace(U16, choose=U16.choose + lag, top_speed=U16.top_speed * slow)
    for window in line.windows:
        before = curve(window, marking)
        after = curve(window, replace(marking, pace=late))
        assert (after >= before - 1e-9).all()


def test_a_look_is_judged_at_its_turn_and_its_best_moment_stands_beside_it() -> None:
    line = timeline(box(), U16)
    for tactic in Tactic:
        (verdicts,) = against([line], [tactic])
        for verdict in verdicts:
            assert verdict.turn == turn_of(verdict.window)
            assert verdict.best_margin >= verdict.margin
            if verdict.in_time:
                assert verdict.turn == pytest.approx(verdict.window.in_turn, abs=0.06)


def test_the_parts_add_up_to_the_margin() -> None:
    line = timeline(box(), U16)
    for tactic in Tactic:
        (verdicts,) = against([line], [tactic])
        for verdict in verdicts:
            parts = verdict.parts
            assert parts.reaction + parts.run - parts.flight == pytest.approx(verdict.margin)
            assert 0.0 <= parts.along <= parts.length


def test_halving_the_step_hardly_moves_a_margin() -> None:
    line = timeline(box(), U16)
    for tactic in Tactic:
        fine = How(step=STEP / 2.0, points=64)
        (coarse,), (finer,) = against([line], [tactic]), against([line], [tactic], how=fine)
        for one, other in zip(coarse, finer, strict=True):
            assert one.margin == pytest.approx(other.margin, abs=0.03)


def test_a_screen_frees_the_cutter_and_says_for_how_long() -> None:
    play = down_screen()
    with_screen, without = timeline(play, U16), timeline(play, replace(U16, screened=0.0))
    (held,), (free,) = against([with_screen], [Tactic.DENY]), against([without], [Tactic.DENY])
    assert held[0].margin > free[0].margin + 0.1
    (screen,) = held[0].held
    assert screen.screener == "4"
    assert 0.2 < screen.seconds <= U16.screened + 1e-9


def test_a_switch_is_held_up_by_nobody() -> None:
    line = timeline(down_screen(), U16)
    (switched,) = against([line], [Tactic.SWITCH])
    assert all(verdict.held == () for verdict in switched)


def test_a_sagging_defence_gives_the_outside_and_not_the_inside() -> None:
    line = timeline(box(), U16)
    near, sag = against([line, line], [Tactic.CHASE, Tactic.SAG])
    assert sag[1].margin > near[1].margin  # 2 at the wing
    assert sag[2].word is Word.COVERED  # 4 at the block, with everybody there


def test_denying_takes_the_pass_away() -> None:
    line = timeline(still(), U16)
    near, deny = against([line, line], [Tactic.CHASE, Tactic.DENY])
    assert deny[0].margin < near[0].margin


def test_drawn_defenders_are_used() -> None:
    far = replace(still(), defenders=(Defender("2", at=Point(-7.0, 0.5)),))
    close = replace(still(), defenders=(Defender("2", stance=Stance.DENY),))
    margin = {}
    for name, play in (("plain", still()), ("far", far), ("close", close)):
        (verdicts,) = against([timeline(play, U16)], [Tactic.CHASE])
        margin[name] = verdicts[0].margin
    assert margin["close"] < margin["plain"] <= margin["far"]


def test_the_ball_is_seen_where_the_look_before_brought_it() -> None:
    """Not with the first look's receiver, but with whoever feeds the post."""
    feed = (
        Look("roll", "1", "4", "r4"),
        Look("wing", "1", "2", "c2"),
        Look("feed", "2", "4", "r4"),
    )
    line = timeline(replace(down_screen(), looks=feed), U16)
    window, wing = line.window("feed"), line.window("wing")
    assert (window.given, wing.given) == ("wing", None)
    then = np.array([wing.catch(wing.in_turn) + 0.05])
    (first,) = ball_places(line, then, still_out=False)
    (fed,) = ball_places(line, then, still_out=False, given="wing")
    assert fed == pytest.approx(line.tracks["2"].at(float(then[0])))
    assert first == pytest.approx(line.tracks["4"].at(float(then[0])))
    (verdicts,) = against([line], [Tactic.CHASE])
    assert verdicts[2].parts.length == pytest.approx(abs(window.target - window.origin))


def test_many_at_once_are_the_same_as_one_by_one() -> None:
    lines = [timeline(box(), pace_of(age)) for age in (AgeGroup.U12, AgeGroup.ADULT)]
    together = against(lines, [Tactic.SWITCH, Tactic.CHASE])
    alone = [against([lines[0]], [Tactic.SWITCH])[0], against([lines[1]], [Tactic.CHASE])[0]]
    for one, other in zip(together, alone, strict=True):
        assert [v.margin for v in one] == pytest.approx([v.margin for v in other], abs=1e-12)
