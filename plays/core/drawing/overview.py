"""The whole play in one picture: every phase side by side, its name above, the legend below."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from plays.core.calls import CallName, call_for
from plays.core.drawing.inks import inks
from plays.core.drawing.legend import legend
from plays.core.drawing.options import PLAIN, Drawing
from plays.core.drawing.phase import diagram
from plays.core.drawing.titles import OVERVIEW
from plays.core.play import Play, Role
from shared.core.drawing.fonts import shortened
from shared.core.drawing.picture import Box, Group, Paint, Picture, Shape, Text, shifted
from shared.core.language import Language

CELL_WIDTH: Final = 300.0
GUTTER: Final = 14.0
HEAD: Final = 34.0
CAPTION: Final = 20.0


def overview(play: Play, drawing: Drawing = PLAIN, *, columns: int | None = None) -> Picture:
    """All phases of a play with the call on top; as a PNG it is made to be sent in a chat.

    Three phases stand in a row, others in two columns unless ``columns`` says so. The
    width of the drawing counts for nothing here.
    """
    drawing = replace(drawing, width=CELL_WIDTH)
    language = drawing.language
    cells = [diagram(play, phase.id, drawing) for phase in play.phases]
    across = max(1, min(columns or (3 if len(cells) == 3 else 2), len(cells)))
    width = across * (CELL_WIDTH + GUTTER) + GUTTER
    key = legend(
        drawing.scheme,
        language,
        width=width - GUTTER,
        emphasis=drawing.emphasis is not None,
        defenders=drawing.defenders,
    )
    head = _head(play, drawing.names, width, language)
    height, shapes = _sheet(width, [*head, *_table(play, cells, across)], _foot(cells, across), key)
    return Picture(
        width,
        height,
        shapes,
        language.say(OVERVIEW, play=play.name),
        " ".join(f"{cell.title}. {cell.description}" for cell in cells),
        inks(drawing.scheme),
        by_class=drawing.scheme == "page",
        lang=language.code,
    )


def _sheet(
    width: float, drawn: Sequence[Shape], foot: float, key: Picture
) -> tuple[float, tuple[Shape, ...]]:
    """The paper's height, and all that stands on it, the key at the foot."""
    height = foot + key.height + GUTTER / 2
    paper = Box((0, 0), width, height, Paint(fill="paper"))
    return height, (paper, *drawn, _placed(key, GUTTER / 2, foot))


def _foot(cells: Sequence[Picture], columns: int) -> float:
    """Where the last row of phases ends."""
    return HEAD + -(-len(cells) // columns) * _pitch(cells)


def _pitch(cells: Sequence[Picture]) -> float:
    """From one row of phases to the next."""
    return cells[0].height + CAPTION + GUTTER


def _table(play: Play, cells: Sequence[Picture], columns: int) -> Iterator[Shape]:
    """Every phase with its number and title above it, in rows of ``columns``."""
    for index, (phase, cell) in enumerate(zip(play.phases, cells, strict=True)):
        left = GUTTER + index % columns * (CELL_WIDTH + GUTTER)
        top = HEAD + index // columns * _pitch(cells)
        words = shortened(f"{index + 1}  {phase.title}", 11.0, CELL_WIDTH, bold=True)
        yield Text((left, top + 13), words, 11.0, "ink", bold=True)
        yield _placed(cell, left, top + CAPTION)


def _head(play: Play, names: Mapping[Role, str], width: float, language: Language) -> list[Text]:
    cast = {role: CallName(name) for role, name in names.items()}
    call = call_for(play.call, cast, language)
    room = (width - 3 * GUTTER) / 2
    name = Text((GUTTER, 22), shortened(play.name, 15.0, room, bold=True), 15.0, "ink", bold=True)
    if not call or call == play.name:
        return [name]
    words = shortened(call, 12.0, room)
    return [name, Text((width - GUTTER, 22), words, 12.0, "own", anchor="end")]


def _placed(picture: Picture, left: float, top: float) -> Group:
    moved = tuple(shifted(shape, left, top) for shape in picture.shapes)
    return Group(moved, clip=(left, top, picture.width, picture.height))
