"""What hangs on the wall or goes round: a handout for each play, and the card of the calls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from plays.core.check.begun import begun
from plays.core.drawing.legend import legend
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import ROLES, Role
from plays.core.words.part import part_of
from plays.core.words.terms import WHEN_THEY, own_words
from plays.core.words.variants import OtherCall, variant_sentence
from roster.core.paper.blocks import (
    Beside,
    Gap,
    Numbered,
    PaperBlock,
    PictureBox,
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
    Passage,
    as_of,
    flow,
    room_of,
    write_booklets,
)
from roster.core.paper.part_block import BETWEEN, BODY, LETTERS, NUMBERED, SMALL, STRIP, Heading
from roster.core.paper.sheet import CarriedPlay
from shared.core.drawing.picture import Sink, resized
from shared.core.language import N_, Language

HANDOUTS: Final = N_("Handouts of {team}")
CALL_CARD: Final = N_("Calls of {team}")
SIGNAL: Final = N_("Signal: {signal}")
LOOKS: Final = N_("The looks")
NO_SIGNAL: Final = N_("no signal")
CALL_SIZES: Final = (20.0, 18.0, 16.0, 14.0, 12.0, 10.0, 8.0)
LEGEND_SCALE: Final = 0.8


@dataclass(frozen=True, slots=True)
class PlayHandout:
    """A play as the team runs it: the call as it is heard, who is first and who stands in."""

    carried: CarriedPlay
    call: str
    names: Mapping[Role, str]  # the first five
    places: Mapping[Role, str]  # "Ida, Noor" by depth
    others: tuple[OtherCall, ...] = ()


def write_handouts(
    handouts: Sequence[PlayHandout], out: Sink, edge: Edge, *, paper: str, language: Language
) -> None:
    """Write a page, or two, for each play. Raises ValueError where there is none."""
    if not handouts:
        raise ValueError("there is no play to write")
    size = room_of(paper)
    booklets = [
        Booklet(each.call, flow([handout_passage(each, edge.made_on, size[0], language)], size[1]))
        for each in handouts
    ]
    title = language.say(HANDOUTS, team=edge.team)
    write_booklets(booklets, out, edge, title=title, paper=paper, language=language, fronts=False)


def handout_passage(
    handout: PlayHandout,
    made_on: date,
    width: float,
    language: Language,
    *,
    before: Sequence[PaperBlock] = (),
    with_key: bool = True,
) -> Passage:
    """A play: calls, then ``before``, diagrams, each role's words, counters, what lines mean."""
    carried = handout.carried
    play, cell = carried.play, column_width(width, STRIP, BETWEEN)
    day = as_of(carried.published, made_on, language)
    said = language.say(AS_OF, play=play.name, day=day)
    signal = language.say(SIGNAL, signal=carried.signal) if carried.signal else ""
    head = Heading(handout.call, " · ".join(word for word in (said, signal) if word), width)
    order = begun(play)
    cells = [_phase(handout, n, cell, language, order) for n in range(len(play.phases))]
    strips = [cells[at : at + STRIP] for at in range(0, len(cells), STRIP)]
    rows: list[PaperBlock] = [
        Beside(tuple((n * (cell + BETWEEN), each) for n, each in enumerate(strip)))
        for strip in strips
    ]
    calls = _other_calls(handout, width, language)
    rows[0] = stack([head, *calls, *before, Gap(4), rows[0]])
    words = [*_roles(handout, cell, language, order), *_counters(handout, cell, language)]
    rows.append(stack([columns(words, STRIP, width, BETWEEN), Gap(6)]))
    if with_key:
        rows.append(key_block(width, language, numbered=bool(order)))
    return Passage(
        tuple(rows), text("", width, BODY, bold=handout.call), handout.call, ((play.name, day),)
    )


def key_block(width: float, language: Language, *, numbered: bool) -> PaperBlock:
    """What the lines of the diagrams mean."""
    wide, letters = width / LEGEND_SCALE, BODY / LEGEND_SCALE
    key = legend("print", language, width=wide, size=letters, numbered=numbered)
    return PictureBox(resized(key, width))


