"""Writes a picture as PDF, or draws it on a page that somebody else makes.

Vectors and embedded text, through reportlab. Documents are made without a clock, so that the
same picture gives the same bytes. Lines and areas are written as PDF operators at once (ISO
32000-1, 8.5), which is several times as quick as reportlab's own path objects.
"""

from __future__ import annotations

from functools import cache
from io import BytesIO
from typing import Final

from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from shared.core.drawing.colours import COLOURS
from shared.core.drawing.fonts import FAMILY, font_file, text_width
from shared.core.drawing.picture import (
    Box,
    Circle,
    Group,
    Paint,
    Path,
    Picture,
    Shape,
    Sink,
    Step,
    Text,
)
from shared.core.drawing.svg import number

REGULAR: Final = FAMILY
BOLD: Final = f"{FAMILY}-Bold"
QUARTER: Final = 0.5522847498307936  # handle of a quarter circle, 4 (sqrt 2 - 1) / 3
_SHARES: Final = {"start": 0.0, "middle": 0.5, "end": 1.0}


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
    pen = _PagePen(canvas, picture)
    pen.draw(Group(picture.shapes, clip=(0.0, 0.0, picture.width, picture.height)))
    pen.put_down()
    canvas.restoreState()
    return picture.height * scale


@cache
def register_fonts() -> None:
    """Makes the two weights known to reportlab, once in a process.

    Also has reportlab embed no letters but those used, and write compressed streams as they
    are and not as ASCII, which makes every document less than half as large.
    """
    rl_config.useA85 = 0
    registerFont(TTFont(REGULAR, str(font_file()), asciiReadable=0))
    registerFont(TTFont(BOLD, str(font_file(bold=True)), asciiReadable=0))
    registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)


@cache
def on_paper(name: str) -> Color:
    """A colour of the one table as reportlab wants it. Raises KeyError for a name not in it."""
    return HexColor(COLOURS[name].print)


class _PagePen:
    """Draws shapes on a canvas whose y axis has been turned down.

    Operators are gathered and handed to the canvas before each text and at the end.
    """

    def __init__(self, canvas: Canvas, picture: Picture) -> None:
        self.on = canvas
        self.colours = {ink: _operands(code) for ink, code in picture.inks.items()}
        self.gathered: list[str] = []

    def draw(self, shape: Shape) -> None:
        match shape:
            case Group():
                self.group(shape)
            case Text():
                self.text(shape)
            case Path():
                self.inked(_steps(shape.steps), shape.paint)
            case Circle():
                self.inked(_circle(shape), shape.paint)
            case Box():
                self.inked(_box(shape), shape.paint)

    def put_down(self) -> None:
        """Hands what has been gathered to the canvas."""
        if self.gathered:
            self.on.addLiteral("\n".join(self.gathered))
            self.gathered.clear()

    def group(self, group: Group) -> None:
        if group.clip is not None:
            self.gathered.append("q " + " ".join(number(v) for v in group.clip) + " re W n")
        for shape in group.shapes:
            self.draw(shape)
        if group.clip is not None:
            self.gathered.append("Q")

    def inked(self, outline: str, paint: Paint) -> None:
        """An outline between its colours and the operator that fills or strokes it."""
        parts = []
        if paint.fill is not None:
            parts.append(f"{self.colours[paint.fill]} rg")
        if paint.stroke is not None:
            style = 1 if paint.round else 0
            dash = " ".join(number(value) for value in paint.dash or ())
            width = number(paint.width)
            colour = self.colours[paint.stroke]
            parts.append(f"{colour} RG {width} w {style} J {style} j [{dash}] 0 d")
        filled, stroked = paint.fill is not None, paint.stroke is not None
        finish = "B" if filled and stroked else "f" if filled else "S" if stroked else "n"
        self.gathered.append(" ".join((*parts, outline, finish)))

    def text(self, text: Text) -> None:
        """Text goes through reportlab, which embeds the letters that it needs."""
        self.put_down()
        font = BOLD if text.bold else REGULAR
        width = text_width(text.text, text.size, bold=text.bold)
        written = self.on.beginText()
        written.setFont(font, text.size)
        left = text.at[0] - _SHARES[text.anchor] * width
        written.setTextTransform(1, 0, 0, -1, round(left, 3), round(text.at[1], 3))
        written.textOut(text.text)
        self.gathered.append(f"{self.colours[text.ink]} rg")
        self.put_down()
        self.on.drawText(written)


@cache
def _operands(code: str) -> str:
    """ "#rrggbb" as the operands of a PDF colour."""
    return " ".join(f"{int(code[k : k + 2], 16) / 255:.4g}" for k in (1, 3, 5))


def _steps(steps: tuple[Step, ...]) -> str:
    return " ".join(_step(step) for step in steps)


def _step(step: Step) -> str:
    if step[0] == "C":
        (a, b), (c, d), (e, f) = step[1:]
        return f"{a:.2f} {b:.2f} {c:.2f} {d:.2f} {e:.2f} {f:.2f} c"
    if step[0] == "Z":
        return "h"
    x, y = step[1]
    return f"{x:.2f} {y:.2f} {'m' if step[0] == 'M' else 'l'}"


def _circle(circle: Circle) -> str:
    (x, y), radius = circle.center, circle.radius
    return _rounded(x - radius, y - radius, x + radius, y + radius, radius)


def _box(box: Box) -> str:
    (x, y), width, height = box.at, box.width, box.height
    if not box.corner:
        return f"{x:.2f} {y:.2f} {width:.2f} {height:.2f} re"
    return _rounded(x, y, x + width, y + height, min(box.corner, width / 2, height / 2))


def _rounded(left: float, top: float, right: float, bottom: float, radius: float) -> str:
    """A rectangle with round corners, a circle where they meet; each corner is one bend."""
    reach = radius * (1 - QUARTER)
    a, b, c, d = left + radius, right - radius, top + radius, bottom - radius
    e, f, g, h = left + reach, right - reach, top + reach, bottom - reach
    return (
        f"{b:.2f} {top:.2f} m {f:.2f} {top:.2f} {right:.2f} {g:.2f} {right:.2f} {c:.2f} c "
        f"{right:.2f} {d:.2f} l {right:.2f} {h:.2f} {f:.2f} {bottom:.2f} {b:.2f} {bottom:.2f} c "
        f"{a:.2f} {bottom:.2f} l {e:.2f} {bottom:.2f} {left:.2f} {h:.2f} {left:.2f} {d:.2f} c "
        f"{left:.2f} {c:.2f} l {left:.2f} {g:.2f} {e:.2f} {top:.2f} {a:.2f} {top:.2f} c h"
    )
