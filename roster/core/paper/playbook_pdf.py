"""A playbook on paper: a cover, the plays by situation with their pages, then each play."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from plays.core.play import Situation
from roster.core.paper.blocks import (
    BASELINE,
    Gap,
    PaperBlock,
    Rule,
    column_width,
    columns,
    stack,
    text,
)
from roster.core.paper.leaf import (
    AS_OF,
    Booklet,
    Edge,
    Laid,
    Leaf,
    Passage,
    as_of,
    flow,
    room_of,
    write_booklets,
)
from roster.core.paper.part_block import BODY
from roster.core.paper.team_pdf import PlayHandout, handout_passage, key_block
from shared.core.days import day_said
from shared.core.drawing.fonts import text_width
from shared.core.drawing.pdf import REGULAR
from shared.core.drawing.picture import Sink
from shared.core.language import N_, NN_, Language

TITLE: Final = N_("Playbook")
TITLE_OF: Final = N_("Playbook of {team}")
PLAYS: Final = NN_("{n} play", "{n} plays")
CONTENTS: Final = N_("Contents")
LINES: Final = N_("What the lines mean")
CAUTION: Final = N_("Mind: {caution}")
ON_PAGE: Final = N_("p. {page}")
COVER_CAUTION: Final = N_(
    "Walk through a play before you run it, and only those who are cleared to play take part. "
    "Your club's rules, your federation's and a doctor's word come before anything in here."
)
SITUATIONS: Final[Mapping[Situation, str]] = MappingProxyType(
    {
        Situation.SIDELINE: N_("Sideline inbound"),
        Situation.BASELINE: N_("Baseline inbound"),
        Situation.PRESS_BREAK: N_("Press break"),
        Situation.HALF_COURT: N_("Half court"),
        Situation.AFTER_TIMEOUT: N_("After a time-out"),
        Situation.LAST_SHOT: N_("Last shot"),
    }
)
LARGE: Final = 40.0
MIDDLE: Final = 20.0
COVER_DOWN: Final = 0.28  # of the cover's height above its title
LINE: Final = 11.0  # letters of the contents, in points
CAUTION_UP: Final = 60.0  # points above the foot of the cover
GAP: Final = 24.0  # between two columns of the contents
MANY: Final = 888  # the widest page number


def write_playbook(
    handouts: Sequence[PlayHandout],
    out: Sink,
    edge: Edge,
    *,
    paper: str,
    language: Language,
    tell: Callable[[int], object] = lambda _: None,
) -> None:
    """Write the plays by situation, in the order given within each, as one PDF.

    ``tell`` hears after each play how many are laid out. Every play begins on a page of its own.
    Raises KeyError for a paper that is not known, ValueError for no play.
    """
    if not handouts:
        raise ValueError("there is no play to write")
    size = room_of(paper)
    order = list(Situation)
    ordered = sorted(handouts, key=lambda each: order.index(each.carried.play.situation))
    title = language.say(TITLE_OF, team=edge.team)
    plays = []
    for done, each in enumerate(ordered, start=1):
        plays.append(_leaves(each, edge, size, language))
        tell(done)
    contents = _contents(ordered, [0] * len(ordered), edge.made_on, size, language)
    firsts, page = [], 1 + len(contents)
    for leaves in plays:
        firsts.append(page + 1)
        page += len(leaves)
    contents = _contents(ordered, firsts, edge.made_on, size, language)
    leaves = (_cover(len(ordered), edge, size, language), *contents, *(o for p in plays for o in p))
    book = Booklet(language.say(TITLE), leaves)
    write_booklets([book], out, edge, title=title, paper=paper, language=language, fronts=False)


def _leaves(
    handout: PlayHandout, edge: Edge, size: tuple[float, float], language: Language
) -> tuple[Leaf, ...]:
    """The pages of a play: its cautions stand above its diagrams."""
    play = handout.carried.play
    width, height = size
    before: list[PaperBlock] = [text(play.use, width, BODY)] if play.use else []
    before += [text(language.say(CAUTION, caution=each), width, BODY) for each in play.cautions]
    passage = handout_passage(handout, edge.made_on, width, language, before=before, with_key=False)
    return flow([passage], height)


def _cover(count: int, edge: Edge, size: tuple[float, float], language: Language) -> Leaf:
    """Whose book it is, and of which day."""
    width, height = size
    rows: list[PaperBlock] = [
        text("", width, LARGE, bold=language.say(TITLE)),
        Gap(10),
        Rule(width, 1.4, 12),
        text("", width, MIDDLE, bold=edge.team),
    ]
    if edge.club and edge.club != edge.team:
        rows.append(text(edge.club, width, MIDDLE))
    rows += [
        Gap(10),
        text(day_said(edge.made_on, language), width, LINE),
        text(language.say_n(*PLAYS, count), width, LINE),
    ]
    caution = text(language.say(COVER_CAUTION), width, BODY)
    down = COVER_DOWN * height
    return Leaf((Laid(down, stack(rows)), Laid(height - CAUTION_UP, caution)))


def _contents(
    handouts: Sequence[PlayHandout],
    pages: Sequence[int],
    made_on: date,
    size: tuple[float, float],
    language: Language,
) -> tuple[Leaf, ...]:
    """The plays by situation with the page of each, and once what the lines mean."""
    width, height = size
    title = stack([text("", width, MIDDLE, bold=language.say(CONTENTS)), Gap(8)])
    found = list(zip(handouts, pages, strict=True))
    entries = [Passage((title,), bookmark=language.say(CONTENTS))]
    for situation in Situation:
        lines = [
            _ContentsRow(
                handout,
                _dated(handout, made_on, language),
                page,
                column_width(width, 2, GAP),
                language,
            )
            for handout, page in found
            if handout.carried.play.situation is situation
        ]
        if lines:
            head = text("", width, LINE + 2, bold=language.say(SITUATIONS[situation]))
            rows = [stack([head, Gap(3), columns(lines, 2, width, GAP), Gap(12)])]
            entries.append(Passage(tuple(rows)))
    key = stack(
        [
            Rule(width, 0.6, 6),
            text("", width, LINE, bold=language.say(LINES)),
            Gap(4),
            key_block(width, language, numbered=True),
        ]
    )
    return flow([*entries, Passage((key,))], height)


def _dated(handout: PlayHandout, made_on: date, language: Language) -> str:
    carried = handout.carried
    day = as_of(carried.published, made_on, language)
    return language.say(AS_OF, play=carried.play.name, day=day)


@dataclass(frozen=True, slots=True)
class _ContentsRow:
    """A play's calls, its name, and its page at the right."""

    handout: PlayHandout
    said: str  # the play's name, and as of when it is shown
    page: int
    width: float
    language: Language

    @property
    def height(self) -> float:
        return self._words().height + 4

    def _words(self) -> PaperBlock:
        inside = self.width - text_width(self.language.say(ON_PAGE, page=MANY), LINE) - 8
        return stack(list(self._said(inside)))

    def _said(self, inside: float) -> Iterator[PaperBlock]:
        calls = [self.handout.call, *(other.call for other in self.handout.others)]
        yield text("", inside, LINE, bold=" · ".join(calls))
        yield text(self.said, inside, BODY)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        self._words().draw(canvas, x, top)
        canvas.setFont(REGULAR, LINE)
        page = self.language.say(ON_PAGE, page=self.page)
        canvas.drawRightString(x + self.width, top - BASELINE * LINE, page)
