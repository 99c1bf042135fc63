"""Cards to cut out: for the pocket calls, signals and first moves, for the wrist calls and roles.

A pocket card is a quarter of a sheet, a wristband card 88 x 52 mm, which fits the window of
common wristbands (common practice; sleeves differ, so try one first).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from roster.core.paper.blocks import (
    Beside,
    Gap,
    PaperBlock,
    Shrunk,
    column_width,
    columns,
    stack,
    text,
)
from roster.core.paper.leaf import (
    Booklet,
    Dated,
    Edge,
    Passage,
    as_of,
    flow,
    room_of,
    write_booklets,
)
from roster.core.paper.sheet import Sheet, SheetPart
from shared.core.days import day_said
from shared.core.drawing.pdf import on_paper
from shared.core.drawing.picture import Sink
from shared.core.language import N_, Language

GAP: Final = 8.0
INSIDE: Final = 7.0
WRIST_WIDTH: Final = 88 * mm
WRIST_HEIGHT: Final = 52 * mm
POCKET: Final = N_("Pocket cards of {team}")
WRIST: Final = N_("Wristband cards of {team}")
SIZES: Final = (13.0, 12.0, 11.0, 10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5)
POCKET_LEAST: Final = 10.0  # so that a first move, a point smaller, is read in a gym
STANDS_IN: Final = N_("{role}, stand-in")

Inner = Callable[[Sheet, float, float], PaperBlock]


@dataclass(frozen=True, slots=True)
class _CardKind:
    """What a card is called, its size, and what is on it by width and size of letters.

    Without a ``width`` two of them share that of the sheet.
    """

    title: str
    height: float
    inner: Inner
    width: float | None = None
    least: float | None = None  # letters under which a second card begins, where one may


@dataclass(frozen=True, slots=True)
class CutOut:
    """A card with a line to cut along; what is too high for it is drawn smaller."""

    inner: PaperBlock
    width: float
    height: float

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        canvas.setStrokeColor(on_paper("ink"))
        canvas.setLineWidth(0.4)
        canvas.setDash(3, 2)
        canvas.rect(x, top - self.height, self.width, self.height, stroke=1, fill=0)
        canvas.setDash()
        room = self.height - 2 * INSIDE
        fits = self.inner.height <= room
        block = self.inner if fits else Shrunk(self.inner, room)
        block.draw(canvas, x + INSIDE, top - INSIDE)


def write_pocket_cards(
    sheets: Iterable[Sheet], out: Sink, *, paper: str, club: str, language: Language
) -> None:
    """Write a card for each player with calls, signals and the first move, four on a sheet.

    Who has too many roles for one card in readable letters gets a second.
    """

    def inner(sheet: Sheet, width: float, size: float) -> PaperBlock:
        return stack([*_name(sheet, width, language), *_moves(sheet, width, size, language)])

    _, high = room_of(paper)
    kind = _CardKind(POCKET, (high - GAP) / 2, inner, least=POCKET_LEAST)
    _write(list(sheets), out, kind, paper=paper, club=club, language=language)


def write_wrist_cards(
    sheets: Iterable[Sheet], out: Sink, *, paper: str, club: str, language: Language
) -> None:
    """Write a card for each player with every call and their own role in it."""

    def inner(sheet: Sheet, width: float, size: float) -> PaperBlock:
        each = column_width(width, 2, GAP)
        lines = [
            text(said, each, size, bold=call)
            for part in _ordered(sheet)
            for call, said in _calls(part, language)
        ]
        return stack([*_name(sheet, width, language), columns(lines, 2, width, GAP)])

    kind = _CardKind(WRIST, WRIST_HEIGHT, inner, WRIST_WIDTH)
    _write(list(sheets), out, kind, paper=paper, club=club, language=language)


def _write(
    sheets: Sequence[Sheet],
    out: Sink,
    kind: _CardKind,
    *,
    paper: str,
    club: str,
    language: Language,
) -> None:
    """Two cards beside each other, as many rows as a sheet holds. ValueError for no sheet."""
    if not sheets:
        raise ValueError("there is no card to write")
    team = sheets[0].team
    size = room_of(paper)
    width = kind.width or column_width(size[0], 2, GAP)
    cards = [
        CutOut(card, width, kind.height)
        for sheet in sheets
        for card in _fitting(kind, sheet, width)
    ]
    rows = [
        Beside(tuple((n * (width + GAP), card) for n, card in enumerate(cards[at : at + 2])))
        for at in range(0, len(cards), 2)
    ]
    plays = tuple(_plays(sheets, language))
    made = [Passage((stack((row, Gap(GAP - 1))),), plays=plays) for row in rows]
    name = language.say(kind.title, team=team)
    leaves = flow(made, size[1] + GAP)
    edge = Edge(team, sheets[0].made_on, club)
    write_booklets([Booklet(name, leaves)], out, edge, title=name, paper=paper, language=language)


def _fitting(kind: _CardKind, sheet: Sheet, width: float) -> list[PaperBlock]:
    """A player's card in the largest letters with which it fits; else as many as it takes."""
    room = width - 2 * INSIDE, kind.height - 2 * INSIDE
    for size in SIZES:
        if kind.least is not None and size < kind.least:
            return list(_split(kind.inner, sheet, room, kind.least))
        made = kind.inner(sheet, room[0], size)
        if made.height <= room[1]:
            break
    return [made]


