"""Curves against published values, svgpathtools 1.8 and shapely 2.2."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point
from svgpathtools import CubicBezier, Path

from shared.core.drawing.curves import (
    XY,
    Cubic,
    Curve,
    arc,
    distance,
    line,
    nearest,
    smooth,
    to_segment,
    turn,
)
from shared.core.drawing.wave import _room, wave
from tests.shared.core.drawing.shapes import simple

QUARTER = 0.5522847498307936  # 4 (sqrt 2 - 1) / 3

coordinates = st.integers(-8000, 8000).map(lambda mm: mm / 1000)
places = st.tuples(coordinates, coordinates)
waypoints = st.lists(places, min_size=2, max_size=6)


def reference(curve: Curve) -> Path:
    """The same curve in svgpathtools."""
    return Path(*(CubicBezier(*(complex(*point) for point in piece)) for piece in curve.pieces))


@pytest.mark.parametrize(
    ("piece", "length"),
    [
        # Computed with the packages bezier 2024.6 and svgpathtools 1.8, which agree.
        (Cubic((1, 0), (1, QUARTER), (QUARTER, 1), (0, 1)), 1.5710166980738558),
        (Cubic((0, 0), (1, 1), (2, 2), (3, 3)), 4.2426406871),
        (Cubic((0, 0), (0, 2), (3, 2), (3, 0)), 4.757472988963),
    ],
)
def test_length_of_a_piece_is_the_published_one(piece: Cubic, length: float) -> None:
    assert piece.length() == pytest.approx(length, rel=1e-6)
    assert Curve((piece,)).length == pytest.approx(length, rel=1e-7)


@given(waypoints)
def test_length_agrees_with_svgpathtools(points: list[XY]) -> None:
    curve = smooth(points)
    assume(curve.length > 0.1)
    assert curve.length == pytest.approx(reference(curve).length(error=1e-8), rel=1e-5, abs=1e-4)


@given(waypoints, st.floats(0.05, 0.95))
def test_place_and_part_agree_with_svgpathtools(points: list[XY], share: float) -> None:
    curve = smooth(points)
    assume(curve.length > 0.5)
    along = share * curve.length
    theirs = reference(curve)
    at = theirs.point(theirs.ilength(along, s_tol=1e-7))
    assert curve.place(along).at == pytest.approx((at.real, at.imag), abs=2e-4)
    first, second = curve.part(0, along), curve.part(along, curve.length)
    assert first.length == pytest.approx(along, abs=1e-4)
    assert first.end == pytest.approx(second.start, abs=1e-9)
    assert first.length + second.length == pytest.approx(curve.length, rel=1e-4)


def test_even_spacing_on_a_line_puts_handles_at_thirds() -> None:
    curve = smooth([(0, 0), (3, 0), (6, 0), (9, 0)])
    assert curve.pieces[1] == ((3, 0), (4, 0), (5, 0), (6, 0))


@given(waypoints)
def test_a_smooth_curve_meets_every_waypoint(points: list[XY]) -> None:
    curve = smooth(points)
    ends = [curve.start, *(piece.end for piece in curve.pieces)]
    for point in points:
        assert min(distance(point, end) for end in ends) < 1e-9


@given(waypoints)
def test_no_piece_has_a_loop_or_strays_from_its_chord(points: list[XY]) -> None:
    """The bound is measured, not proved: 100,000 random pieces strayed by 0.2 at most."""
    for piece in smooth(points).pieces:
        drawn = [piece.at(k / 40) for k in range(41)]
        chord = distance(piece.start, piece.end)
        assume(chord > 0.01)
        assert simple(drawn)
        strays = max(to_segment(point, piece.start, piece.end) for point in drawn)
        assert strays < 0.25 * chord


def test_a_plant_of_the_foot_is_a_corner() -> None:
    curve = smooth([(0, 0), (4, 0), (0.5, 1)])
    assert turn((0, 0), (4, 0), (0.5, 1)) > 100
    assert all(piece.even for piece in curve.pieces)


def test_a_curve_arrives_in_the_direction_asked_for() -> None:
    curve = smooth([(0, 0), (4, 0)], finish=(0.6, 0.8))
    assert curve.place(curve.length).way == pytest.approx((0.6, 0.8))
    assert curve.end == (4, 0)


def test_repeated_points_and_a_single_one() -> None:
    assert smooth([(1, 1), (1, 1)]).length == 0
    assert smooth([(0, 0), (0, 0), (2, 0)]).length == 2
    with pytest.raises(ValueError, match="needs a point"):
        smooth([])


def test_past_its_ends_a_curve_goes_on_straight() -> None:
    straight = line((0, 0), (10, 0))
    assert straight.place(-2).at == (-2, 0)
    assert straight.place(13).at == pytest.approx((13, 0))


@given(st.floats(-6, 6), st.floats(0.1, 6.2))
def test_an_arc_keeps_its_radius(begin: float, sweep: float) -> None:
    curve = arc((3, -2), 5, begin, begin + sweep)
    for piece in curve.pieces:
        for k in range(11):
            x, y = piece.at(k / 10)
            assert hypot(x - 3, y + 2) == pytest.approx(5, rel=2.8e-4)
    assert curve.length == pytest.approx(5 * sweep, rel=2e-4)


@given(waypoints)
def test_a_wave_swings_evenly_about_its_curve(points: list[XY]) -> None:
    curve = smooth([(40 * x, 40 * y) for x, y in points])
    assume(curve.length > 60)
    waved = wave(curve, 3.0, 9.5, 4.0)
    assert waved.start == pytest.approx(curve.start)
    assert waved.end == pytest.approx(curve.end)
    axis = LineString(curve.flatten(1.0))
    away = [Point(at).distance(axis) for at in waved.flatten(1.0)]
    assert max(away) < 3.3
    assert max(away) > 1.0


def test_a_wave_on_a_straight_line_has_whole_waves_of_full_height() -> None:
    waved = wave(line((0, 0), (100, 0)), 3.0, 9.5, 4.0)
    heights = [y for _, y in waved.flatten(0.2)]
    assert max(heights) == pytest.approx(3.0, abs=0.02)
    assert min(heights) == pytest.approx(-3.0, abs=0.02)
    crossings = [a * b < 0 for a, b in pairwise(y for y in heights if abs(y) > 0.01)]
    assert sum(crossings) == pytest.approx(2 * round(100 / 9.5), abs=1)
    quarter = waved.place(waved.length / 2)
    assert hypot(*quarter.way) == pytest.approx(1)


def test_a_wave_has_half_the_radius_from_its_first_crest_to_its_last() -> None:
    """On a circle of radius 5 the bend is the same everywhere."""
    bend, count = arc((0, 0), 5.0, 0, pi), 12
    step = bend.length / count
    places = [bend.place(k * step) for k in range(count + 1)]
    rooms = [_room(places, k, step) for k in range(1, count)]
    assert rooms == pytest.approx([2.5] * (count - 1), rel=0.05)


def test_a_wave_does_not_fold_on_a_tight_bend() -> None:
    bend = arc((0, 0), 5.0, 0, pi)
    waved = wave(Curve((*line((5, -40), (5, 0)).pieces, *bend.pieces)), 3.0, 9.5, 4.0)
    assert simple(waved.flatten(0.5))


def test_an_offset_of_a_curve_agrees_with_shapely() -> None:
    curve = smooth([(0, 0), (100, 0), (150, 60)])
    theirs = LineString(curve.flatten(0.1)).offset_curve(5)
    for k in range(1, 40):
        (x, y), (wx, wy) = curve.place(k / 40 * curve.length)
        assert Point(x - 5 * wy, y + 5 * wx).distance(theirs) < 0.02


@given(waypoints, places)
def test_distances_agree_with_shapely(points: list[XY], target: XY) -> None:
    assume(len(set(points)) > 1)
    index, gap = nearest(points, target)
    assert gap == pytest.approx(LineString(points).distance(Point(target)), abs=1e-9)
    a, b = points[index], points[index + 1]
    assert to_segment(target, a, b) == gap


@pytest.mark.parametrize(("length", "is_waved"), [(8.0, False), (7.9, False), (8.1, True)])
def test_a_curve_too_short_for_two_ramps_is_not_waved(length: float, is_waved: bool) -> None:
    """Two ramps of 4: up to 8 there is no room for a swing between them."""
    short = line((0, 0), (length, 0))
    assert (wave(short, 3.0, 9.5, 4.0) is not short) is is_waved


@pytest.mark.parametrize(
    ("length", "pitch", "waves"),
    [(40.0, 10.0, 4), (44.0, 10.0, 4), (46.0, 10.0, 5), (9.0, 50.0, 1)],
)
def test_a_wave_has_the_whole_number_of_swings_nearest_to_its_pitch(
    length: float, pitch: float, waves: int
) -> None:
    waved = wave(line((0, 0), (length, 0)), 3.0, pitch, 2.0)
    assert len(waved.pieces) == 4 * waves
    assert waved.pieces[0].end[1] > 0, "the first swing goes to the left of the way, y down"
    crossings = [piece.end for piece in waved.pieces[1::2]]
    assert [y for _, y in crossings] == pytest.approx([0.0] * len(crossings))


def test_no_point_is_no_curve_and_one_is_a_curve_without_length() -> None:
    with pytest.raises(ValueError, match=r"^a curve needs a point$"):
        smooth([])
    dot = smooth([(3, 4), (3, 4)])
    assert (dot.start, dot.end, dot.length) == ((3, 4), (3, 4), 0.0)


def test_the_way_at_a_handle_of_no_length_is_that_of_the_piece() -> None:
    """A cubic whose first handle lies on its start has no speed there (its derivative is 0)."""
    still = Curve((Cubic((0, 0), (0, 0), (10, 0), (10, 10)),))
    assert still.place(0.0).way == pytest.approx((0.5**0.5, 0.5**0.5))
    assert still.place(still.length).way == pytest.approx((0.0, 1.0))
