"""Sheets on paper: A4 or Letter, black on white, good on a copier.

One player's sheet begins on a page of its own and carries name, team, date and the legend.
Everything is laid out by reportlab's Platypus; the diagrams are vectors and the text is text.

Long since a page is one piece of layout: its styles, flowables and breaks lean on each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any, Final
from xml.sax.saxutils import escape

from reportlab.lib.colors import black, white
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    KeepTogether,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
)

from plays.core.drawing.legend import legend
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.words.role_part import ChangeKind, CounterPart, PartChange, Step
from roster.core.paper.sheet import Sheet, SheetPart
from shared.core.drawing.pdf import BOLD, REGULAR, draw_on_canvas, register_fonts
from shared.core.drawing.picture import Picture, Sink
from shared.core.language import N_, Language

PAPERS: Final = {"a4": A4, "letter": LETTER}
MARGIN: Final = 14 * mm
HEAD: Final = 17 * mm
FOOT: Final = 13 * mm
GAP: Final = 4 * mm
NUMBER_WIDTH: Final = 5.5 * mm
PICTURE: Final = 0.42
"""The share of a line that a picture takes; its words stand beside it."""

TITLE: Final = N_("Sheets of {team}")
TITLE_ONE: Final = N_("Sheet of {player}, {team}")
ROLE: Final = N_("Role {role}")
REVISION: Final = N_("{play}, revision {revision}")
SIGNAL: Final = N_("Signal: {signal}")
STANDS_IN: Final = N_("You stand in for {who}.")
NOTHING_HERE: Final = N_("Nothing new for you here: keep your spot.")
LOOKS: Final = N_("The looks")
DEFENCE: Final = N_("When the defence answers")
NO_PART: Final = N_("You are in no play yet. Ask your coach.")
CAUTION: Final = N_(
    "Head knock? Stop for the day and tell a coach. "
    "Your club's rules and your coach's word come first."
)
PAGE: Final = N_("page {page}")


def write_sheets(
    sheets: Iterable[Sheet], out: Sink, *, paper: str, club: str, language: Language
) -> None:
    """Write these sheets, in this order, as one PDF.

    ``paper`` is a key of PAPERS. Raises KeyError for another, ValueError for no sheet at all.
    """
    made = list(sheets)
    if not made:
        raise ValueError("there is no sheet to write")
    register_fonts()
    width, height = PAPERS[paper]
    templates = [
        PageTemplate(
            id=str(index),
            frames=[Frame(MARGIN, FOOT, width - 2 * MARGIN, height - HEAD - FOOT, 0, 4, 0, 4)],
            onPage=_PageFrame(sheet, club, language),
        )
        for index, sheet in enumerate(made)
    ]
    document = BaseDocTemplate(
        out,
        pagesize=(width, height),
        pageTemplates=templates,
        title=_title(made, language),
        author=club,
        lang=language.code,
        invariant=1,
        initialFontName=REGULAR,
    )
    document.build(list(_story(made, width - 2 * MARGIN, language)))


def _title(sheets: list[Sheet], language: Language) -> str:
    first = sheets[0]
    if len(sheets) > 1:
        return language.say(TITLE, team=first.team)
    return language.say(TITLE_ONE, player=first.player.name, team=first.team)


class _PageFrame:
    """Draws what stands at the edge of each page of one sheet."""

    def __init__(self, sheet: Sheet, club: str, language: Language) -> None:
        self.sheet, self.club, self.language = sheet, club, language
        self.pages = 0

    def __call__(self, canvas: Canvas, document: Any) -> None:
        width, height = document.pagesize
        self.pages += 1
        canvas.saveState()
        canvas.setFont(BOLD, 13)
        name = f"{self.sheet.player.name}  {self.sheet.player.number}".strip()
        canvas.drawString(MARGIN, height - 11 * mm, name)
        canvas.setFont(REGULAR, 9)
        said = f"{self.sheet.team} · {self.sheet.made_on.isoformat()}"
        canvas.drawRightString(width - MARGIN, height - 11 * mm, said)
        canvas.setLineWidth(0.6)
        canvas.line(MARGIN, height - 13.5 * mm, width - MARGIN, height - 13.5 * mm)
        canvas.setFont(REGULAR, 7.5)
        canvas.drawString(MARGIN, 9.2 * mm, self.language.say(CAUTION))
        page = self.language.say(PAGE, page=self.pages)
        canvas.drawRightString(width - MARGIN, 6 * mm, f"{self.club} · {page}".lstrip(" ·"))
        canvas.restoreState()


class PictureBox(Flowable):
    """A picture among paragraphs."""

    def __init__(self, picture: Picture, width: float) -> None:
        super().__init__()
        self.picture, self.width = picture, width
        self.height = picture.height * width / picture.width

    def draw(self) -> None:
        draw_on_canvas(self.picture, self.canv, 0, 0, self.width)


class NumberBox(Flowable):
    """The number of a step, as the diagram shows it: white in a black box."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number
        self.width = self.height = NUMBER_WIDTH

    def draw(self) -> None:
        self.canv.setFillColor(black)
        self.canv.roundRect(0, 1.5, 13, 13, 2.5, stroke=0, fill=1)
        self.canv.setFillColor(white)
        self.canv.setFont(BOLD, 9)
        self.canv.drawCentredString(6.5, 4.8, str(self.number))


