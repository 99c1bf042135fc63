"""The count strip as a picture: who does what when, what can be thrown when, the line at five.

Read in black and white: on the way a full bar, standing in a screen an open one behind a thick
stroke where the screener is set, a ball in the air a broken line from hand to hand. A window
under a role's bars is the time in which a look to it can be thrown; its word says whether it
is open. Every bar carries its action's or look's id as a mark, so that a page can tie it to
the diagram.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import accumulate
from typing import Final

from plays.core.defence.verdict import Word
from plays.core.defence.words import WORDS
from plays.core.drawing.inks import Scheme, strip_inks
from plays.core.drawing.marks import BALL
from plays.core.drawing.screens import bar_ends
from plays.core.drawing.strip import ActionBar, LookBar, Mark, Row, Strip
from plays.core.drawing.strip_key import key_height, key_shapes
from plays.core.drawing.strip_scale import (
    BAR,
    BAR_LANE,
    DISC,
    HEAD,
    LOOK_BAR,
    NARROWEST,
    PAD,
    RIGHT,
    Scale,
    lanes_of,
    scale_of,
)
from plays.core.play import Role
from plays.core.words.terms import DEFENDS
from shared.core.drawing.fonts import CAP_HEIGHT, text_width
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Picture, Shape, Text, lines
from shared.core.language import ENGLISH, N_, Language

WIDTH: Final = 760.0
WIDE: Final = 560.0  # points from which on there is room for names and words
SIZE: Final = 9.5
SMALL: Final = 8.8
APART: Final = 9.0  # points between the middles of two findings

TITLE: Final = N_("{play}: the count strip")
SAYS: Final = N_(
    "A row for each role, seconds from left to right. Bars are actions, windows under them the"
    " time in which a look can be thrown."
)
SAYS_COUNT: Final = N_("A thick line stands at {count} seconds, where the count ends.")
SIGNAL: Final = N_("signal")
DOES: Final[Mapping[str, str]] = {
    "cut": N_("cut"),
    "screen": N_("screen"),
    "dribble": N_("dribble"),
    "shot": N_("shot"),
    "hold": N_("stay"),
}


def strip_picture(
    strip: Strip,
    name: str,
    *,
    width: float = WIDTH,
    names: Mapping[Role, str] | None = None,
    scheme: Scheme = "light",
    language: Language = ENGLISH,
) -> Picture:
    """The strip of the play called ``name``, with the key of its signs below."""
    people = {role: text for role, text in (names or {}).items() if text} if width > WIDE else {}
    left = 4 * DISC + max((text_width(text, SIZE) for text in people.values()), default=0.0)
    scale = scale_of(strip, width, left)
    height = scale.bottom + 10 + key_height(width, language)
    drawing = _Drawing(strip, scale, people, language, width)
    shapes = (Box((0, 0), width, height, Paint(fill="paper")), *drawing.shapes())
    key = key_shapes(width, scale.bottom + 10, language)
    says = [language.say(SAYS)]
    if strip.count is not None:
        says.append(language.say(SAYS_COUNT, count=language.number(strip.count, 0)))
    return Picture(
        width,
        height,
        (*shapes, *key),
        language.say(TITLE, play=name),
        " ".join(says),
        strip_inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )


class _Drawing:
    def __init__(
        self,
        strip: Strip,
        scale: Scale,
        names: Mapping[Role, str],
        language: Language,
        width: float,
    ) -> None:
        self.strip, self.scale, self.names = strip, scale, names
        self.language, self.width = language, width

    def shapes(self) -> Iterator[Shape]:
        yield from self._ground()
        yield from self._flights()
        for row in self.strip.rows:
            yield from self._row(row)
        yield from self._count()
        for row in self.strip.rows:
            yield from self._marks(row)
        yield self._now()

    def _ground(self) -> Iterator[Shape]:
        """What is past the count, the seconds, the lines between the rows."""
        scale, strip = self.scale, self.strip
        bottom, right = scale.bottom, self.width - RIGHT
        if strip.count is not None and strip.count < scale.until:
            x = scale.x(strip.count)
            yield Box((x, HEAD), right - x, bottom - HEAD, Paint(fill="lane"))
        grid = Paint(stroke="court", width=0.6)
        step = 1 if scale.unit > 26 else 2
        for second in range(0, int(scale.until) + 1, step):
            x = scale.x(second)
            yield Path(lines((x, HEAD), (x, bottom)), grid)
            if second != strip.count:
                yield Text((x, HEAD - 6), str(second), SIZE, "quiet", anchor="middle")
        for row in strip.rows:
            y = scale.tops[row.role]
            yield Path(lines((4, y), (right, y)), grid)
        yield Path(lines((4, bottom), (right, bottom)), grid)
        x = scale.x(strip.signal)
        thin = Paint(stroke="quiet", width=1, dash=(2, 2), round=False)
        yield Path(lines((x, HEAD - 14), (x, bottom)), thin)
        yield Text((x, HEAD - 18), self.language.say(SIGNAL), SMALL, "quiet", anchor="middle")

    def _count(self) -> Iterator[Shape]:
        count = self.strip.count
        if count is None:
            return
        x = self.scale.x(count)
        said = f"{self.language.number(count, 0)} s"
        paint = Paint(stroke="ink", width=2.6, round=False)
        yield Group(
            (
                Path(lines((x, HEAD - 12), (x, self.scale.bottom)), paint),
                Text((x, HEAD - 17), said, 11.0, "ink", bold=True, anchor="middle"),
            ),
            (("part", "count"),),
        )

    def _now(self) -> Group:
        """A thin line at time zero, which a page may move: so many points to a second."""
        x = self.scale.x(0.0)
        line = Path(lines((x, HEAD - 4), (x, self.scale.bottom)), Paint(stroke="own", width=1.4))
        return Group((line,), (("part", "now"), ("unit", f"{self.scale.unit:.4f}")))

    def _row(self, row: Row) -> Iterator[Shape]:
        yield from self._head(row.role)
        for bar in row.bars:
            yield self._bar(row.role, bar)
        lanes = lanes_of(row.looks, self.scale.unit)
        for look, lane in zip(row.looks, lanes, strict=True):
            yield self._look(row.role, look, lane)

    def _head(self, role: Role) -> Iterator[Shape]:
        x, y = 4 + DISC, self.scale.bar_y(role)
        yield Circle((x, y), DISC, Paint(stroke="ink", fill="paper", width=1.4))
        yield Text((x, y + 11 * CAP_HEIGHT / 2), role, 11.0, "ink", True, "middle")
        if role in self.names:
            yield Text((x + DISC + 5, y + SIZE * CAP_HEIGHT / 2), self.names[role], SIZE, "ink")

    def _bar(self, role: Role, bar: ActionBar) -> Group:
        x, y = self.scale.x(bar.start), self.scale.bar_y(role)
        wide = max(self.scale.x(bar.end) - x, 1.5)
        top = y - BAR / 2
        drawn: list[Shape]
        if bar.kind == "throw":
            drawn = [Path(lines((x, y), (x + wide, y)), Paint(stroke="ink", width=1.2))]
        elif bar.kind == "held":
            ends = bar_ends((x, y), (1.0, 0.0), BAR + 7)
            set_ = Paint(stroke="ink", width=3.2, round=False)
            body = Paint(stroke="ink", fill="paper", width=1.2)
            drawn = [Box((x, top), wide, BAR, body), Path(lines(*ends), set_)]
        else:
            drawn = [Box((x, top), wide, BAR, Paint(fill="ink"), 2.0), *self._word(bar, x, y, wide)]
        return self._tied(drawn, (x, y, wide), BAR_LANE, (("action", bar.action), ("part", "bar")))

    def _word(self, bar: ActionBar, x: float, y: float, wide: float) -> Iterator[Text]:
        """What the role does, beside the line at the count rather than under it."""
        words = self.language.say(DOES.get(bar.does, ""))
        begin, end = x, x + wide
        if self.strip.count is not None and begin < self.scale.x(self.strip.count) < end:
            line = self.scale.x(self.strip.count)
            begin, end = (begin, line) if line - begin >= end - line else (line, end)
        if words and text_width(words, SMALL) + 6 <= end - begin:
            base = y + SMALL * CAP_HEIGHT / 2
            yield Text(((begin + end) / 2, base), words, SMALL, "paper", anchor="middle")

    def _tied(
        self,
        drawn: list[Shape],
        place: tuple[float, float, float],
        tall: float,
        marks: tuple[tuple[str, str], ...],
    ) -> Group:
        """With an area of no ink that is easier to touch than the bar."""
        x, y, wide = place
        touch = max(wide, 14.0)
        area = Box((x - (touch - wide) / 2, y - tall / 2), touch, tall, Paint())
        return Group((*drawn, area), marks)

    def _look(self, role: Role, look: LookBar, lane: int) -> Group:
        x, top = self.scale.x(look.start), self.scale.look_y(role, lane)
        wide = max(self.scale.x(look.end) - x, NARROWEST)
        middle = top + LOOK_BAR / 2
        full = look.word == Word.OPEN
        dash = (3.0, 2.0) if look.word in (Word.COVERED, Word.PAST, Word.NOT_YET) else None
        paint = Paint(stroke="own", fill="own" if full else "paper", width=1.4, dash=dash)
        drawn: list[Shape] = [Box((x, top), wide, LOOK_BAR, paint, 2.0)]
        if look.word == Word.CONTESTED:
            stripe = Paint(stroke="own", width=3.0, round=False)
            drawn.append(Path(lines((x, top + LOOK_BAR), (x + wide, top + LOOK_BAR)), stripe))
        drawn.extend(self._look_words(look, x, middle, wide))
        if look.best is not None and look.best <= look.end + 1e-9:
            drawn.append(_diamond(self.scale.x(look.best), top))
        marks = (("action", look.look), ("part", "look"))
        return self._tied(drawn, (x, middle, wide), LOOK_BAR + 4, marks)

    def _with_read(self, look: LookBar, said: str) -> str:
        return said if look.read is None else f"{said} ({self.language.say(DEFENDS[look.read])})"

    def _look_words(self, look: LookBar, x: float, y: float, wide: float) -> Iterator[Text]:
        number = str(look.number)
        said = f"{number} {self.language.say(WORDS[look.word])}" if look.word else number
        base = y + SMALL * CAP_HEIGHT / 2
        ink = "on_own" if look.word == Word.OPEN else "own"
        for text in (self._with_read(look, said), said, number):
            if text_width(text, SMALL, bold=True) + 6 <= wide:
                yield Text((x + wide / 2, base), text, SMALL, ink, True, "middle")
                return
        yield Text((x + wide + 3, base), number, SMALL, "own", bold=True)

    def _flights(self) -> Iterator[Group]:
        """Balls in the air: from the passer's row to the receiver's."""
        sent: dict[str, tuple[float, float]] = {}
        caught: dict[str, tuple[float, float]] = {}
        for row in self.strip.rows:
            for mark in row.marks:
                place = self.scale.x(mark.at), self.scale.bar_y(row.role)
                if mark.kind == "release":
                    sent[mark.of] = place
                elif mark.kind == "catch":
                    caught[mark.of] = place
        for of, begin in sent.items():
            if of in caught:
                yield _flight(of, begin, caught[of])

    def _marks(self, row: Row) -> Iterator[Shape]:
        y = self.scale.tops[row.role] + PAD + 1
        found = [mark for mark in row.marks if mark.kind == "finding"]
        moments = [self.scale.x(mark.at) for mark in found]
        places = accumulate(moments, lambda before, x: max(x, before + APART))
        for mark, x in zip(found, places, strict=True):
            yield finding_mark(mark, x, y)


def finding_mark(mark: Mark, x: float, y: float) -> Group:
    """A square for what cannot work, a triangle for what will often go wrong."""
    shape: Shape
    if mark.severity == "serious":
        shape = Box((x - 3.6, y - 3.6), 7.2, 7.2, Paint(stroke="paper", fill="bad", width=0.8))
    else:
        steps = lines((x, y - 4.4), (x + 4.6, y + 3.6), (x - 4.6, y + 3.6), closed=True)
        shape = Path(steps, Paint(stroke="paper", fill="warn", width=0.8))
    return Group((shape,), (("finding", mark.of), ("part", "finding")))


def _flight(of: str, begin: tuple[float, float], end: tuple[float, float]) -> Group:
    dash = Paint(stroke="ink", width=1.3, dash=(4.0, 2.6), round=False)
    ball = Paint(stroke="paper", fill="ink", width=1.2)
    drawn = (Path(lines(begin, end), dash), Circle(begin, BALL, ball), Circle(end, BALL, ball))
    return Group(drawn, (("action", of), ("part", "flight")))


def _diamond(x: float, y: float) -> Path:
    steps = lines((x, y - 4), (x + 4, y), (x, y + 4), (x - 4, y), closed=True)
    return Path(steps, Paint(stroke="paper", fill="ink", width=0.8))
