"""The drawn court against the numbers of the rule books, read back from the shapes.

FIBA Official Basketball Rules 2022, art. 2; NFHS Rules Book 2025-26, rule 1; NCAA court
diagram of 2019; NBA Official Rules, rule 1. Sources and flags stand in plays/core/court/courts.py.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from shapely.geometry import MultiLineString, Point
from shapely.geometry.base import BaseGeometry

from plays.core.court.courts import COURTS, Court
from plays.core.drawing.court_lines import court_shapes
from plays.core.drawing.frame import MARGIN, Frame
from plays.core.play import RuleSet
from shared.core.drawing.picture import Box, Circle, Path
from tests.shared.core.drawing.shapes import runs

EVERY = pytest.mark.parametrize("court", COURTS.values(), ids=lambda court: court.rule_set.value)
SCALE = 100.0  # points a metre: a centimetre is a point


def whole(court: Court) -> Frame:
    side = court.half_width + MARGIN
    return Frame(-side, -MARGIN, 2 * side, court.length + 2 * MARGIN, SCALE)


def lines(court: Court) -> MultiLineString:
    """The middle of every painted line, in metres on the court."""
    frame = whole(court)
    path = next(s for s in court_shapes(court, frame).shapes if isinstance(s, Path))
    parts = [
        [(x / SCALE + frame.left, y / SCALE + frame.top) for x, y in run]
        for run in runs(path.steps)
    ]
    return MultiLineString(parts)


def painted(court: Court) -> BaseGeometry:
    return lines(court).buffer(court.line_width / 2, cap_style="flat", join_style="mitre")


def edge(area: BaseGeometry, inside: tuple[float, float], outside: tuple[float, float]) -> float:
    """How far from ``inside`` paint begins on the way to ``outside``."""
    way = MultiLineString([[inside, outside]]).intersection(area)
    return float(way.distance(Point(inside)))


@EVERY
def test_lines_lie_where_the_book_measures_them(court: Court) -> None:
    paint, width = painted(court), court.line_width
    assert edge(paint, (0, court.half_y - 3.0), (9, court.half_y - 3.0)) == pytest.approx(
        court.half_width, abs=0.002
    )  # the inner edge of the sideline
    lane_y = court.free_throw_y - 0.4
    assert edge(paint, (0, lane_y), (3.5, lane_y)) == pytest.approx(
        court.lane_half_width - width, abs=0.002
    )  # the lane is measured to its outer edge
    assert edge(paint, (0, 4.4), (0, 6)) == pytest.approx(
        court.free_throw_y - width - 4.4, abs=0.002
    )
    corner_y = 0.4
    start = court.half_width - 0.05
    assert edge(paint, (start, corner_y), (3, corner_y)) == pytest.approx(
        start - court.corner_x, abs=0.002
    )  # the three-point line is measured to its outer edge


@EVERY
def test_the_three_point_arc_keeps_its_radius(court: Court) -> None:
    """On every ray from the basket paint ends at the radius that the book gives."""
    paint = painted(court)
    for share in (-0.5, -0.2, 0.0, 0.3, 0.6):
        x = share * court.corner_x
        y = (court.arc_radius**2 - x * x) ** 0.5
        for reach, inside in ((0.999, True), (1.001, False)):
            place = Point(reach * x, court.basket.y + reach * y)
            assert paint.covers(place) is inside


def test_fiba_throw_in_mark_is_level_with_the_top_of_the_arc() -> None:
    """FIBA 2.5.6 and 2.5.4: 1.575 + 6.75 = 8.325."""
    court = COURTS[RuleSet.FIBA]
    mark = [p for p in lines(court).geoms if p.bounds[0] > court.half_width]
    heights = [
        p.bounds[1] for p in mark if p.bounds[1] == p.bounds[3] and p.bounds[1] < court.half_y
    ]
    assert heights == pytest.approx([1.575 + 6.75])
    assert max(p.bounds[2] for p in mark) == pytest.approx(7.7)


@EVERY
def test_both_ends_are_the_same_turned_by_half(court: Court) -> None:
    drawn = lines(court)
    turned = MultiLineString(
        [[(-x, court.length - y) for x, y in part.coords] for part in drawn.geoms]
    )
    assert drawn.hausdorff_distance(turned) < 1e-6


@EVERY
def test_board_and_ring_of_each_end(court: Court) -> None:
    frame = whole(court)
    rings = [s for s in court_shapes(court, frame).shapes if isinstance(s, Circle)]
    centers = [(c.center[0] / SCALE + frame.left, c.center[1] / SCALE + frame.top) for c in rings]
    assert [x for x, _ in centers] == pytest.approx([0, 0], abs=1e-9)
    assert [y for _, y in centers] == pytest.approx([court.basket.y, court.length - court.basket.y])
    assert all(c.radius / SCALE == pytest.approx(court.ring_radius) for c in rings)


@EVERY
def test_the_lane_is_tinted_to_its_edges(court: Court) -> None:
    tints = [s for s in court_shapes(court, whole(court)).shapes if isinstance(s, Box)][1:]
    assert len(tints) == 2
    for tint in tints:
        assert tint.width / SCALE == pytest.approx(2 * court.lane_half_width)
        assert tint.height / SCALE == pytest.approx(court.free_throw_y)


def test_no_line_is_drawn_twice_in_a_row() -> None:
    for court in COURTS.values():
        for part in lines(court).geoms:
            assert all(a != b for a, b in pairwise(part.coords))