def _story(sheets: list[Sheet], width: float, language: Language) -> Iterator[Flowable]:
    for index, sheet in enumerate(sheets):
        if index:
            yield NextPageTemplate(str(index))
            yield PageBreak()
        yield PictureBox(
            legend(scheme="print", language=language, width=width, emphasis=True), width
        )
        yield Spacer(0, 3 * mm)
        if not sheet.parts:
            yield Paragraph(language.say(NO_PART), _style("body"))
        # The first play begins under the legend, and runs on if it must.
        for number, part in enumerate(sheet.parts):
            story = _part(part, width, language)
            yield from story if number == 0 else [KeepTogether(story)]


def _part(part: SheetPart, width: float, language: Language) -> list[Flowable]:
    """One play."""
    story = _heading(part, width, language)
    story += [
        _phase(part, phase.id, phase.title, width, language) for phase in part.carried.play.phases
    ]
    story += [Paragraph(escape(part.part.ending), _style("body"))]
    looks = [*(line.text for line in part.part.looks), part.part.no_look]
    if any(looks):
        story.append(Paragraph(language.say(LOOKS), _style("h3")))
        story += [Paragraph(escape(line), _style("body")) for line in looks if line]
    if part.part.counters:
        story += _counters(part.part.counters, language)
    story += [Paragraph(escape(part.part.note), _style("small")), Spacer(0, 5 * mm)]
    return story


def _heading(part: SheetPart, width: float, language: Language) -> list[Flowable]:
    role = language.say(ROLE, role=part.role)
    revision = language.say(REVISION, play=part.carried.play.name, revision=part.carried.revision)
    signal = language.say(SIGNAL, signal=part.carried.signal) if part.carried.signal else ""
    line = " · ".join(escape(words) for words in (role, revision, signal) if words)
    bar = Table([[Paragraph(escape(part.call), _style("call"))]], colWidths=[width])
    bar.setStyle([*_plain_cells(bottom=3), ("LINEABOVE", (0, 0), (-1, 0), 1.4, black)])
    made: list[Flowable] = [bar, Paragraph(line, _style("small"))]
    if part.stands_in_for:
        who = language.all_of(list(part.stands_in_for))
        made.append(Paragraph(escape(language.say(STANDS_IN, who=who)), _style("bold")))
    made += [Paragraph(escape(said), _style("bold")) for said in part.for_now]
    return [*made, Spacer(0, 2 * mm)]


def _phase(part: SheetPart, phase: str, title: str, width: float, language: Language) -> Flowable:
    """A phase's picture, large enough for its letters, and beside it what to do."""
    drawn = PICTURE * width
    beside = width - drawn - GAP
    words = list(_phase_words(part, phase, title, beside, language))
    picture = PictureBox(_picture(part, phase, drawn, language), drawn)
    table = Table([[picture, words]], colWidths=[drawn + GAP, beside])
    table.setStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *_plain_cells(bottom=2 * mm)])
    return table


