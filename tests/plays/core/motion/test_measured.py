"""The clock against what was measured: aggregates of publicly posted player tracking.

Adult professionals, 2015-16, 8,415 plays of 609 games posted with the SocialVAE code (Xu et
al.; 8.33 Hz, feet). We keep aggregates only. One league, scoring plays mostly: nothing on
children, and no kind of pass.
"""

from __future__ import annotations

import numpy as np
import pytest

from plays.core.motion.pace import pace_of
from plays.core.motion.path import path_through
from plays.core.motion.run import Legs, run
from plays.core.motion.sprint import time_scalar
from plays.core.motion.throw import throw
from plays.core.play import AgeGroup, PassKind, Point

ADULT = pace_of(AgeGroup.ADULT)

# metres between the two people: median seconds in the air (n = 73, 517, 1068, 1199, 932, 554,
# 386, 94, 17)
FLIGHTS = (
    (2.7, 0.46), (3.7, 0.46), (4.5, 0.47), (5.5, 0.50), (6.4, 0.54), (7.4, 0.60), (8.6, 0.67),
    (10.7, 0.80), (12.6, 0.88),
)  # fmt: skip

# metres from the start: seconds from 0.3 m on; 5, 10, 25, 50 and 75 per cent of 745 to 7,809 runs
RUNS = (
    (2.0, (0.57, 0.60, 0.66, 0.75, 0.87)),
    (3.0, (0.82, 0.85, 0.94, 1.07, 1.25)),
    (4.0, (1.04, 1.09, 1.20, 1.37, 1.59)),
    (5.0, (1.26, 1.31, 1.45, 1.65, 1.91)),
    (6.0, (1.46, 1.53, 1.69, 1.90, 2.22)),
    (8.0, (1.85, 1.95, 2.14, 2.39, 2.81)),
)


@pytest.mark.parametrize(("metres", "seconds"), FLIGHTS)
def test_a_pass_flies_as_long_as_professionals_passes(metres: float, seconds: float) -> None:
    made = throw(PassKind.DIRECT, metres, ADULT, ADULT)
    assert made.seconds == pytest.approx(seconds, abs=0.06)


def test_no_arm_throws_harder_than_it_can() -> None:
    for age in AgeGroup:
        pace = pace_of(age)
        for kind in (PassKind.DIRECT, PassKind.OVERHEAD, PassKind.BOUNCE):
            for metres in np.arange(1.0, 20.0):
                assert throw(kind, float(metres), pace, pace).speed <= pace.arm_speed + 1e-9


def from_standing(metres: float, effort: float) -> float:
    pace = pace_of(AgeGroup.ADULT, effort)
    whole, first = (time_scalar(d, pace.game_speed, pace.time_constant) for d in (metres, 0.3))
    return whole - first


@pytest.mark.parametrize(("metres", "found"), RUNS)
def test_the_usual_effort_is_a_hard_run_and_the_band_holds_most(
    metres: float, found: tuple[float, ...]
) -> None:
    """0.75 lies between the hardest tenth and quarter; 0.58 the middle; 0.9 in the top 5 %."""
    _, tenth, quarter, middle, _ = found
    assert tenth - 0.05 <= from_standing(metres, 0.75) <= quarter + 0.03
    assert from_standing(metres, 0.58) == pytest.approx(middle, rel=0.06)
    assert from_standing(metres, 0.9) <= tenth


def test_a_curve_costs_the_same_with_one_waypoint_or_thirty() -> None:
    legs = Legs(6.0, 1.05, 4.8, 0.4)
    curves = (
        ((0, 0), (4, 0), (4, 4)),
        ((0, 0), (2, 3), (6, 4)),
        ((0, 0), (3, 1), (6, 4), (6, 8)),
        ((5, 0), (3.54, 3.54), (0, 5)),
    )
    for curve in curves:
        path = path_through(tuple(Point(*place) for place in curve))
        seconds = run(path, legs).seconds
        for n in (10, 30, 60):
            places = path.at(np.linspace(0.0, path.length, n + 2))
            again = path_through(tuple(Point(z.real, z.imag) for z in places))
            assert run(again, legs).seconds == pytest.approx(seconds, abs=0.03)
        straight = path_through((Point(0, 0), Point(path.length, 0)))
        assert seconds > run(straight, legs).seconds + 0.03