def _split(
    inner: Inner, sheet: Sheet, room: tuple[float, float], size: float
) -> Iterator[PaperBlock]:
    """As many cards in letters of a size as it takes for each to fit, as far as it can."""
    parts: tuple[SheetPart, ...] = ()
    for part in _ordered(sheet):
        longer = replace(sheet, parts=(*parts, part))
        if parts and inner(longer, room[0], size).height > room[1]:
            yield inner(replace(sheet, parts=parts), room[0], size)
            parts = ()
        parts = (*parts, part)
    yield inner(replace(sheet, parts=parts), room[0], size)


def _plays(sheets: Iterable[Sheet], language: Language) -> Iterator[Dated]:
    """What the cards show, and as of when."""
    for sheet in sheets:
        for part in sheet.parts:
            day = as_of(part.carried.published, sheet.made_on, language)
            yield part.carried.play.name, day


def _name(sheet: Sheet, width: float, language: Language) -> Iterator[PaperBlock]:
    name = f"{sheet.player.name}  {sheet.player.number}".strip()
    yield text(f"· {sheet.team} · {day_said(sheet.made_on, language)}", width, 8, bold=name)
    yield Gap(3)


def _moves(sheet: Sheet, width: float, size: float, language: Language) -> Iterator[PaperBlock]:
    for part in _ordered(sheet):
        words = [_role(part, language), part.carried.signal]
        yield text(" · ".join(word for word in words if word), width, size, bold=part.call)
        yield text(first_move(part), width, size - 1)
        for other in part.others:
            words = [other.job(part.role, language), other.sign]
            yield text(" · ".join(word for word in words if word), width, size, bold=other.call)
        yield Gap(2.5)


def first_move(part: SheetPart) -> str:
    """Where the player starts and what they do first."""
    told = part.part
    steps = [step.text for step in told.steps[:1]]
    return " ".join([*told.start[:1], *(steps or [told.ending])]).strip()


def _calls(part: SheetPart, language: Language) -> Iterator[tuple[str, str]]:
    """Every call of a play, with what the player is on it."""
    yield part.call, _role(part, language)
    for other in part.others:
        yield other.call, other.job(part.role, language)


def _ordered(sheet: Sheet) -> list[SheetPart]:
    return sorted(sheet.parts, key=lambda part: bool(part.stands_in_for))


def _role(part: SheetPart, language: Language) -> str:
    return language.say(STANDS_IN, role=part.role) if part.stands_in_for else part.role
