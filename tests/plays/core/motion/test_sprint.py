"""The sprint, held against published fits and tables.

Sources: the "Kimberley" example of the R package shorts (README and predict-functions.R,
MIT licence); Gryko et al. 2022, BMC Sports Sci Med Rehabil 14:21 (girls, n = 904).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.special import lambertw

from plays.core.motion import sprint as motion_sprint
from plays.core.motion.meaning import meaning
from plays.core.motion.pace import PACES, Pace, pace_of
from plays.core.motion.path import path_through, turn_into
from plays.core.motion.sprint import Floats, Split
from plays.core.play import AgeGroup, Point

KIMBERLEY = {5: 1.158, 10: 1.893, 15: 2.541, 20: 3.149, 30: 4.313, 40: 5.444}
GRYKO = {  # mean gate times over 5, 10 and 20 m; with V and T after -0.3 s, reckoned apart
    "U13": ((1.243, 2.021, 3.585), 6.96, 1.03),
    "U14": ((1.221, 2.028, 3.551), 7.07, 1.04),
    "U15": ((1.205, 2.048, 3.539), 7.12, 1.06),
}
TABLE = {  # (V, T): seconds for 1, 2, 3, 5, 10, 20, 28 m, and the speed at 5 m
    (6.0, 1.0): (0.639, 0.944, 1.198, 1.639, 2.592, 4.320, 5.663, 4.835),
    (7.0, 1.0): (0.587, 0.864, 1.094, 1.489, 2.331, 3.836, 4.993, 5.420),
    (8.0, 1.0): (0.545, 0.801, 1.011, 1.371, 2.131, 3.469, 4.489, 5.970),
    (8.0, 1.2): (0.593, 0.868, 1.092, 1.474, 2.269, 3.642, 4.676, 5.657),
}


def test_fit_is_that_of_the_shorts_package() -> None:
    splits = [Split(metres, seconds) for metres, seconds in KIMBERLEY.items()]
    top, constant = motion_sprint.fit(splits, constant=1.0, behind=0.0)
    assert top == pytest.approx(8.591, abs=0.002)
    assert constant == pytest.approx(0.811, abs=0.002)
    assert top / constant == pytest.approx(10.589, abs=0.005)
    fitted = motion_sprint.time(np.array(list(KIMBERLEY)), top, constant)
    assert fitted == pytest.approx([1.21, 1.90, 2.52, 3.12, 4.30, 5.47], abs=0.005)
    residuals = np.array(list(KIMBERLEY.values())) - fitted
    published = [-0.05293, -0.00402, 0.01997, 0.02699, 0.01376, -0.02232]
    assert residuals == pytest.approx(published, abs=2e-4)


def test_distances_at_which_the_package_finds_speed_and_acceleration() -> None:
    top, constant = 8.591, 8.591 / 10.589
    at_95 = float(motion_sprint.distance(np.array(-constant * np.log(0.05)), top, constant))
    at_half = float(motion_sprint.distance(np.array(constant * np.log(2.0)), top, constant))
    assert at_95 == pytest.approx(14.3, abs=0.05)
    assert at_half == pytest.approx(1.35, abs=0.005)


@pytest.mark.parametrize(("constants", "row"), TABLE.items())
def test_exact_times(constants: tuple[float, float], row: tuple[float, ...]) -> None:
    times = motion_sprint.time(np.array([1, 2, 3, 5, 10, 20, 28]), *constants)
    assert times == pytest.approx(row[:-1], abs=1e-3)
    top, constant = constants
    assert top * (1 - np.exp(-times[3] / constant)) == pytest.approx(row[-1], abs=1e-3)


@given(st.floats(1e-3, 200.0), st.floats(3.0, 12.0), st.floats(0.3, 2.0))
def test_inverse_is_that_by_the_lambert_function(d: float, top: float, constant: float) -> None:
    w = lambertw(-np.exp(-d / (top * constant) - 1.0), 0).real
    closed = constant * w + d / top + constant
    assert float(motion_sprint.time(d, top, constant)) == pytest.approx(closed, rel=1e-6)
    assert motion_sprint.time_scalar(d, top, constant) == pytest.approx(closed, rel=1e-6)


@given(st.floats(0.0, 1e-3), st.floats(3.0, 12.0), st.floats(0.3, 2.0))
def test_inverse_keeps_its_precision_near_the_start(d: float, top: float, constant: float) -> None:
    seconds = motion_sprint.time(d, top, constant)
    back = float(motion_sprint.distance(seconds, top, constant))
    assert back == pytest.approx(d, rel=1e-4, abs=1e-15)


@given(st.floats(0.01, 30.0), st.floats(0.0, 7.0))
def test_a_moving_start_is_the_rest_of_a_standing_one(d: float, speed: float) -> None:
    top, constant = 7.5, 1.0
    before = motion_sprint.elapsed(speed, top, constant)
    start = float(motion_sprint.distance(np.array(before), top, constant))
    whole = float(motion_sprint.time(start + d, top, constant))
    moving = float(motion_sprint.moving_time(d, speed, top, constant))
    assert moving == pytest.approx(whole - before, abs=1e-9)


@pytest.mark.parametrize(("times", "top", "constant"), GRYKO.values(), ids=GRYKO)
def test_girls_table_after_the_gate_correction(
    times: tuple[float, ...], top: float, constant: float
) -> None:
    metres, seconds = np.array([5.0, 10.0, 20.0]), np.array(times)
    fitted = motion_sprint.fit_both(metres, seconds + 0.3, 1.0, 0.0)
    assert fitted == pytest.approx((top, constant), abs=0.01)
    raw = motion_sprint.fit_both(metres, seconds, 1.0, 0.0)
    assert raw[1] == pytest.approx(0.51, abs=0.03)  # what the late clock does to T


def test_fit_agrees_with_a_reference_solver() -> None:
    metres, seconds = np.array([5.0, 10.0, 15.0, 20.0, 30.0]), np.array([1.2, 2.0, 2.7, 3.4, 4.7])

    def misses(x: Floats) -> Floats:
        times = motion_sprint.split_times(metres, float(x[0]), float(x[1]), 0.5)
        return np.asarray(times - seconds)

    wanted = least_squares(misses, [7.0, 1.0], xtol=1e-14, ftol=1e-14).x
    splits = [Split(m, s) for m, s in zip(metres, seconds, strict=True)]
    assert motion_sprint.fit(splits, constant=1.0) == pytest.approx(tuple(wanted), abs=1e-4)


def test_the_u14_row_stays_near_its_published_times() -> None:
    pace = PACES[AgeGroup.U14]
    times = (
        motion_sprint.time(np.array([5.0, 10.0, 20.0]), pace.top_speed, pace.time_constant) - 0.3
    )
    means = np.mean([row[0] for row in GRYKO.values()], axis=0)
    assert times == pytest.approx(means, abs=0.05)


def test_one_split_moves_the_top_speed_only() -> None:
    group = PACES[AgeGroup.U14]
    own = group.with_splits([Split(20.0, 3.30)])
    assert own.time_constant == group.time_constant
    assert own.top_speed > group.top_speed
    gate = motion_sprint.split_times(np.array([20.0]), own.top_speed, own.time_constant, 0.5)
    assert gate[0] == pytest.approx(3.30, abs=1e-6)
    from_the_line = group.with_splits([Split(20.0, 3.30)], behind=0.0)
    assert from_the_line.top_speed > own.top_speed  # the same clock, but no flying start


@pytest.mark.parametrize("split", [Split(0.0, 1.0), Split(5.0, -1.0)])
def test_an_impossible_split_is_refused(split: Split) -> None:
    with pytest.raises(ValueError, match="above zero"):
        motion_sprint.fit([split], constant=1.0)


def test_every_constant_says_where_it_comes_from() -> None:
    for age in AgeGroup:
        for name in PACES[age].to_json():
            found = meaning(age, name)
            assert found.says
            assert found.basis in ("published", "measured", "derived", "our choice")
            assert found.basis == "our choice" or found.source


def test_no_older_group_is_slower_anywhere() -> None:
    slower_is_more = {
        "braking": False, "top_speed": False, "arrive_speed": False, "turn_180": True,
        "dribble": False, "reaction": True, "read": True, "settle": True, "release": True,
        "handle": True, "glance": True, "direct_speed": False, "bounce_speed": False,
        "overhead_speed": False, "arm_speed": False, "longest_pass": False, "height": False,
        "jump": False, "side_reach": False,
        "follow": True, "choose": True,
    }  # fmt: skip
    groups = [PACES[age] for age in AgeGroup]
    for name, rising in slower_is_more.items():
        column = [getattr(pace, name) for pace in groups]
        assert column == sorted(column, reverse=rising), name
    first_push = [pace.top_speed / pace.time_constant for pace in groups]
    assert first_push == sorted(first_push)


def test_a_pace_comes_back_from_json() -> None:
    pace = pace_of(AgeGroup.U16, effort=0.8)
    assert Pace.from_json(pace.to_json()) == pace
    with pytest.raises(ValueError, match="unknown: speed"):
        Pace.from_json({**pace.to_json(), "speed": 3.0})
    with pytest.raises(ValueError, match="number"):
        Pace.from_json({**pace.to_json(), "braking": "4"})
    for name in ("top_speed", "time_constant", "effort", "braking"):
        with pytest.raises(ValueError, match="above 0"):
            Pace.from_json({**pace.to_json(), name: 0.0})
    with pytest.raises(ValueError, match="effort"):
        pace_of(AgeGroup.U16, effort=1.2)


def test_reach_of_a_standing_girl_is_the_published_share_of_her_height() -> None:
    """Gryko et al. 2022: standing reach and height of girls U13, U14 and U15, in cm."""
    from plays.core.motion.pace import REACH_PER_HEIGHT

    for reach, height in ((220.6, 165.3), (223.5, 167.7), (223.3, 167.8)):
        assert reach / height == pytest.approx(REACH_PER_HEIGHT, abs=0.006)


def test_adult_reaction_is_no_shorter_than_the_published_mean() -> None:
    """Woods et al. 2015, Front Hum Neurosci 9:131: 231 ms, n = 1469."""
    assert 0.231 <= PACES[AgeGroup.ADULT].reaction <= 0.30


@pytest.mark.parametrize("wrong", [True, "4", None, -0.1, float("nan")])
def test_a_constant_of_a_pace_is_a_number_from_nothing_up(wrong: object) -> None:
    whole = pace_of(AgeGroup.U16).to_json()
    with pytest.raises(ValueError, match="lead must be a number, 0 or more"):
        Pace.from_json({**whole, "lead": wrong})
    assert Pace.from_json({**whole, "lead": 0}).lead == 0.0


def test_what_is_missing_or_unknown_in_a_pace_is_named() -> None:
    whole = pace_of(AgeGroup.U16).to_json()
    without = {name: value for name, value in whole.items() if name != "lead"}
    with pytest.raises(ValueError, match="missing or unknown: lead, speed"):
        Pace.from_json({**without, "speed": 3.0})


@pytest.mark.parametrize("effort", [0.09, 1.01])
def test_an_effort_is_a_share(effort: float) -> None:
    with pytest.raises(ValueError, match="a share of the top speed"):
        pace_of(AgeGroup.ADULT, effort)
    assert pace_of(AgeGroup.ADULT, 0.1).effort == 0.1
    assert pace_of(AgeGroup.ADULT, 1.0).effort == 1.0


@pytest.mark.parametrize(
    ("way", "angle"),
    [
        (((0.0, 4.0), (0.0, 8.0)), 0.0),
        (((0.0, 4.0), (4.0, 4.0)), math.pi / 2),
        (((0.0, 4.0), (-3.0, 4.0)), math.pi / 2),
        (((0.0, 4.0), (0.0, 0.0)), math.pi),
        (((0.0, 4.0), (2.0, 6.0)), math.pi / 4),
        (((0.0, 4.0),), 0.0),  # who stands does not turn
    ],
)
def test_the_turn_into_the_next_run_is_the_angle_between_them(
    way: tuple[tuple[float, float], ...], angle: float
) -> None:
    before = path_through((Point(0.0, 0.0), Point(0.0, 4.0)))
    after = path_through(tuple(Point(*each) for each in way))
    assert turn_into(before, after) == pytest.approx(angle, abs=1e-9)
    stood = path_through((Point(0.0, 4.0),))
    assert turn_into(stood, after) == 0.0
