"""Writes a picture as PNG, smoothed by drawing it several times as large.

Shapes are drawn by Pillow in order, text too, so that what covers what is the same as in the
other formats.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from io import BytesIO
from itertools import pairwise
from math import ceil, hypot, isqrt, pi
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from shared.core.drawing.colours import COLOURS
from shared.core.drawing.curves import XY, Cubic, arc
from shared.core.drawing.fonts import font_file
from shared.core.drawing.picture import (
    Box,
    Circle,
    Group,
    Paint,
    Path,
    Picture,
    Shape,
    Sink,
    Text,
    shifted,
)

FINE: Final = 6
"""Pixels a point at least while drawing; the drawing is then reduced two to six times."""

EDGE: Final = 0.5
"""Half a pixel: Pillow counts to the middle of pixels and inks the edges of a shape too."""

MAX_PIXELS: Final = 60_000_000
"""Pixels of the large drawing: 180 MB. A picture that would pass this is smoothed less."""


def write_png(picture: Picture, out: Sink, *, scale: float = 2) -> None:
    """Writes the picture at ``scale`` pixels a point, 1 to 4.

    Raises ValueError for a scale outside of that, or a picture too large to be drawn.
    """
    made = BytesIO()
    image_of(picture, scale).save(made, "PNG", compress_level=6)
    out.write(made.getvalue())


def image_of(picture: Picture, scale: float) -> Image.Image:
    """The picture in pixels, as ``write_png`` writes it; raises as that does."""
    if not 1 <= scale <= 4:
        raise ValueError(f"scale {scale} is not between 1 and 4")
    width, height = ceil(picture.width * scale), ceil(picture.height * scale)
    if width * height > MAX_PIXELS:
        raise ValueError(f"a picture of {width} by {height} pixels is too large")
    over = min(max(2, ceil(FINE / scale)), isqrt(MAX_PIXELS // (width * height)))
    image = Image.new("RGB", (width * over, height * over), COLOURS["paper"].print)
    _Pen(image, picture, scale * over).draw(Group(picture.shapes))
    return image.reduce(over)


class _Pen:
    """Draws shapes on a large image, ``scale`` pixels a point."""

    def __init__(self, image: Image.Image, picture: Picture, scale: float) -> None:
        self.image, self.picture, self.scale = image, picture, scale
        self.on, self.inks = ImageDraw.Draw(image), picture.inks

    def draw(self, shape: Shape) -> None:
        match shape:
            case Group():
                self.group(shape)
            case Path():
                self.path(shape)
            case Circle():
                self.circle(shape)
            case Box():
                self.box(shape)
            case Text():
                self.text(shape)

    def group(self, group: Group) -> None:
        if group.clip is None:
            for shape in group.shapes:
                self.draw(shape)
            return
        left, top, width, height = (value * self.scale for value in group.clip)
        edges = round(left), round(top), round(left + width), round(top + height)
        window = self.image.crop(edges)
        pen = _Pen(window, self.picture, self.scale)
        for shape in group.shapes:
            pen.draw(shifted(shape, -edges[0] / self.scale, -edges[1] / self.scale))
        self.image.paste(window, edges)

    def path(self, path: Path) -> None:
        for points in _runs(path, self.scale):
            if path.paint.fill is not None and len(points) > 2:
                shape = [(x - EDGE, y - EDGE) for x, y in points]
                self.on.polygon(shape, fill=self.inks[path.paint.fill])
            if path.paint.stroke is not None:
                self.stroke(points, path.paint)

    def stroke(self, points: list[XY], paint: Paint) -> None:
        assert paint.stroke is not None
        colour, width = self.inks[paint.stroke], paint.width * self.scale
        dash = paint.dash and (paint.dash[0] * self.scale, paint.dash[1] * self.scale)
        for part in dashes(points, dash) if dash else [points]:
            self.thick(part, colour, width, round_ends=paint.round)

    def thick(self, points: list[XY], colour: str, width: float, *, round_ends: bool) -> None:
        """A line as four-cornered pieces, with discs at its joints and round ends."""
        closed = len(points) > 2 and points[0] == points[-1]
        blunt = 0.0 if round_ends or closed else EDGE
        last = len(points) - 2
        for k, (a, b) in enumerate(pairwise(points)):
            trims = blunt if k == 0 else 0.0, blunt if k == last else 0.0
            if a != b:
                self.on.polygon(_piece(a, b, max(width / 2 - EDGE, EDGE), trims), fill=colour)
        for x, y in points if round_ends or closed else points[1:-1]:
            self.disc(x, y, width / 2, colour)

    def circle(self, circle: Circle) -> None:
        (x, y), radius, paint = circle.center, circle.radius * self.scale, circle.paint
        x, y = x * self.scale, y * self.scale
        if paint.fill is None:
            self.stroke(arc((x, y), radius, 0, 2 * pi).flatten(3.0), paint)
            return
        half = paint.width * self.scale / 2 if paint.stroke else 0
        if paint.stroke is not None:
            self.disc(x, y, radius + half, self.inks[paint.stroke])
        self.disc(x, y, radius - half, self.inks[paint.fill])

    def disc(self, x: float, y: float, radius: float, colour: str) -> None:
        near, far = radius, radius - 2 * EDGE
        self.on.ellipse((x - near, y - near, x + max(far, -near), y + max(far, -near)), fill=colour)

    def box(self, box: Box) -> None:
        k = self.scale
        x, y = box.at[0] * k, box.at[1] * k
        fill = self.inks[box.paint.fill] if box.paint.fill else None
        stroke = self.inks[box.paint.stroke] if box.paint.stroke else None
        self.on.rounded_rectangle(
            (x, y, x + box.width * k - 2 * EDGE, y + box.height * k - 2 * EDGE),
            box.corner * k,
            fill=fill,
            outline=stroke,
            width=round(box.paint.width * k) if stroke else 0,
        )

    def text(self, text: Text) -> None:
        place = (text.at[0] * self.scale, text.at[1] * self.scale)
        font = _font(round(text.size * self.scale, 2), bold=text.bold)
        anchor = {"start": "ls", "middle": "ms", "end": "rs"}[text.anchor]
        self.on.text(place, text.text, fill=self.inks[text.ink], font=font, anchor=anchor)


def _piece(a: XY, b: XY, half: float, trims: tuple[float, float]) -> tuple[XY, XY, XY, XY]:
    """The corners of a straight piece of line, cut short by ``trims`` at its ends."""
    length = hypot(b[0] - a[0], b[1] - a[1])
    wx, wy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    begin, finish = (min(trim, length / 2) for trim in trims)
    ax, ay = a[0] + begin * wx - EDGE, a[1] + begin * wy - EDGE
    bx, by = b[0] - finish * wx - EDGE, b[1] - finish * wy - EDGE
    nx, ny = -half * wy, half * wx
    return (ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)


@lru_cache(maxsize=64)
def _font(size: float, *, bold: bool) -> ImageFont.FreeTypeFont:
    # The basic layout engine is part of every Pillow; others would kern on some machines only.
    return ImageFont.truetype(font_file(bold=bold), size, layout_engine=ImageFont.Layout.BASIC)


def dashes(points: Iterable[XY], dash: tuple[float, float]) -> Iterator[list[XY]]:
    """The dashes of a polyline: runs of points that are inked."""
    left, inked = dash[0], True
    run: list[XY] = []
    for a, b in pairwise(points):
        run = run or ([a] if inked else [])
        gone, length = 0.0, hypot(b[0] - a[0], b[1] - a[1])
        if length == 0:
            continue
        while length - gone >= left:
            gone += left
            at = (a[0] + (b[0] - a[0]) * gone / length, a[1] + (b[1] - a[1]) * gone / length)
            if inked:
                yield [*run, at]
            inked = not inked
            left, run = dash[0 if inked else 1], [at] if inked else []
        left -= length - gone
        if inked:
            run.append(b)
    if len(run) > 1 and left < dash[0] - 1e-6:
        yield run


def _runs(path: Path, scale: float) -> Iterator[list[XY]]:
    """The polylines of a path in pixels; closed ones end where they begin."""
    run: list[XY] = []
    for step in path.steps:
        if step[0] == "M":
            if len(run) > 1:
                yield run
            run = [(step[1][0] * scale, step[1][1] * scale)]
        elif step[0] == "L":
            run.append((step[1][0] * scale, step[1][1] * scale))
        elif step[0] == "C":
            points = [(x * scale, y * scale) for x, y in step[1:]]
            run.extend(_bend(Cubic(run[-1], points[0], points[1], points[2])))
        else:
            run.append(run[0])
    if len(run) > 1:
        yield run


def _bend(piece: Cubic) -> list[XY]:
    reach = hypot(piece.out[0] - piece.start[0], piece.out[1] - piece.start[1])
    reach += hypot(piece.end[0] - piece.into[0], piece.end[1] - piece.into[1])
    count = max(4, min(48, ceil(reach / 6)))
    return [piece.at(k / count) for k in range(1, count + 1)]
