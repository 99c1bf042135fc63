"""PNG read back by Pillow."""

from __future__ import annotations

from io import BytesIO
from itertools import pairwise

import pytest
from PIL import Image, ImageOps

from shared.core.drawing.curves import XY, distance
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Picture, Shape, Text, lines
from shared.core.drawing.png import dashes, write_png

INKS = {"ink": "#000000", "paper": "#ffffff", "own": "#0b5f6a"}
SHEET = Box((0, 0), 60, 40, Paint(fill="paper"))


def drawn(*shapes: Shape, scale: float = 2) -> Image.Image:
    out = BytesIO()
    write_png(Picture(60, 40, (SHEET, *shapes), "t", "d", INKS), out, scale=scale)
    return Image.open(BytesIO(out.getvalue())).convert("RGB")


def coverage(image: Image.Image) -> float:
    """How many pixels are inked, greys counted by their darkness."""
    counts = image.convert("L").histogram()
    return sum(count * (255 - value) for value, count in enumerate(counts)) / 255


@pytest.mark.parametrize("scale", [1, 2, 3, 4])
def test_size_follows_the_scale(scale: int) -> None:
    assert drawn(scale=scale).size == (60 * scale, 40 * scale)


@pytest.mark.parametrize("scale", [0.5, 5])
def test_a_wild_scale_is_refused(scale: float) -> None:
    with pytest.raises(ValueError, match="not between 1 and 4"):
        drawn(scale=scale)


def test_a_dashed_line_without_length_inks_nothing() -> None:
    assert list(dashes([(5.0, 5.0), (5.0, 5.0)], (4.0, 3.0))) == []


def test_a_large_picture_is_smoothed_less_and_still_drawn() -> None:
    out = BytesIO()
    write_png(Picture(1500, 1500, (), "t", "d", INKS), out, scale=4)
    assert Image.open(BytesIO(out.getvalue())).size == (6000, 6000)


def test_a_huge_picture_is_refused() -> None:
    huge = Picture(9000, 9000, (), "t", "d", INKS)
    with pytest.raises(ValueError, match="too large"):
        write_png(huge, BytesIO())


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        (Circle((30, 20), 10, Paint(fill="ink")), 314.16),
        (Circle((30, 20), 10, Paint(stroke="ink", fill="paper", width=2)), 125.66),
        (Circle((30, 20), 10, Paint(stroke="ink", width=2)), 125.66),
        (Box((10, 10), 20, 5, Paint(fill="ink")), 100),
        (Path(lines((10, 20), (50, 20)), Paint(stroke="ink", width=2, round=False)), 80),
        (Path(lines((10, 20), (50, 20)), Paint(stroke="ink", width=2)), 83.14),
        (Path(lines((10, 10), (40, 10), (10, 30), closed=True), Paint(fill="ink")), 300),
        (
            Path(lines((10, 20), (50, 20)), Paint(stroke="ink", width=2, dash=(5, 5), round=False)),
            40,
        ),
    ],
)
def test_ink_covers_the_area_that_geometry_gives(shape: Shape, area: float) -> None:
    assert coverage(drawn(shape, scale=4)) / 16 == pytest.approx(area, rel=0.03)


@pytest.mark.parametrize("points", [[(10, 20), (50, 20)], [(10, 20), (30, 20), (50, 20)]])
def test_a_line_with_blunt_ends_begins_and_ends_where_it_says(points: list[XY]) -> None:
    blunt = Path(lines(*points), Paint(stroke="ink", width=6, round=False))
    row = drawn(blunt, scale=4).convert("L").crop((0, 80, 240, 81)).tobytes()
    assert [x for x, light in enumerate(row) if light < 128] == list(range(40, 200))
    assert row[36:44] == row[203:195:-1]  # no end is longer than the other by a shade


def test_a_dash_shorter_than_its_own_rounding_stays_where_it_is() -> None:
    dot = Path(lines((30, 20), (30.1, 20)), Paint(stroke="ink", width=8, round=False))
    inked = ImageOps.invert(drawn(dot, scale=4).convert("L")).getbbox()
    assert inked is not None
    assert 119 <= inked[0] < inked[2] <= 122


def test_later_shapes_cover_earlier_ones_and_text_too() -> None:
    cover = Box((0, 0), 60, 40, Paint(fill="paper"))
    assert coverage(drawn(Text((10, 30), "55", 20, "ink"))) > 100
    assert coverage(drawn(Text((10, 30), "55", 20, "ink"), cover)) == 0


def test_a_clipped_group_inks_nothing_outside() -> None:
    image = drawn(Group((Box((0, 0), 60, 40, Paint(fill="own")),), clip=(10, 10, 20, 10)))
    assert image.getpixel((40, 30)) == (11, 95, 106)
    assert image.getpixel((10, 10)) == (255, 255, 255)
    assert image.getpixel((70, 30)) == (255, 255, 255)


def test_the_same_picture_gives_the_same_bytes() -> None:
    shapes = (Circle((30, 20), 10, Paint(stroke="ink")), Text((5, 35), "Ida", 12, "own"))
    first, second = BytesIO(), BytesIO()
    for out in (first, second):
        write_png(Picture(60, 40, shapes, "t", "d", INKS), out)
    assert first.getvalue() == second.getvalue()


@pytest.mark.parametrize(
    "points", [[(0.0, 0.0), (100.0, 0.0)], [(0.0, 0.0), (30.0, 40.0), (30.0, 90.0)]]
)
def test_dashes_keep_their_length_around_corners(points: list[XY]) -> None:
    found = list(dashes(points, (6.0, 4.0)))
    lengths = [sum(distance(a, b) for a, b in pairwise(run)) for run in found]
    assert lengths == pytest.approx([6.0] * 10)


def test_what_a_group_cuts_off_is_drawn_in_its_place_and_nowhere_else() -> None:
    """A window of 10 by 8 at (20, 12), filled beyond all its edges: so many pixels are inked."""
    field = Box((-50, -50), 200, 200, Paint(fill="own"))
    image = drawn(Group((field,), clip=(20, 12, 10, 8)), scale=2)
    inked = ImageOps.invert(image.convert("L")).getbbox()
    assert inked == (40, 24, 60, 40)
    dot = Circle((25, 16), 2, Paint(fill="own"))
    inside, outside = drawn(Group((dot,), clip=(20, 12, 10, 8))), drawn(dot)
    assert inside.tobytes() == outside.tobytes(), "inside nothing is moved"


@pytest.mark.parametrize("scale", [0.99, 4.01])
def test_a_scale_just_outside_is_refused_in_words(scale: float) -> None:
    with pytest.raises(ValueError, match=f"^scale {scale} is not between 1 and 4$"):
        drawn(scale=scale)


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_drawn() -> None:
    """60 million pixels are the most; 7,746 by 7,746 are some more."""
    out = BytesIO()
    with pytest.raises(ValueError, match=r"^a picture of 7746 by 7746 pixels is too large$"):
        write_png(Picture(7746, 7746, (), "t", "d", INKS), out, scale=1)
    assert out.getvalue() == b""


def test_a_point_that_comes_twice_neither_ends_nor_lengthens_a_dash() -> None:
    once = list(dashes([(0, 0), (2, 0), (10, 0)], (3, 2)))
    twice = list(dashes([(0, 0), (2, 0), (2, 0), (10, 0)], (3, 2)))
    ends = [[run[0], run[-1]] for run in once]
    assert ends == [[(0, 0), (3, 0)], [(5, 0), (8, 0)]]
    assert [[run[0], run[-1]] for run in twice] == ends
