"""The laws of the defence one by one: what a screen costs, a reach with momentum, a delay.

The second reckoning here goes by small steps of its own and shares nothing with the code but
the law that it is told.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.defence.guarding import STANDARD
from plays.core.defence.march import Marking, Script, march
from plays.core.defence.reach import NEVER, arrival
from plays.core.defence.screens import Obstacle
from plays.core.motion.pace import pace_of
from plays.core.motion.sprint import time_scalar
from plays.core.play import AgeGroup

ADULT = pace_of(AgeGroup.ADULT)
FOR_EVER = 99.0


def follow(*obstacles: Obstacle, begin: complex = 0j, step: float = 0.02) -> Marking:
    """The defender of the 1 follows somebody who runs along the x axis at 4 m/s."""
    times = np.arange(0.0, 4.0, step)
    aims = np.full((len(times), 5), 50.0 + 50.0j)
    aims[:, 0] = 4.0 * np.maximum(times - 0.3, 0.0)
    places = aims[0].copy()
    places[0] = begin
    guards = np.tile(np.arange(5), (len(times), 1))
    (marking,) = march([Script(ADULT, times, aims, places, guards, obstacles)])
    return marking


def screen(at: complex, begin: float = 0.0, seconds: float = 0.5) -> Obstacle:
    return Obstacle("s", "4", "1", at, begin, FOR_EVER, seconds)


def reaches(marking: Marking, metres: float) -> float:
    """When the defender is so far along the x axis."""
    return float(np.interp(metres, marking.places[:, 0].real, np.arange(200) * marking.step))


@pytest.mark.parametrize("seconds", [0.2, 0.5, 0.8])
def test_a_screen_in_the_way_costs_its_seconds_and_no_more(seconds: float) -> None:
    marking = follow(screen(4.0 + 0j, seconds=seconds))
    assert marking.held[-1, 0] == pytest.approx(seconds, abs=1e-9)
    at, v = marking.places[:, 0].real, marking.speeds[:, 0].real
    usual = (v[1:] + v[:-1]) / 2.0 * marking.step
    moving = (np.arange(len(usual)) > 40) & (v[1:] > 1.0)
    lost = np.where(moving, 1.0 - np.diff(at) / np.where(moving, usual, 1.0), 0.0)
    assert lost.sum() * marking.step == pytest.approx(seconds, abs=0.02)
    assert np.abs(np.diff(v))[moving].max() < 0.2  # at a standstill, but with the speed kept


def test_what_a_screen_costs_does_not_depend_on_the_step() -> None:
    ends = []
    for step in (0.04, 0.02, 0.01, 0.005):
        marking = follow(screen(4.0 + 0.3j), step=step)
        assert marking.held[-1, 0] == pytest.approx(0.5, abs=1e-9)
        ends.append(complex(marking.at(np.array([2.5]))[0][0, 0]))
    assert abs(ends[1] - ends[3]) < 0.03
    assert abs(ends[2] - ends[3]) < 0.015


def test_who_comes_past_wide_or_is_elsewhere_pays_less_or_nothing() -> None:
    paid = [float(follow(screen(4.0 + 1j * wide)).held[-1, 0]) for wide in (0.4, 0.75, 0.9, 1.1)]
    assert paid[0] == pytest.approx(0.5)
    assert paid[0] > paid[1] > paid[2] > paid[3] == 0.0
    assert float(follow(screen(-3.0 + 0j)).held[-1, 0]) == 0.0


def test_what_closes_behind_the_cutter_holds_who_comes_later() -> None:
    """The cutter is past 4 m after 1.3 s; the gate shuts a moment later, before the chaser."""
    late = follow(screen(4.0 + 0j, begin=1.35))
    assert late.held[-1, 0] == pytest.approx(0.5)
    too_late = follow(screen(4.0 + 0j, begin=2.5))
    assert too_late.held[-1, 0] == 0.0


def stepped(gap: complex, velocity: complex, reach: float, top: float, constant: float) -> float:
    """Small steps of dv/dt = (V u - v)/T with one push u held all the way, the best of many u."""
    best, step = NEVER, 0.002
    for angle in np.linspace(-np.pi, np.pi, 721):
        push = top * np.exp(1j * angle)
        at, v = 0j, velocity
        for k in range(1200):
            if abs(gap - at) <= reach:
                best = min(best, k * step)
                break
            if k * step >= best:
                break
            v += step * (push - v) / constant
            at += step * v
    return best


@pytest.mark.parametrize(
    ("gap", "velocity"), [(3.0, 0.0), (3.0, 4.0), (3.0, -4.0), (2.0 + 2.0j, 3.0j), (2.5, 3.0j)]
)
def test_reach_is_that_of_a_second_reckoning_by_steps(gap: complex, velocity: complex) -> None:
    found = arrival(np.array(gap), np.array(velocity + 0j), np.array(0.9), 6.15, 1.1)
    assert float(found) == pytest.approx(stepped(gap, velocity, 0.9, 6.15, 1.1), abs=0.01)


@given(st.floats(1.0, 12.0), st.floats(0.0, 5.0))
def test_running_away_costs_and_running_towards_gains(metres: float, speed: float) -> None:
    gaps = np.full(3, metres, dtype=np.complex128)
    velocities = np.array([-speed, 0.0, speed], dtype=np.complex128)
    away, still, towards = arrival(gaps, velocities, np.full(3, 0.9), 6.15, 1.1)
    assert away >= still - 1e-6 >= towards - 2e-6
    rest = time_scalar(max(metres - 0.9, 0.0), 6.15, 1.1)
    assert still == pytest.approx(rest, abs=0.004)


def test_a_marker_follows_as_late_as_measured() -> None:
    """Delay between attacker and own marker at 1 m/s along the cut: median 0.33 s for hard cuts of
    adult professionals (n = 48, quarters 0.19 and 0.44), 0.29 s for students (n = 55).

    Tracking of 2015-16 posted with the SocialVAE code (Xu et al.), and of 3x3 by university
    players (TrackID3x3).
    """
    times = np.arange(0.0, 3.0, 0.01)
    fast, constant = ADULT.game_speed, ADULT.time_constant
    since = np.maximum(times - 0.5, 0.0)
    man = fast * (since + constant * np.expm1(-since / constant))
    seen = np.interp(times - ADULT.follow, times, man, left=0.0)
    aims = np.full((len(times), 5), 50j)
    aims[:, 0] = seen
    guards = np.tile(np.arange(5), (len(times), 1))
    (marking,) = march([Script(ADULT, times, aims, aims[0].copy(), guards)])
    his, own = np.gradient(man, times), marking.speeds[:, 0].real
    delay = times[np.argmax(own > 1.0)] - times[np.argmax(his > 1.0)]
    assert 0.19 <= delay <= 0.44


def test_defenders_stand_at_the_measured_weights() -> None:
    """Least squares on 20,210 half-court frames: off the ball man .569, ball .125, basket .306; on
    the ball man .775, basket .225. The median gap to a man 6 to 7.5 m from the ball is 2.56 m,
    with the ball 1.60 m.
    """
    own = STANDARD
    assert 1.0 - own.to_ball - own.to_basket == pytest.approx(0.569)
    man, basket = 6.0 + 6.0j, 1.575j  # a wing; the ball is at the other slot, 7 m away
    ball = man - 7.0
    gap = abs(own.to_ball * (ball - man) + own.to_basket * (basket - man))
    assert gap == pytest.approx(2.56, abs=0.5)
    top = 8.3j
    assert abs(own.on_ball * (basket - top)) == pytest.approx(1.60, abs=0.2)


def test_a_wider_arm_never_makes_an_arrival_later() -> None:
    gaps, still = np.full(5, 4.0 + 1j), np.zeros(5, dtype=np.complex128)
    found = arrival(gaps, still, np.linspace(0.3, 1.3, 5), 6.15, 1.1)
    assert (np.diff(found) < 0.0).all()
