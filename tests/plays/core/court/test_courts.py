"""The courts held against the rule books, by article, and against each other.

V: read in a copy or translation of the book; C: arithmetic on such numbers; M: from memory.
Feet and inches are turned into metres here with 0.3048 m to the foot, exact since 1959.
"""

from dataclasses import replace
from math import atan2, degrees, hypot

import pytest

from plays.core.court.courts import BEHIND_LINE, COURTS, Court, court, feet
from plays.core.play import Point, RuleSet, Spot

FOOT = 0.3048
ALL = tuple(COURTS.values())

# (rule set, field, metres or feet as printed, where)
FIBA_2022 = [
    ("length", 28.0, "2.1 V"),
    ("half_width", 15 / 2, "2.1 V"),
    ("board_y", 1.20, "2.5.7 V"),
    ("lane_half_width", 4.90 / 2, "2.5.3 V"),
    ("free_throw_y", 5.80, "2.5.3 V"),
    ("circle_radius", 3.60 / 2, "2.5.3 V: half the free-throw line"),
    ("centre_circle_radius", 1.80, "2.5.2 V, article M"),
    ("arc_radius", 6.75, "2.5.4 V"),
    ("corner_x", 7.5 - 0.90, "2.5.4 V"),
    ("restricted_radius", 1.25, "2.5.7 V"),
    ("restricted_from_y", 1.20, "2.5.7 V"),
    ("throw_in_y", 8.325, "2.5.6 V"),
    ("line_width", 0.05, "2.5 V"),
    ("ring_radius", 0.45 / 2, "V, secondary"),
    ("ring_height", 3.05, "V, secondary"),
]
NFHS_2025 = [
    ("half_width", 50 / 2, "1-1 V"),
    ("board_y", 4, "1-8-1 V"),
    ("lane_half_width", 12 / 2, "1-5 V"),
    ("free_throw_y", 4 + 15, "1-6 V and C"),
    ("circle_radius", 6, "1-6 V"),
    ("centre_circle_radius", 6, "1-3 V"),
    ("arc_radius", 19.75, "1-4 V"),
    ("corner_x", 19.75, "1-4 C: tangent"),
    ("throw_in_y", 28, "7-5-3 V"),
    ("end_line_spot_x", 6 + 3, "7-5-3 V: 3 ft outside the lane line"),
    ("line_width", 2 / 12, "1-2 V"),
    ("ring_height", 10, "1-11 V"),
]
NCAA_2019 = [
    ("length", 94, "V"),
    ("half_width", 25, "V"),
    ("lane_half_width", 6, "V"),
    ("free_throw_y", 19, "V"),
    ("circle_radius", 6, "V"),
    ("arc_radius", 22 + 1.75 / 12, "V: 22 ft 1 3/4 in"),
    ("corner_x", 25 - 40.125 / 12, "V: 40 1/8 in from the sideline"),
    ("restricted_radius", 4, "V"),
    ("throw_in_y", 28, "V"),
    ("line_width", 2 / 12, "V"),
]
NBA_2025 = [
    ("length", 94, "Rule 1 V"),
    ("half_width", 25, "Rule 1 V"),
    ("lane_half_width", 16 / 2, "Rule 10-VII V"),
    ("free_throw_y", 4 + 15, "Rule 1 V and C"),
    ("circle_radius", 6, "Rule 1 M"),
    ("centre_circle_radius", 6, "Rule 1 M"),
    ("arc_radius", 23.75, "Rule 1 V"),
    ("corner_x", 25 - 3, "Rule 1 V"),
    ("restricted_radius", 4, "Rule 1 V"),
    ("throw_in_y", 28, "Rule 1 V"),
    ("end_line_spot_x", 8 + 3, "Rule 1 V: baseline marks 3 ft from the lane line"),
    ("line_width", 2 / 12, "Rule 1 V"),
]
WNBA_UNREAD = [
    ("length", 94, "M"),
    ("lane_half_width", 8, "V: league announcement of 17 December 2003"),
    ("arc_radius", 22 + 1.75 / 12, "V, secondary"),
    ("corner_x", 22, "V, secondary; other pages print 21 ft 8 in"),
    ("throw_in_y", 28, "V: an older Rule 1"),
]


def _in_feet(rule_set: RuleSet, rows: list[tuple[str, float, str]]) -> list[object]:
    return [(rule_set, field, number * FOOT, where) for field, number, where in rows]


BOOKS = [
    *((RuleSet.FIBA, field, number, where) for field, number, where in FIBA_2022),
    *_in_feet(RuleSet.NFHS, [*NFHS_2025, ("length", 84, "1-1 V: ideal for high schools")]),
    *_in_feet(RuleSet.NFHS_94, [*NFHS_2025, ("length", 94, "1-1 V: not greater than")]),
    *_in_feet(RuleSet.NCAA, NCAA_2019),
    *_in_feet(RuleSet.NBA, NBA_2025),
    *_in_feet(RuleSet.WNBA, WNBA_UNREAD),
]


@pytest.mark.parametrize(("rule_set", "field", "metres", "where"), BOOKS)
def test_number_of_the_book(rule_set: RuleSet, field: str, metres: float, where: str) -> None:
    assert getattr(court(rule_set), field) == pytest.approx(metres, abs=1e-9), where