def _other_calls(handout: PlayHandout, width: float, language: Language) -> Iterator[PaperBlock]:
    """What the play's further calls change, and their signs."""
    for other in handout.others:
        sign = language.say(SIGNAL, signal=other.sign) if other.sign else ""
        said = variant_sentence(other.variant, language, handout.names)
        words = " · ".join(word for word in (said, sign) if word)
        yield text(words, width, BODY, bold=other.call)


def _phase(
    handout: PlayHandout, index: int, width: float, language: Language, order: Mapping[str, int]
) -> PaperBlock:
    play = handout.carried.play
    phase = play.phases[index]
    drawing = Drawing(
        names=handout.names,
        label="both",
        numbers=order,
        scheme="print",
        crop="action",
        language=language,
        width=width,
        least=LETTERS,
    )
    title = text("", width, BODY, bold=f"{index + 1}. {phase.title}")
    return stack([title, Gap(2), PictureBox(diagram(play, phase.id, drawing)), Gap(6)])


def _roles(
    handout: PlayHandout, width: float, language: Language, order: Mapping[str, int]
) -> Iterator[PaperBlock]:
    """What each role does, numbered as in the diagrams, who is in it, what its passer reads."""
    for role in ROLES:
        part = part_of(handout.carried.play, role, handout.names, language)
        made: list[PaperBlock] = [
            text(handout.places.get(role, ""), width, BODY, bold=role),
            *(text(said, width, BODY) for said in part.start),
        ]
        for step in part.steps:
            number = order.get(step.action) if order else step.number
            made += [Numbered(number, text(step.text, width - NUMBERED, BODY)), Gap(1.5)]
        made += [text(said, width, BODY) for said in (part.ending,) if said]
        reads = [look.text for look in part.looks if look.reads]
        if reads:
            made.append(text("", width, BODY, bold=language.say(LOOKS)))
            made += [text(said, width, BODY) for said in reads]
        yield stack([*made, Gap(6)])


def _counters(handout: PlayHandout, width: float, language: Language) -> Iterator[PaperBlock]:
    for counter in handout.carried.play.counters:
        title = language.say(WHEN_THEY[counter.defence])
        yield stack([text(own_words(counter, language), width, BODY, bold=f"{title}."), Gap(3)])


@dataclass(frozen=True, slots=True)
class CallLine:
    """One call for the wall."""

    call: str
    signal: str
    play: str
    day: str  # as of when it is shown, in words


def write_call_card(
    lines: Sequence[CallLine],
    out: Sink,
    *,
    team: str,
    made_on: date,
    club: str,
    paper: str,
    language: Language,
) -> None:
    """Write every call with its signal, in letters as large as one page allows."""
    size = room_of(paper)
    rows = _calls(lines, size[0], CALL_SIZES[0], language)
    for letters in CALL_SIZES[1:]:
        if sum(row.height for row in rows) <= size[1]:
            break
        rows = _calls(lines, size[0], letters, language)
    title = language.say(CALL_CARD, team=team)
    leaves = flow([Passage((row,)) for row in rows], size[1])
    edge = Edge(team, made_on, club)
    write_booklets([Booklet(title, leaves)], out, edge, title=title, paper=paper, language=language)


def _calls(
    lines: Iterable[CallLine], width: float, size: float, language: Language
) -> list[PaperBlock]:
    made: list[PaperBlock] = []
    left, right = 0.42 * width, 0.55 * width
    for line in lines:
        said = language.say(AS_OF, play=line.play, day=line.day)
        call = stack([text("", left, size, bold=line.call), text(said, left, SMALL)])
        signal = text(line.signal or language.say(NO_SIGNAL), right, size)
        row = Beside(((0.0, call), (width - right, signal)))
        made.append(stack([Rule(width, 0.5, 5), row, Gap(5)]))
    return made
