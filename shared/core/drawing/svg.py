"""Writes a picture as SVG 1.1.

Only presentation attributes are used, no ``style`` attribute and within a page no ``style``
element, so that the drawing stands under a strict content security policy. Text stays text.
Numbers are kept to a hundredth of a point; the same picture always gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from shared.core.drawing.carried import face_style
from shared.core.drawing.curves import XY
from shared.core.drawing.fonts import FALLBACK
from shared.core.drawing.picture import (
    Box,
    Circle,
    Group,
    Ink,
    Paint,
    Path,
    Picture,
    Shape,
    Sink,
    Step,
    Text,
    rounded,
)

HEADER: Final = '<?xml version="1.0" encoding="UTF-8"?>\n'
CLASS_PREFIX: Final = "dg"
"""With ``by_class``: ``dg-s-INK`` strokes, ``dg-f-INK`` fills, ``dg`` marks the drawing."""


def write_svg(picture: Picture, out: Sink, *, prefix: str = "picture") -> None:
    """Writes a file that stands alone and carries its face. ``prefix`` begins every id."""
    text = svg_text(picture, prefix=prefix, style=face_style(picture.shapes))
    out.write((HEADER + text + "\n").encode("utf-8"))


def svg_text(
    picture: Picture, *, prefix: str = "picture", lean: bool = False, style: str = ""
) -> str:
    """The ``svg`` element, to stand inside a page; give each on one page its own ``prefix``.

    ``lean`` leaves out what a page brings along where no script looks: marks, the face, and of
    inks with a class the colours; its numbers are kept to a tenth of a point. ``style`` is an
    element that a file alone may have.
    """
    picture = _bare(picture) if lean else picture
    face = "" if lean else f' font-family="{FALLBACK}"'
    title, description = f"{prefix}-title", f"{prefix}-description"
    width, height = number(picture.width), number(picture.height)
    by_class = f' class="{CLASS_PREFIX}"' if picture.by_class else ""
    marks = _marks(picture.marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg"{by_class}{marks} '
        f'width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}" role="img" lang={quoteattr(picture.lang)} '
        f'aria-labelledby="{title} {description}"{face} stroke-linecap="round" '
        f'stroke-linejoin="round" fill="none">'
        f'<title id="{title}">{escape(picture.title)}</title>'
        f'<desc id="{description}">{escape(picture.description)}</desc>{style}'
        f"{_shapes(picture.shapes, picture)}</svg>"
    )


def _bare(picture: Picture) -> Picture:
    inks = {} if picture.by_class else picture.inks
    shapes = tuple(rounded(shape, 1) for shape in _opened(picture.shapes))
    return replace(picture, shapes=shapes, inks=inks, marks=())


def _opened(shapes: tuple[Shape, ...]) -> Iterator[Shape]:
    """The same shapes in the same order without groups, but for those that cut off."""
    for shape in shapes:
        if not isinstance(shape, Group):
            yield shape
        elif shape.clip is None:
            yield from _opened(shape.shapes)
        else:
            yield Group(tuple(_opened(shape.shapes)), (), shape.clip)


def number(value: float) -> str:
    """A coordinate to a hundredth, without needless zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _shapes(shapes: tuple[Shape, ...], picture: Picture) -> str:
    """Neighbours of one paint share an element that holds it."""
    parts: list[str] = []
    for paint, run in groupby(shapes, key=_paint):
        bodies = [_body(shape, picture) for shape in run]
        if paint is None:
            parts.extend(body.replace(_SLOT, "", 1) for body in bodies)
        elif len(bodies) == 1:
            parts.append(bodies[0].replace(_SLOT, _inked(paint, picture), 1))
        else:
            inner = "".join(body.replace(_SLOT, "", 1) for body in bodies)
            parts.append(f"<g{_inked(paint, picture)}>{inner}</g>")
    return "".join(parts)


_SLOT: Final = "\x00"  # where a shape's paint goes; no XML text can hold this character


def _paint(shape: Shape) -> Paint | None:
    return shape.paint if isinstance(shape, Path | Circle | Box) else None


def _body(shape: Shape, picture: Picture) -> str:
    match shape:
        case Path():
            return f'<path{_SLOT} d="{_steps(shape.steps)}"/>'
        case Circle():
            x, y = shape.center
            return f'<circle{_SLOT} cx="{number(x)}" cy="{number(y)}" r="{number(shape.radius)}"/>'
        case Box():
            return _box(shape)
        case Text():
            return _text(shape, picture)
        case Group():
            marks = _marks(shape.marks)
            inner = _shapes(shape.shapes, picture)
            if shape.clip is None:
                return f"<g{marks}>{inner}</g>"
            left, top, width, height = (number(value) for value in shape.clip)
            return (  # an inner svg cuts off what lies outside of it, and needs no id for that
                f'<svg{marks} x="{left}" y="{top}" width="{width}" height="{height}" '
                f'viewBox="{left} {top} {width} {height}">{inner}</svg>'
            )


def _marks(marks: tuple[tuple[str, str], ...]) -> str:
    return "".join(f" data-{name}={quoteattr(value)}" for name, value in marks)


def _box(box: Box) -> str:
    corner = f' rx="{number(box.corner)}"' if box.corner else ""
    return (
        f'<rect{_SLOT} x="{number(box.at[0])}" y="{number(box.at[1])}" '
        f'width="{number(box.width)}" height="{number(box.height)}"{corner}/>'
    )


def _text(text: Text, picture: Picture) -> str:
    weight = ' font-weight="700"' if text.bold else ""
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    return (
        f'<text x="{number(text.at[0])}" y="{number(text.at[1])}" '
        f'font-size="{number(text.size)}"{weight}{anchor}'
        f"{_colours(None, text.ink, picture)}>{escape(text.text)}</text>"
    )


def _inked(paint: Paint, picture: Picture) -> str:
    """The attributes of a paint."""
    parts = [_colours(paint.stroke, paint.fill, picture)]
    if paint.stroke is not None:
        parts.append(f' stroke-width="{number(paint.width)}"')
        if not paint.round:
            parts.append(' stroke-linecap="butt" stroke-linejoin="miter"')
        if paint.dash is not None:
            on, off = paint.dash
            parts.append(f' stroke-dasharray="{number(on)} {number(off)}"')
    return "".join(parts)


def _colours(stroke: Ink | None, fill: Ink | None, picture: Picture) -> str:
    inks = picture.inks
    parts = []
    if picture.by_class:
        names = [f"{CLASS_PREFIX}-s-{stroke}"] if stroke else []
        names += [f"{CLASS_PREFIX}-f-{fill}"] if fill else []
        parts.append(f' class="{" ".join(names)}"')
    parts.append(f' stroke="{inks[stroke]}"' if stroke and inks else "")
    parts.append(f' fill="{inks[fill]}"' if fill and inks else "")
    return "".join(parts)


def _steps(steps: tuple[Step, ...]) -> str:
    return "".join(_step(step) for step in steps)


def _step(step: Step) -> str:
    if step[0] == "Z":
        return "Z"
    points: tuple[XY, ...] = step[1:]
    return step[0] + " ".join(f"{number(x)} {number(y)}" for x, y in points)
