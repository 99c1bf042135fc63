"""Writes a picture as PDF, or draws it on a page that somebody else makes.

Vectors and embedded text, through reportlab. Documents are made without a clock, so that the
same picture gives the same bytes.
"""

from __future__ import annotations

from functools import cache
from io import BytesIO
from typing import Any, Final

from reportlab.lib.colors import HexColor
from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from shared.core.fonts import FAMILY, font_file
from shared.core.picture import Box, Circle, Group, Paint, Path, Picture, Shape, Sink, Text

REGULAR: Final = FAMILY
BOLD: Final = f"{FAMILY}-Bold"


def write_pdf(picture: Picture, out: Sink) -> None:
    """Writes one page of the picture's size."""
    register_fonts()
    made = BytesIO()
    canvas = Canvas(
        made,
        pagesize=(picture.width, picture.height),
        pageCompression=1,
        invariant=1,
        lang=picture.lang,
        initialFontName=REGULAR,
    )
    canvas.setTitle(picture.title)
    canvas.setSubject(picture.description)
    draw_on_canvas(picture, canvas, 0, 0, picture.width)
    canvas.showPage()
    canvas.save()
    out.write(made.getvalue())


def draw_on_canvas(picture: Picture, canvas: Canvas, x: float, y: float, width: float) -> float:
    """Draws the picture ``width`` wide with its lower left corner at (x, y); gives its height.

    What reaches over the picture's edge is cut off.
    """
    register_fonts()
    scale = width / picture.width
    canvas.saveState()
    canvas.translate(x, y + picture.height * scale)
    canvas.scale(scale, -scale)
    whole = (0.0, 0.0, picture.width, picture.height)
    _Pen(canvas, picture).draw(Group(picture.shapes, clip=whole))
    canvas.restoreState()
    return picture.height * scale


@cache
def register_fonts() -> None:
    """Makes the two weights known to reportlab, once in a process."""
    registerFont(TTFont(REGULAR, str(font_file())))
    registerFont(TTFont(BOLD, str(font_file(bold=True))))
    registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)


class _Pen:
    """Draws shapes on a canvas whose y axis has been turned down."""

    def __init__(self, canvas: Canvas, picture: Picture) -> None:
        self.on, self.inks = canvas, picture.inks

    def draw(self, shape: Shape) -> None:
        if isinstance(shape, Text):
            self.text(shape)
        elif isinstance(shape, Group):
            self.group(shape)
        else:
            self.inked(shape)

    def group(self, group: Group) -> None:
        if group.clip is not None:
            self.on.saveState()
            frame = self.on.beginPath()
            frame.rect(*group.clip)
            self.on.clipPath(frame, stroke=0, fill=0)
        for shape in group.shapes:
            self.draw(shape)
        if group.clip is not None:
            self.on.restoreState()

    def inked(self, shape: Path | Circle | Box) -> None:
        stroke, fill = self.ink(shape.paint)
        match shape:
            case Path():
                self.on.drawPath(self.outline(shape), stroke=stroke, fill=fill)
            case Circle():
                x, y = shape.center
                self.on.circle(x, y, shape.radius, stroke=stroke, fill=fill)
            case Box():
                x, y = shape.at
                if shape.corner:
                    self.on.roundRect(
                        x, y, shape.width, shape.height, shape.corner, stroke=stroke, fill=fill
                    )
                else:
                    self.on.rect(x, y, shape.width, shape.height, stroke=stroke, fill=fill)

    def ink(self, paint: Paint) -> tuple[int, int]:
        """Sets colours and line; gives what reportlab is to do: stroke, fill."""
        if paint.fill is not None:
            self.on.setFillColor(_colour(self.inks[paint.fill]))
        if paint.stroke is not None:
            self.on.setStrokeColor(_colour(self.inks[paint.stroke]))
            self.on.setLineWidth(paint.width)
            self.on.setLineCap(1 if paint.round else 0)
            self.on.setLineJoin(1 if paint.round else 0)
            self.on.setDash(*(paint.dash or ()))
        return int(paint.stroke is not None), int(paint.fill is not None)

    def outline(self, path: Path) -> Any:
        outline = self.on.beginPath()
        for step in path.steps:
            if step[0] == "C":
                (a, b), (c, d), (e, f) = step[1:]
                outline.curveTo(a, b, c, d, e, f)
            elif step[0] == "M":
                outline.moveTo(*step[1])
            elif step[0] == "L":
                outline.lineTo(*step[1])
            else:
                outline.close()
        return outline

    def text(self, text: Text) -> None:
        canvas, font = self.on, BOLD if text.bold else REGULAR
        canvas.saveState()
        canvas.setFillColor(_colour(self.inks[text.ink]))
        canvas.translate(*text.at)
        canvas.scale(1, -1)
        canvas.setFont(font, text.size)
        write = {
            "start": canvas.drawString,
            "middle": canvas.drawCentredString,
            "end": canvas.drawRightString,
        }[text.anchor]
        write(0, 0, text.text)
        canvas.restoreState()


@cache
def _colour(code: str) -> Any:
    return HexColor(code)