def _picture(part: SheetPart, phase: str, width: float, language: Language) -> Picture:
    drawing = Drawing(
        emphasis=part.role,
        names=part.names,
        label="both",
        scheme="print",
        crop="action",
        language=language,
        width=width,
    )
    return diagram(part.carried.play, phase, drawing)


def _phase_words(
    part: SheetPart, phase: str, title: str, width: float, language: Language
) -> Iterator[Flowable]:
    """What to do in one phase; where to start is said before the first."""
    steps = [step for step in part.part.steps if step.phase == phase]
    number = [each.id for each in part.carried.play.phases].index(phase) + 1
    yield Paragraph(escape(f"{number}. {title}"), _style("h3"))
    if number == 1:
        yield from (Paragraph(escape(said), _style("body")) for said in part.part.start)
    if not steps:
        reading = part.part.reading_in(phase)
        said = language.say(NOTHING_HERE) if reading is None else reading.sentence
        yield Paragraph(escape(said), _style("body"))
    yield from (_step(step, width) for step in steps)


def _step(step: Step, width: float) -> Flowable:
    words = [Paragraph(escape(step.text), _style("body"))]
    words += [Paragraph(escape(line), _style("small")) for line in step.teach]
    table = Table([[NumberBox(step.number), words]], colWidths=[NUMBER_WIDTH, width - NUMBER_WIDTH])
    table.setStyle(
        [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            *_plain_cells(bottom=1.5),
            ("LEFTPADDING", (1, 0), (1, 0), 4),
        ]
    )
    return table


def _plain_cells(bottom: float) -> list[Any]:
    """Cells without padding, and without the table's own font, which nothing embeds."""
    sides = ("LEFTPADDING", "RIGHTPADDING", "TOPPADDING")
    return [
        *((side, (0, 0), (-1, -1), 0) for side in sides),
        ("BOTTOMPADDING", (0, 0), (-1, -1), bottom),
        ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ]


def _counters(counters: Iterable[CounterPart], language: Language) -> Iterator[Flowable]:
    yield Paragraph(language.say(DEFENCE), _style("h3"))
    for counter in counters:
        yield Paragraph(escape(counter.title), _style("bold"))
        lines = [counter.says] if counter.changes else [counter.says, counter.same]
        yield from (Paragraph(escape(line), _style("body")) for line in lines if line)
        for change in counter.changes:
            yield from _change(counter, change)


def _change(counter: CounterPart, change: PartChange) -> Iterator[Flowable]:
    """What is different, a line for each look where there are several."""
    if change.kind is not ChangeKind.LOOKS:
        yield Paragraph(escape(change.text), _style("point"), bulletText="–")
        return
    if change.heading:
        yield Paragraph(escape(change.heading), _style("point"), bulletText="–")
    for look in counter.part.looks:
        yield Paragraph(escape(look.text), _style("deeper"))


@cache
def _style(name: str) -> ParagraphStyle:
    """The paragraph styles of a sheet, made once the fonts are known."""
    body = ParagraphStyle(
        "body", fontName=REGULAR, bulletFontName=REGULAR, fontSize=9.5, leading=12.5, spaceAfter=2
    )
    made = {
        "body": body,
        "bold": ParagraphStyle("bold", body, fontName=BOLD),
        "point": ParagraphStyle("point", body, leftIndent=9, bulletIndent=0),
        "deeper": ParagraphStyle("deeper", body, leftIndent=18),
        "small": ParagraphStyle("small", body, fontSize=8, leading=10.5),
        "h3": ParagraphStyle("h3", body, fontName=BOLD, fontSize=10.5, spaceBefore=3, spaceAfter=3),
        "call": ParagraphStyle("call", body, fontName=BOLD, fontSize=15, leading=18),
    }
    return made[name]
