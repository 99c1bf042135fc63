"""The ball, held against textbook projectiles, Brancazio 1981 and a reference integrator."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from plays.core.motion import flight as motion_flight
from plays.core.motion.flight import GRAVITY, Hurdle
from plays.core.motion.pace import PACES
from plays.core.motion.throw import throw
from plays.core.play import AgeGroup, PassKind

SIZE_7 = motion_flight.drag_constant(0.600, 0.760)


def fly(speed: float, angle: float, high: float, drag: float, stop: float) -> np.ndarray:
    """(time, height) where a reference integration of the ball crosses x = stop."""

    def pull(_: float, s: np.ndarray) -> list[float]:
        force = drag * math.hypot(s[2], s[3])
        return [s[2], s[3], -force * s[2], -GRAVITY - force * s[3]]

    def crosses(_: float, s: np.ndarray) -> float:
        return float(s[0] - stop)

    crosses.terminal = True  # type: ignore[attr-defined]
    start = [0.0, high, speed * math.cos(angle), speed * math.sin(angle)]
    found = solve_ivp(pull, (0, 20), start, events=crosses, rtol=1e-10, atol=1e-12)
    return np.array([found.t_events[0][0], found.y_events[0][0][1]])


def test_drag_constant_of_the_large_ball() -> None:
    assert pytest.approx(0.02306, abs=2e-5) == SIZE_7
    assert math.sqrt(GRAVITY / SIZE_7) == pytest.approx(20.6, abs=0.05)  # terminal speed


@pytest.mark.parametrize(
    ("speed", "length", "seconds"),
    [(10, 5, 0.5300), (10, 6, 0.6435), (8, 4, 0.5238), (20, 20, 1.2705)],
)
def test_straight_pass_with_drag(speed: float, length: float, seconds: float) -> None:
    found = motion_flight.straight_time(length, speed, SIZE_7)
    assert found == pytest.approx(seconds, abs=1e-3)
    assert found > length / speed


def test_a_straight_pass_without_air_is_uniform() -> None:
    assert motion_flight.straight_time(6.0, 12.0, 0.0) == 0.5


def test_straight_pass_against_the_integrator() -> None:
    """Thrown level in a world with drag and gravity; the drop costs a little more time."""
    for speed, length in ((10.0, 5.0), (20.0, 20.0)):
        wanted = fly(speed, 0.0, 2.0, SIZE_7, length)[0]
        found = motion_flight.straight_time(length, speed, SIZE_7)
        assert found == pytest.approx(wanted, rel=0.01)


def test_textbook_projectile() -> None:
    """20 m/s at 45 degrees with g = 9.8: range 40.816 m, flight 2.886 s, height 10.204 m."""
    hurdle = Hurdle(0.0, 0.0, 40.8163, 20.40815, 10.2041)
    arc = motion_flight.lowest_arc(hurdle, gravity=9.8)
    assert arc is not None
    assert arc.speed == pytest.approx(20.0, abs=1e-3)
    assert math.degrees(arc.angle) == pytest.approx(45.0, abs=1e-3)
    assert arc.seconds == pytest.approx(2.886, abs=1e-3)
    assert arc.top == pytest.approx(10.204, abs=1e-3)


@pytest.mark.parametrize(
    ("length", "rise", "degrees", "speed"),
    [(4.572, 0.9144, 50.655, 7.397), (4.19, 0.61, 49.142, 6.894)],
)
def test_minimum_speed_launch(length: float, rise: float, degrees: float, speed: float) -> None:
    """Brancazio 1981, Am J Phys 49:356; formula from memory and derived again.

    A hand that stands on the parabola of the slowest throw leaves that throw as the lowest.
    """
    half, angle = length / 2.0, math.radians(degrees)
    hand = half * math.tan(angle) - GRAVITY * (half / (speed * math.cos(angle))) ** 2 / 2.0
    arc = motion_flight.lowest_arc(Hurdle(0.0, rise, length, half, hand))
    assert arc is not None
    assert math.degrees(arc.angle) == pytest.approx(degrees, abs=0.02)
    assert arc.speed == pytest.approx(speed, abs=1e-3)


@pytest.mark.parametrize(
    ("hurdle", "launch"),
    [
        (Hurdle(2.1, 2.3, 6, 1.5, 2.9), (34.99, 8.110, 0.9031, 0.2258)),
        (Hurdle(2.2, 2.4, 6, 3, 2.9), (23.43, 9.348, 0.6995, 3 / 8.578)),
    ],
)
def test_lowest_arc_without_drag(hurdle: Hurdle, launch: tuple[float, ...]) -> None:
    """Angle in degrees, speed, seconds to the catch and to the hand; worked by hand."""
    arc = motion_flight.lowest_arc(hurdle)
    assert arc is not None
    assert math.degrees(arc.angle) == pytest.approx(launch[0], abs=0.01)
    assert (arc.speed, arc.seconds, arc.over) == pytest.approx(launch[1:], abs=0.002)


@given(
    st.floats(1.6, 2.3), st.floats(1.7, 2.5), st.floats(2.5, 12.0), st.floats(0.2, 0.9),
    st.floats(0.05, 1.5),
)  # fmt: skip
def test_a_lob_with_drag_meets_both_heights_in_the_reference_integrator(
    release: float, catch: float, length: float, share: float, above: float
) -> None:
    at = share * length
    clear = release + (catch - release) * share + above
    arc = motion_flight.lob(Hurdle(release, catch, length, at, clear), SIZE_7)
    assert arc is not None
    over = fly(arc.speed, arc.angle, release, SIZE_7, at)
    end = fly(arc.speed, arc.angle, release, SIZE_7, length)
    assert over == pytest.approx([arc.over, clear], abs=2e-4)
    assert end == pytest.approx([arc.seconds, catch], abs=2e-4)


def test_drag_makes_the_vacuum_launch_fall_short() -> None:
    hurdle = Hurdle(2.1, 2.3, 6, 1.5, 2.9)
    vacuum = motion_flight.lowest_arc(hurdle)
    assert vacuum is not None
    seconds, height = fly(vacuum.speed, vacuum.angle, 2.1, SIZE_7, 6)
    assert 0.2 < 2.3 - height < 0.45
    assert 0.04 < seconds - vacuum.seconds < 0.08


def test_no_lob_where_a_straight_line_clears() -> None:
    assert motion_flight.lowest_arc(Hurdle(2.2, 2.4, 6, 3, 2.25)) is None


def test_a_steeper_lob_hangs_longer() -> None:
    hands = (2.6, 2.8, 3.0, 3.3)
    arcs = [motion_flight.lob(Hurdle(2.1, 2.3, 6, 5.2, clear), SIZE_7) for clear in hands]
    seconds = [arc.seconds for arc in arcs if arc is not None]
    assert len(seconds) == 4
    assert seconds == sorted(seconds)


def test_kinds_of_pass_in_order_of_time() -> None:
    pace = PACES[AgeGroup.U16]
    seconds = {kind: throw(kind, 6.0, pace, pace).seconds for kind in PassKind}
    assert seconds[PassKind.DIRECT] < seconds[PassKind.OVERHEAD] < seconds[PassKind.LOB]
    assert seconds[PassKind.DIRECT] < seconds[PassKind.BOUNCE]


@pytest.mark.parametrize("kind", PassKind)
def test_a_throw_begins_and_ends_where_it_says(kind: PassKind) -> None:
    pace = PACES[AgeGroup.U16]
    made = throw(kind, 6.0, pace, pace)
    ends = np.array([0.0, 1.0])
    assert made.seconds_at(ends) == pytest.approx([0.0, made.seconds], abs=1e-9)
    assert made.heights(ends) == pytest.approx(made.high, abs=1e-9)
    if made.clears is not None:
        at, height = made.clears
        assert made.heights(np.array([at / 6.0]))[0] == pytest.approx(height)


def test_a_bounce_touches_the_floor_at_two_thirds_of_the_way() -> None:
    """Two thirds of the way: common practice."""
    pace = PACES[AgeGroup.U16]
    made = throw(PassKind.BOUNCE, 6.0, pace, pace)
    begin, end = made.high
    shares = np.array([0.0, 1 / 3, 2 / 3, 5 / 6, 1.0])
    wanted = [begin, begin / 2, 0.0, end / 2, end]
    assert made.heights(shares) == pytest.approx(wanted, abs=1e-9)