def test_no_restricted_area_in_the_high_school_book() -> None:
    assert court(RuleSet.NFHS).restricted_radius is None  # NFHS 2025-26, V by absence


def test_feet_are_exact() -> None:
    assert feet(19, 9) == 6.0198
    assert feet(94) == 28.6512
    assert feet(5, 3) == 1.6002


def test_every_rule_set_has_a_court_and_an_edition() -> None:
    assert set(COURTS) == set(RuleSet)
    assert all(one.edition and one.rule_set is rule_set for rule_set, one in COURTS.items())


def test_fiba_identities() -> None:
    fiba = court(RuleSet.FIBA)
    # 1.20 + 0.15 + 0.225: board, gap, radius of the ring (FIBA 2022, 2.5.4, C)
    assert fiba.basket.y == pytest.approx(fiba.board_y + 0.15 + fiba.ring_radius)
    # the throw-in line is level with the top of the arc (2.5.4 and 2.5.6, C)
    assert fiba.throw_in_y == pytest.approx(fiba.arc_top_y)
    assert fiba.arc_join_y == pytest.approx(2.990, abs=0.0005)
    assert fiba.free_throw_y - fiba.board_y == pytest.approx(4.60)


def test_foot_courts_identities() -> None:
    # 4 ft to the board, 6 in to the ring, 9 in to its middle (NFHS 1-4 and 1-11; NBA Rule 1, C)
    for one in ALL:
        if one.rule_set is not RuleSet.FIBA:
            assert one.basket.y == pytest.approx((4 + 0.5 + 0.75) * FOOT)
            assert one.free_throw_y - one.board_y == pytest.approx(15 * FOOT)


@pytest.mark.parametrize(
    ("rule_set", "join_feet", "tolerance_feet"),
    [
        (RuleSet.NFHS, 5.25, 1e-6),  # V: 63 in
        (RuleSet.NCAA, 9.881, 0.0005),  # C
        (RuleSet.NCAA, 9 + 10.375 / 12, 0.02),  # V: the diagram prints 9 ft 10 3/8 in
        (RuleSet.NBA, 14.198, 0.0005),  # C; commonly printed as 14 ft
        (RuleSet.WNBA, 7.787, 0.0005),  # C
    ],
)
def test_where_the_straight_part_ends(
    rule_set: RuleSet, join_feet: float, tolerance_feet: float
) -> None:
    assert court(rule_set).arc_join_y / FOOT == pytest.approx(join_feet, abs=tolerance_feet)


def test_angle_of_the_nba_join() -> None:
    nba = court(RuleSet.NBA)
    rise = nba.arc_join_y - nba.basket.y
    angle = degrees(atan2(rise, nba.corner_x))
    assert angle == pytest.approx(22.13, abs=0.005)  # C


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_the_join_lies_on_the_arc(one: Court) -> None:
    assert hypot(one.corner_x, one.arc_join_y - one.basket.y) == pytest.approx(one.arc_radius)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_inside_the_lines(one: Court) -> None:
    assert one.contains(Point(one.half_width, 0))
    assert one.contains(Point(-one.half_width, one.length))
    assert not one.contains(Point(one.half_width + 0.001, 5))
    assert not one.contains(Point(0, -0.001))
    assert not one.contains(Point(0, one.length + 0.001))
    assert not one.contains(Point(0, 0.2), margin=0.25)


def test_in_the_lane() -> None:
    nba = court(RuleSet.NBA)
    assert nba.in_lane(Point(8 * FOOT, 19 * FOOT))  # its lines belong to it, NBA Rule 1 V
    assert not nba.in_lane(Point(8 * FOOT + 0.01, 3))
    assert not nba.in_lane(Point(0, 6))
    assert not nba.in_lane(Point(0, -0.1))


def test_the_thrower_stands_behind_the_line() -> None:
    fiba = court(RuleSet.FIBA)
    left = Spot("sideline", "left", 8.325)
    assert fiba.spot_place(left) == Point(-7.5 - BEHIND_LINE, 8.325)
    right = Spot("baseline", "right", 3.0)
    assert fiba.spot_place(right) == Point(3.0, -BEHIND_LINE)
    assert fiba.spot_place(Spot("baseline", "left", 3.0)) == Point(-3.0, -BEHIND_LINE)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_behind_the_own_basket_the_thrower_stands_behind_the_other_line(one: Court) -> None:
    spot = Spot("baseline", "left", 2.0, far=True)
    assert one.spot_place(spot) == Point(-2.0, one.length + BEHIND_LINE)
    assert one.spot_place(spot).y - one.spot_place(replace(spot, far=False)).y == (
        pytest.approx(one.length + 2 * BEHIND_LINE)
    )


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_landmarks_stand_in_order(one: Court) -> None:
    up = (0.0, one.board_y, one.basket.y, one.free_throw_y, one.arc_top_y, one.half_y)
    assert list(up) == sorted(set(up))
    across = (0.0, one.ring_radius, one.lane_half_width, one.corner_x, one.half_width)
    assert list(across) == sorted(set(across))
    assert one.basket.y < one.block[0] < one.block[1] < one.free_throw_y
