"""From court to court by landmarks: what must hold for every pair of rule sets.

Whether a place is inside the three-point line is asked of shapely here, on an outline built
from the rule books' own numbers (see test_courts for book and article).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import dist, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon, box

from plays.core.court.courts import COURTS, Court, court
from plays.core.court.spots import named_spots, nearest
from plays.core.document.file import content_hash, read_play, write_play
from plays.core.moves.moves import mirror
from plays.core.moves.origins import step_words, steps
from plays.core.moves.other_court import SAME_PLACE, beside_names, map_point, on_court
from plays.core.play import Origin, Play, Point, RuleSet, Spot, Start
from shared.core.language import ENGLISH
from tests.plays.core import random_plays
from tests.plays.core.court.arcs import beyond_arc
from tests.plays.core.moves.test_moves import PLAY

FOOT = 0.3048
ALL = tuple(COURTS.values())
FIBA, NFHS, NBA = (court(one) for one in (RuleSet.FIBA, RuleSet.NFHS, RuleSet.NBA))
courts = st.sampled_from(ALL)
across = st.floats(-7.5, 7.5)
up = st.floats(0, 12.8)
tiny = st.floats(-1e-6, 1e-6)

# radius, straight part from the middle, half width: metres, from the books
THREE_POINT_LINE = {
    RuleSet.FIBA: (6.75, 6.60, 1.575),
    RuleSet.NFHS: (19.75 * FOOT, 19.75 * FOOT, 5.25 * FOOT),
    RuleSet.NFHS_94: (19.75 * FOOT, 19.75 * FOOT, 5.25 * FOOT),
    RuleSet.NCAA: ((22 + 1.75 / 12) * FOOT, (25 - 40.125 / 12) * FOOT, 5.25 * FOOT),
    RuleSet.NBA: (23.75 * FOOT, 22 * FOOT, 5.25 * FOOT),
    RuleSet.WNBA: ((22 + 1.75 / 12) * FOOT, 22 * FOOT, 5.25 * FOOT),
}
NEAR_LINE = 0.003  # the outline is a polygon: so near to the line it does not decide


@cache
def two_point_area(rule_set: RuleSet) -> Polygon:
    radius, straight, basket = THREE_POINT_LINE[rule_set]
    disc = ShapelyPoint(0, basket).buffer(radius, quad_segs=256)
    join = basket + sqrt(max(0.0, radius**2 - straight**2))
    low = box(-straight, -1, straight, join)
    return disc.intersection(box(-straight, join, straight, 20)).union(low)


@given(courts, courts, across, up)
def test_inside_the_arc_stays_inside_and_outside_stays_outside(
    a: Court, b: Court, x: float, y: float
) -> None:
    here = ShapelyPoint(x, y)
    there = ShapelyPoint(*map_point(a, b, Point(x, y)))
    before, after = two_point_area(a.rule_set), two_point_area(b.rule_set)
    if min(before.exterior.distance(here), after.exterior.distance(there)) > NEAR_LINE:
        assert before.contains(here) is after.contains(there)


@given(courts, courts, st.floats(-9, 9), st.floats(-1, 30))
def test_inside_the_lines_stays_inside(a: Court, b: Court, x: float, y: float) -> None:
    point = Point(x, y)
    if a.contains(point, margin=1e-9):
        assert b.contains(map_point(a, b, point))
    elif not a.contains(point, margin=-1e-9):
        assert not b.contains(map_point(a, b, point))


@given(courts, courts, across, up)
def test_in_the_lane_stays_in_the_lane(a: Court, b: Court, x: float, y: float) -> None:
    near_line = abs(abs(x) - a.lane_half_width) < 1e-9 or abs(y - a.free_throw_y) < 1e-9
    if not near_line:
        assert a.in_lane(Point(x, y)) is b.in_lane(map_point(a, b, Point(x, y)))


@given(courts, courts, st.floats(-9, 9), st.floats(-1, 30))
def test_there_and_back_is_the_identity(a: Court, b: Court, x: float, y: float) -> None:
    back = map_point(b, a, map_point(a, b, Point(x, y)))
    assert back == pytest.approx((x, y), abs=1e-6)


@given(courts, courts, courts, across, up)
def test_two_maps_in_a_row_are_one(a: Court, b: Court, c: Court, x: float, y: float) -> None:
    over_b = map_point(b, c, map_point(a, b, Point(x, y)))
    assert over_b == pytest.approx(map_point(a, c, Point(x, y)), abs=1e-6)


@given(courts, courts, st.lists(across, min_size=2, max_size=6, unique=True), up)
def test_people_in_a_row_keep_their_order(a: Court, b: Court, xs: list[float], y: float) -> None:
    mapped = [map_point(a, b, Point(x, y)).x for x in sorted(xs)]
    assert all(one <= next_one + 1e-12 for one, next_one in pairwise(mapped))


@given(courts, courts, across, st.lists(up, min_size=2, max_size=6, unique=True))
def test_people_in_a_file_keep_their_order(a: Court, b: Court, x: float, ys: list[float]) -> None:
    mapped = [map_point(a, b, Point(x, y)).y for y in sorted(ys)]
    assert all(one <= next_one + 1e-12 for one, next_one in pairwise(mapped))


@pytest.mark.parametrize("a", ALL, ids=lambda one: one.rule_set)
@pytest.mark.parametrize("b", ALL, ids=lambda one: one.rule_set)
def test_the_map_is_strictly_monotone_on_a_fine_grid(a: Court, b: Court) -> None:
    xs = [index * a.half_width / 40 for index in range(41)]
    ys = [index * a.half_y / 40 for index in range(41)]
    for y in ys:
        row = [map_point(a, b, Point(x, y)).x for x in xs]
        assert all(next_one - one > 0.05 for one, next_one in pairwise(row))
    for x in xs:
        file = [map_point(a, b, Point(x, y)).y for y in ys]
        assert all(next_one - one > 0.1 for one, next_one in pairwise(file))


@given(courts, courts, st.tuples(across, st.floats(0, 28)), st.tuples(tiny, tiny))
@settings(max_examples=300)  # half a second in all, and few places lie beside a line
def test_the_map_is_continuous(
    a: Court, b: Court, place: tuple[float, float], step: tuple[float, float]
) -> None:
    # At the top of the arc the step goes with the root of the distance: the arc is flat there.
    here = map_point(a, b, Point(*place))
    beside = map_point(a, b, Point(place[0] + step[0], place[1] + step[1]))
    assert dist(here, beside) < 4 * sqrt(2e-6)


def test_the_map_is_continuous_about_the_top_of_the_arc() -> None:
    for a in ALL:
        for b in ALL:
            top = map_point(a, b, Point(0.0, a.arc_top_y))
            for dx, dy in ((1e-8, 0), (-1e-8, 0), (0, 1e-8), (0, -1e-8), (-1e-8, 1e-8)):
                beside = map_point(a, b, Point(dx, a.arc_top_y + dy))
                assert dist(top, beside) < 1e-3


@given(courts, courts, across, st.floats(0, 28))
def test_the_map_knows_no_side(a: Court, b: Court, x: float, y: float) -> None:
    one, other = map_point(a, b, Point(x, y)), map_point(a, b, Point(-x, y))
    assert other == Point(-one.x, one.y)


@given(courts, courts, st.floats(0, 1), st.floats(0, 1))
def test_corners_stay_corners(a: Court, b: Court, out: float, deep: float) -> None:
    """A corner: outside the straight part, no farther up than the basket."""
    x = a.corner_x + out * (a.half_width - a.corner_x)
    mapped = map_point(a, b, Point(x, deep * a.basket.y))
    assert b.corner_x - 1e-9 <= mapped.x <= b.half_width + 1e-9
    assert -1e-9 <= mapped.y <= b.basket.y + 1e-9


@given(courts, courts, st.floats(0, 1))
def test_blocks_stay_blocks(a: Court, b: Court, share: float) -> None:
    y = a.block[0] + share * (a.block[1] - a.block[0])
    mapped = map_point(a, b, Point(a.lane_half_width, y))
    assert mapped.x == pytest.approx(b.lane_half_width)
    assert b.block[0] - 1e-9 <= mapped.y <= b.block[1] + 1e-9


@pytest.mark.parametrize("a", ALL, ids=lambda one: one.rule_set)
@pytest.mark.parametrize("b", ALL, ids=lambda one: one.rule_set)
def test_landmarks_go_to_landmarks(a: Court, b: Court) -> None:
    def landmarks(one: Court) -> list[Point]:
        wing = sqrt(one.arc_radius**2 - (one.free_throw_y - one.basket.y) ** 2)
        return [
            one.basket,
            Point(0, one.free_throw_y),
            Point(one.lane_half_width, one.free_throw_y),
            Point(one.corner_x, 0),
            Point(one.half_width, 0),
            Point(wing, one.free_throw_y),
            Point(0, one.arc_top_y),
            Point(one.half_width, one.throw_in_y),
            Point(one.half_width + 0.3, one.throw_in_y),
            Point(0, one.half_y),
            Point(0, one.length - one.free_throw_y),
            Point(-one.half_width, one.length),
        ]

    for here, there in zip(landmarks(a), landmarks(b), strict=True):
        assert map_point(a, b, here) == pytest.approx(there, abs=1e-9)


def test_it_is_no_plain_scaling() -> None:
    # Outside the high-school corner line of 19 ft 9 in; scaled by the widths of the courts the
    # shooter would stand 0.6 m inside the FIBA corner line of 6.60 m.
    shooter = Point(19.75 * FOOT + 0.05, 1.0)
    assert shooter.x * 15 / (50 * FOOT) < 6.60 - 0.55
    assert map_point(NFHS, FIBA, shooter).x > 6.60
    post = map_point(FIBA, NFHS, Point(2.45, 4.0))  # on the lane line: 12 ft wide, not 4.90 m
    assert post.x == pytest.approx(6 * FOOT)


def test_a_play_on_another_court() -> None:
    moved = on_court(PLAY, RuleSet.NFHS)
    assert moved.court is RuleSet.NFHS
    assert moved.spot == Spot("sideline", "right", 8.534)  # from mark to mark: 28 ft, 7-5-3
    assert moved.start_of("1") == Point(7.92, 8.534)
    assert moved.start_of("5") == named_spots(NFHS)["nail"]
    assert moved.counters[0].add[0].path == (named_spots(NFHS)["right_block"],)
    assert beyond_arc(NFHS, moved.phases[0].actions[0].path[0])
    assert moved.origin == Origin(content_hash(PLAY), "court FIBA NFHS")
    assert step_words(steps(moved)[0], ENGLISH) == "carried from the FIBA court to the NFHS court"
    assert read_play(write_play(moved)) == moved
    assert on_court(PLAY, RuleSet.FIBA) is PLAY


def test_people_at_named_places_stay_there_by_name() -> None:
    for a in ALL:
        for b in ALL:
            places = tuple(Start("2", place) for place in named_spots(a).values())
            moved = on_court(replace(PLAY, court=a.rule_set, spot=None, starts=places), b.rule_set)
            assert tuple(start.at for start in moved.starts) == tuple(named_spots(b).values())


@pytest.mark.parametrize(
    ("rule_set", "along"),
    [
        (RuleSet.NFHS, 9 * FOOT),  # 7-5-3 V: 3 ft outside the lane line
        (RuleSet.NBA, 11 * FOOT),  # Rule 1 V: baseline marks
    ],
)
def test_a_baseline_throw_in_goes_from_place_to_place(rule_set: RuleSet, along: float) -> None:
    spot = Spot("baseline", "left", 3.364)
    play = replace(PLAY, spot=spot, starts=(Start("1", FIBA.spot_place(spot)),))
    moved = on_court(play, rule_set)
    assert moved.spot is not None
    assert moved.spot.along == pytest.approx(along, abs=0.0005)
    assert moved.start_of("1") == Point(-moved.spot.along, -0.3)
    corner = on_court(replace(play, spot=Spot("baseline", "left", 7.0)), rule_set)
    assert corner.spot is not None
    assert corner.spot.along > court(rule_set).corner_x


def test_a_throw_in_from_the_own_baseline_stays_behind_it() -> None:
    spot = Spot("baseline", "left", 3.364, far=True)
    play = replace(PLAY, spot=spot, starts=(Start("1", FIBA.spot_place(spot)),))
    moved = on_court(play, RuleSet.NFHS)
    assert moved.spot == Spot("baseline", "left", 2.743, far=True)  # 9 ft, 7-5-3
    assert moved.start_of("1") == Point(-2.743, 25.903)  # 84 ft and 0.3 m


def test_a_wing_is_still_called_a_wing() -> None:
    for key in ("left_wing", "right_elbow", "left_block", "right_corner", "top", "left_hash"):
        mapped = map_point(FIBA, NBA, named_spots(FIBA)[key])
        assert nearest(NBA, mapped).key == key


@given(random_plays.plays(st.none() | random_plays.spots), st.sampled_from(list(RuleSet)))
def test_any_play_goes_to_any_court_and_back(play: Play, rule_set: RuleSet) -> None:
    home = replace(play, court=RuleSet.FIBA)
    back = on_court(on_court(home, rule_set), RuleSet.FIBA)
    for start, again in zip(home.starts, back.starts, strict=True):
        assert dist(start.at, again.at) < SAME_PLACE + 0.005
    if home.spot is not None and back.spot is not None:
        assert abs(home.spot.along - back.spot.along) < SAME_PLACE + 0.005


@given(random_plays.plays(st.none() | random_plays.spots), st.sampled_from(list(RuleSet)))
def test_the_map_swaps_with_the_mirror(play: Play, rule_set: RuleSet) -> None:
    one, other = mirror(on_court(play, rule_set)), on_court(mirror(play), rule_set)
    assert replace(one, origin=None) == replace(other, origin=None)


@pytest.mark.parametrize("far", [0.0, 0.03, 0.049])
@pytest.mark.parametrize("there", [one for one in RuleSet if one is not RuleSet.FIBA])
def test_a_person_within_five_centimetres_of_a_named_place_is_at_it(
    far: float, there: RuleSet
) -> None:
    """Half the width of a line, 5 cm in FIBA 2.4: nobody draws or stands finer than that."""
    for key, place in named_spots(FIBA).items():
        moved = on_court(_with_start(Point(place.x + far, place.y)), there)
        at = moved.starts[4].at
        assert dist(at, named_spots(court(there))[key]) < 0.001, key


@pytest.mark.parametrize("far", [0.055, 0.08])
def test_a_person_further_than_that_stands_beside_it(far: float) -> None:
    for place in named_spots(FIBA).values():
        if abs(place.x) < 4.0 and 1.5 < place.y < 8.0:
            at = on_court(_with_start(Point(place.x + far, place.y)), RuleSet.NBA).starts[4].at
            assert min(dist(at, other) for other in named_spots(NBA).values()) > 0.0505


def _with_start(at: Point) -> Play:
    starts = (*PLAY.starts[:4], Start("5", at))
    return replace(PLAY, court=RuleSet.FIBA, starts=starts)


@pytest.mark.parametrize("away", [(0.0, 0.0), (0.03, 0.0), (0.0, -0.04), (-0.02, 0.02)])
def test_a_place_without_a_name_does_not_come_to_lie_on_one_that_has_a_name(
    away: tuple[float, float],
) -> None:
    """What maps within 5 cm of a name stands 5.1 cm beside it, on the side where it lay."""
    name, place = next(iter(named_spots(NBA).items()))
    found = beside_names(NBA, Point(place.x + away[0], place.y + away[1]))
    assert dist(found, place) == pytest.approx(0.051, abs=1e-9), name
    length = sqrt(away[0] ** 2 + away[1] ** 2)
    right, up = (away[0] / length, away[1] / length) if length else (0.0, 1.0)
    assert dist(found, (place.x + 0.051 * right, place.y + 0.051 * up)) < 1e-9


def test_a_place_far_from_every_name_stays() -> None:
    place = next(iter(named_spots(NBA).values()))
    far = Point(place.x + 0.051, place.y)
    assert beside_names(NBA, far) == far
