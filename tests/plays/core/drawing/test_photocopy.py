"""What is left of a picture after a copier that knows only black and white.

The page is drawn at 300 dots per inch in the colours of print, blurred and cut at one level: 128 is
the middle of the scale, 112 a copier set a little light. The blur is a Gaussian of one dot, 0.2 mm
wide at half its height (ours, all three: no standard says how a copier sees or where it cuts).
"""

from __future__ import annotations

from functools import cache
from itertools import groupby

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageFilter
from shapely import get_coordinates, intersects_xy, line_interpolate_point
from shapely.geometry import LineString, MultiLineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import ROLES, Phase
from shared.core.drawing.picture import Paint, Path, Picture
from shared.core.drawing.png import image_of
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.diagram_parts import ALL, action, circle_of, pictures
from tests.plays.core.samples import throw, thrown_in
from tests.shared.core.drawing.shapes import groups, inked, parts, runs

SCALE = 300 / 72
PAPER = 252.0
LEVELS = (112, 128)
SHOWN = {
    "plain": Drawing(scheme="print", width=PAPER),
    "fifth": Drawing("5", scheme="print", width=PAPER),
    "action": Drawing("5", scheme="print", width=PAPER, crop="action"),
}
BLUR = 1.0  # dots
GAP = 3  # dots of 0.085 mm: a break that the eye closes; ours


Copy = NDArray[np.bool_]
Points = NDArray[np.float64]  # (points, 2)


@cache
def drawn(n: int, shown: str) -> list[Picture]:
    return pictures(ALL[n], SHOWN[shown])


@cache
def seen(n: int, shown: str, number: int) -> tuple[Picture, NDArray[np.uint8]]:
    """A picture of a play in one of the drawings, and its page as grey as the copier sees it."""
    picture = drawn(n, shown)[number]
    grey = image_of(picture, 4).convert("L")
    size = round(picture.width * SCALE), round(picture.height * SCALE)
    page = grey.resize(size, Image.Resampling.BOX).filter(ImageFilter.GaussianBlur(BLUR))
    return picture, np.asarray(page)


def copied(page: NDArray[np.uint8], level: int) -> Copy:
    """True where the copy is black, or black beside it; without the outermost dots."""
    black = page < level
    high, wide = black.shape
    beside = [black[y : high - 2 + y, x : wide - 2 + x] for y in range(3) for x in range(3)]
    return np.asarray(np.any(beside, axis=0))


def black_at(copy: Copy, points: Points) -> Copy:
    """Of places on a line which are black, or have black beside them."""
    column, row = (points * SCALE).astype(int).T - 1
    inside = (column >= 0) & (row >= 0) & (column < copy.shape[1]) & (row < copy.shape[0])
    return np.asarray(copy[row[inside], column[inside]])


def black_along(copy: Copy, points: Points) -> float:
    """The share of places on a line that are black, or have black beside them."""
    hits = black_at(copy, points)
    return float(np.mean(hits)) if len(hits) else 1.0


def longest_break(copy: Copy, line: LineString) -> int:
    """The most dots in a row on a line that are white, and so is what is beside them."""
    hits = black_at(copy, places_along(line, 1 / SCALE))
    return max((len(list(same)) for black, same in groupby(hits) if not black), default=0)


def places_along(line: LineString, step: float) -> Points:
    places = line_interpolate_point(line, np.arange(0, line.length, step))
    return np.asarray(get_coordinates(places), dtype=np.float64)


def places_on(path: Path, step: float, hidden: BaseGeometry) -> Points:
    """Places so far apart on a path, without those that something hides."""
    lines = [LineString(run) for run in runs(path.steps)]
    found = np.concatenate([places_along(line, step) for line in lines])
    return np.asarray(found[~intersects_xy(hidden, found)])


def share_of(paint: Paint) -> float:
    """How much of a line is ink: all of it, or the dashes."""
    if paint.dash is None:
        return 0.95  # the very end of a bar may fall between two dots
    dash, gap = paint.dash
    return 0.8 * max(dash, paint.width if paint.round else 0) / (dash + gap)


