"""A practice plan on one page of paper: A4 or Letter, black on white."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any, Final
from xml.sax.saxutils import escape

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    Image,
    KeepInFrame,
    PageTemplate,
    Paragraph,
    Table,
)

from shared.core.drawing.pdf import BOLD, REGULAR, on_paper, register_fonts
from shared.core.drawing.picture import Sink
from shared.core.language import N_, Language

PAPERS: Final = {"a4": A4, "letter": LETTER}
MARGIN: Final = 15 * mm

TOTAL: Final = N_("{minutes} minutes planned")
BOOKED: Final = N_("{minutes} minutes planned, hall until {closes}")
EQUIPMENT: Final = N_("Bring: {items}")
END: Final = N_("End")
NOTES: Final = N_("Notes")
PICTURE_WIDE, PICTURE_HIGH = 60 * mm, 45 * mm  # at most, of a drill
LINE_APART: Final = 9 * mm  # room for handwriting
FEWEST_LINES, MOST_LINES = 3, 12


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One block as it is printed: when, how long, what, and the small print below it."""

    at: str
    minutes: str
    title: str
    detail: str = ""
    notes: str = ""
    text: str = ""  # how its drill goes
    picture: bytes = b""  # of its drill, JPEG


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """Everything that the page says, in the reader's words."""

    title: str
    where: str
    total: str
    lines: tuple[PlanLine, ...]
    ends: str
    equipment: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def write_plan(sheet: PlanSheet, out: Sink, *, paper: str, language: Language) -> None:
    """Write the plan as a PDF of one page; a long plan is set smaller until it fits.

    ``paper`` is a key of PAPERS. Raises KeyError for another.
    """
    register_fonts()
    width, height = PAPERS[paper]
    room = (width - 2 * MARGIN, height - 2 * MARGIN)
    page = PageTemplate("plan", [Frame(MARGIN, MARGIN, *room, 0, 0, 0, 0)])
    document = BaseDocTemplate(
        out,
        pagesize=(width, height),
        pageTemplates=[page],
        title=sheet.title,
        lang=language.code,
        invariant=1,
        initialFontName=REGULAR,
    )
    story = _story(sheet, room[0], language)
    left = room[1] - sum(each.wrap(*room)[1] + _around(each) for each in story)
    story.append(_ruled(left, room[0], language))
    document.build([KeepInFrame(*room, story, mode="shrink")])


def _story(sheet: PlanSheet, width: float, language: Language) -> list[Any]:
    story: list[Any] = [
        _said(sheet.title, 16, bold=True),
        _said(sheet.where, 10),
        _said(sheet.total, 10, after=8),
        _table(sheet, width, language),
    ]
    if sheet.equipment:
        items = language.all_of(sheet.equipment)
        story.append(_said(language.say(EQUIPMENT, items=items), 10, bold=True, before=8))
    story += [_said(f"! {warning}", 9, before=4) for warning in sheet.warnings]
    story.append(_said(" ".join(sheet.cautions), 8.5, before=8))
    return story


def _table(sheet: PlanSheet, width: float, language: Language) -> Table:
    rows: list[list[Any]] = [
        [
            _said(line.at, 11, bold=True),
            _said(line.minutes, 11),
            [
                _said(line.title, 11, bold=True),
                *(_said(text, 9.5) for text in (line.detail, line.notes) if text),
                *_drill(line, width - 36 * mm),
            ],
        ]
        for line in sheet.lines
    ]
    rows.append([_said(sheet.ends, 11, bold=True), "", _said(language.say(END), 11)])
    table = Table(rows, colWidths=[18 * mm, 18 * mm, width - 36 * mm])
    table.setStyle(
        [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEABOVE", (0, 0), (-1, -1), 0.5, on_paper("ink")),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
        ]
    )
    return table


def _drill(line: PlanLine, width: float) -> list[Flowable]:
    """How a drill goes, with its picture beside it or alone."""
    said = [_said(text, 9) for text in line.text.splitlines() if text.strip()]
    if not line.picture:
        return said
    image = Image(BytesIO(line.picture))
    size = min(PICTURE_WIDE / image.imageWidth, PICTURE_HIGH / image.imageHeight)
    image.drawWidth, image.drawHeight = size * image.imageWidth, size * image.imageHeight
    table = Table([[said, image]], colWidths=[width - image.drawWidth - 6 * mm, None])
    table.setStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (0, 0), 0)])
    return [table]


def _around(each: Flowable) -> float:
    return float(each.getSpaceBefore() + each.getSpaceAfter())


def _ruled(left: float, width: float, language: Language) -> Table:
    """Lines to write on: as many as the page has room for, and a few on a full one."""
    count = min(max(int(left / LINE_APART) - 1, FEWEST_LINES), MOST_LINES)
    rows: list[list[Any]] = [[_said(language.say(NOTES), 10, bold=True)], *[[""]] * count]
    table = Table(rows, colWidths=[width], rowHeights=LINE_APART)
    table.setStyle(
        [
            ("LINEBELOW", (0, 1), (-1, -1), 0.4, on_paper("rule")),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
        ]
    )
    return table


def _said(
    text: str, size: float, *, bold: bool = False, before: float = 0, after: float = 0
) -> Paragraph:
    style = ParagraphStyle(
        "plan",
        fontName=BOLD if bold else REGULAR,
        fontSize=size,
        leading=size * 1.3,
        spaceBefore=before,
        spaceAfter=after,
    )
    return Paragraph(escape(text), style)