@pytest.mark.parametrize("n", range(len(ALL)), ids=[play.key for play in ALL])
@pytest.mark.parametrize("level", LEVELS)
def test_every_path_is_left(level: int, n: int) -> None:
    for number in range(min(3, len(drawn(n, "action")))):
        picture, page = seen(n, "action", number)
        copy = copied(page, level)
        people = unary_union([inked(each) for each in parts(picture, "person")])
        for group in groups(picture, "action"):
            for path in (shape for shape in group.shapes if isinstance(shape, Path)):
                if path.paint.stroke is not None:
                    points = places_on(path, 0.5, people)
                    assert black_along(copy, points) > share_of(path.paint)


@pytest.mark.parametrize("level", LEVELS)
def test_the_lines_of_the_court_are_left(level: int) -> None:
    for n in range(len(DEMO)):
        picture, page = seen(n, "plain", 0)
        copy = copied(page, level)
        over = [each for part in ("person", "label") for each in parts(picture, part)]
        hidden = unary_union([inked(each) for each in over]).buffer(1)
        for path in parts(picture, "court")[0].shapes:
            if isinstance(path, Path):
                assert black_along(copy, places_on(path, 0.5, hidden)) > 0.98
                shown = [LineString(run).difference(hidden) for run in runs(path.steps)]
                for line in (piece for each in shown for piece in pieces_of(each)):
                    assert longest_break(copy, line) <= GAP


@pytest.mark.parametrize("level", LEVELS)
def test_no_path_of_others_is_broken(level: int) -> None:
    """Where one role's part is heavy, what the others run is light; dashes have their gaps."""
    for n, play in enumerate(DEMO):
        for number in range(0, len(drawn(n, "fifth")), 1 + len(play.counters)):  # without counters
            picture, page = seen(n, "fifth", number)
            copy = copied(page, level)
            people = unary_union([inked(each) for each in parts(picture, "person")])
            for path in (s for g in groups(picture, "action") for s in g.shapes):
                if not isinstance(path, Path) or path.paint.stroke is None or path.paint.dash:
                    continue
                for run in runs(path.steps):
                    for line in pieces_of(LineString(run).difference(people)):
                        assert longest_break(copy, line) <= GAP


def pieces_of(drawn: BaseGeometry) -> list[LineString]:
    found = drawn.geoms if isinstance(drawn, MultiLineString) else [drawn]
    return [each for each in found if isinstance(each, LineString) and not each.is_empty]


def test_the_own_path_is_twice_as_heavy_as_a_light_one() -> None:
    for play in DEMO:
        for phase in play.phases:
            picture = diagram(play, phase.id, Drawing("2", scheme="print", width=PAPER))
            widths: dict[str, list[float]] = {"own": [], "quiet": []}
            for group in groups(picture, "action"):
                paint = next(shape for shape in group.shapes if isinstance(shape, Path)).paint
                if paint.dash is None and paint.stroke and len(group.shapes) > 1:
                    widths[paint.stroke].append(paint.width)
            if widths["own"] and widths["quiet"]:
                assert min(widths["own"]) >= 2 * max(widths["quiet"])


@pytest.mark.parametrize("metres", [0.4, 0.8, 1.1, 1.3, 1.6, 2.0, 3.0, 6.0])
def test_a_pass_however_short_has_two_dashes_and_an_arrow(metres: float) -> None:
    play = thrown_in(
        "stride",
        ((0.0, 7.0), (metres, 7.0), (-5.0, 7.0), (5.0, 3.0), (-5.0, 2.0)),
        Phase("one", "One", (throw("t", "1", "2"),)),
    )
    for drawing in (Drawing(), Drawing("1", width=PAPER), Drawing(crop="action")):
        picture = diagram(play, "one", drawing)
        shaft, head = (s for s in action(picture, "t").shapes if isinstance(s, Path))
        assert shaft.paint.dash is not None
        dash, gap = shaft.paint.dash
        line = LineString(runs(shaft.steps)[0])
        assert round((line.length + gap) / (dash + gap)) >= 2
        assert gap > 0.9
        assert head.paint.fill is not None
        discs = [circle_of(picture, role) for role in ROLES[:2]]
        people = unary_union([Point(each.center).buffer(each.radius) for each in discs])
        assert line.intersection(people).length < 1
