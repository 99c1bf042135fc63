"""What the page of one play shows, computed from its document."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from django.utils.safestring import SafeString, mark_safe

from plays.core.calls import by_name
from plays.core.check.begun import begun
from plays.core.drawing.legend import legend
from plays.core.drawing.options import PAGE_LEAST, PAGE_WIDTH, PLAIN, Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.play import ROLES, Counter, Look, Play, Role
from plays.core.sequence.after_look import numbers_after
from plays.core.sequence.course import assumed_looks, looks_with, with_counter
from plays.core.words.part import part_of
from plays.core.words.reads import condition
from plays.core.words.role_part import RolePart
from plays.core.words.terms import answered, look_words, need_words, own_words
from plays.core.words.variants import variant_sentence
from plays.play.view_form import drawn
from shared.core.drawing.picture import Picture
from shared.core.drawing.svg import svg_text
from shared.core.language import N_, Language

AFTER_LOOK = N_("after look {numbers}")

# What the core raises for a play whose parts do not fit together: see plays.core.problems.
UNDRAWABLE = (KeyError, ValueError, IndexError)


@dataclass(frozen=True, slots=True)
class Figure:
    """A diagram ready for a page, with its caption; ``what`` names its picture for saving."""

    svg: SafeString
    caption: str
    what: str
    teach: tuple[tuple[Role, str], ...] = ()
    rotation: bool = False
    after: str = ""  # the look that a rotation assumes, where it does


@dataclass(frozen=True, slots=True)
class LookWords:
    """A look in words. ``guess`` is a percentage, and the coach's own guess only."""

    text: str
    condition: str
    guess: int | None


@dataclass(frozen=True, slots=True)
class CounterView:
    counter: Counter
    title: str
    says: str
    figures: tuple[Figure, ...]
    looks: tuple[LookWords, ...]


@dataclass(frozen=True, slots=True)
class VariantLine:
    """Another call of a play: what it changes."""

    call: str
    sign: str
    sentence: str


@dataclass(frozen=True, slots=True)
class PlayView:
    """Everything that is shown of a play: computed for one request, kept nowhere."""

    figures: tuple[Figure, ...]
    looks: tuple[LookWords, ...]
    counters: tuple[CounterView, ...]
    needs: tuple[tuple[Role, tuple[str, ...]], ...]
    parts: tuple[RolePart, ...]
    legend: SafeString


def play_view(play: Play, language: Language, drawing: Drawing = PLAIN) -> PlayView:
    """Diagrams, looks, counters, needs and every role's part."""
    shown = drawn(play, drawing)
    return PlayView(
        figures=figures_of(shown, language, drawing),
        looks=look_lines(play.looks, drawing.names, language),
        counters=counter_views(shown, language, drawing),
        needs=tuple((role, need_words(play.needs, role, language)) for role in ROLES),
        parts=tuple(part_of(play, role, drawing.names, language) for role in ROLES),
        legend=legend_svg(language, defenders=drawing.defenders, numbered=bool(drawing.numbers)),
    )


def call_lines(
    play: Play, names: Mapping[Role, str], language: Language
) -> tuple[VariantLine, ...]:
    """The calls beside the play's first, in the order of the document."""
    return tuple(
        VariantLine(
            by_name(each.call, names, language),
            each.sign,
            variant_sentence(each, language, names),
        )
        for each in play.variants
    )


def view_if_drawable(play: Play, language: Language, drawing: Drawing = PLAIN) -> PlayView | None:
    """The same, or None for a faulty draft in which somebody or something is nowhere."""
    try:
        return play_view(play, language, drawing)
    except UNDRAWABLE:
        return None


def figures_of(play: Play, language: Language, drawing: Drawing = PLAIN) -> tuple[Figure, ...]:
    """One figure for each phase."""
    after = after_looks(play, language)
    return tuple(
        Figure(
            svg_of(
                diagram(play, phase.id, on_page(drawing, language)),
                f"{play.key}-phase-{number}",
            ),
            phase.title,
            f"phase-{number}",
            tuple((action.role, line) for action in phase.actions for line in action.teach),
            phase.rotation,
            after.get(phase.id, ""),
        )
        for number, phase in enumerate(play.phases, start=1)
    )


def after_looks(play: Play, language: Language) -> dict[str, str]:
    """By phase the looks that it is kept for, or the one as after which it is written where
    another one would change it."""
    return {
        phase: language.say(AFTER_LOOK, numbers=language.any_of([str(n) for n in numbers]))
        for phase, numbers in (numbers_after(play) | assumed_looks(play)).items()
    }


def counter_views(
    play: Play, language: Language, drawing: Drawing = PLAIN
) -> tuple[CounterView, ...]:
    """Each counter with the diagrams that it changes and its looks.

    Where the play's diagrams are numbered, those of a counter are by what begins when it is run.
    """
    return tuple(
        CounterView(
            counter,
            answered(counter, language),
            own_words(counter, language),
            _counter_figures(play, number, counter, language, in_order(play, counter, drawing)),
            look_lines(looks_with(play, counter) if counter.looks else (), drawing.names, language),
        )
        for number, counter in enumerate(play.counters, start=1)
    )


def _counter_figures(
    play: Play, number: int, counter: Counter, language: Language, drawing: Drawing
) -> tuple[Figure, ...]:
    found = []
    for place in changed_phases(play, counter):
        phase, what = play.phases[place - 1], f"counter-{number}-phase-{place}"
        picture = diagram(play, phase.id, on_page(drawing, language), counter=counter)
        found.append(Figure(svg_of(picture, f"{play.key}-{what}"), phase.title, what))
    return tuple(found)


def in_order(play: Play, counter: Counter, drawing: Drawing) -> Drawing:
    """The drawing with the numbers of the play as it is run with a counter, if it has any."""
    if not drawing.numbers:
        return drawing
    return replace(drawing, numbers=begun(with_counter(play, counter)))


def changed_phases(play: Play, counter: Counter) -> tuple[int, ...]:
    """The numbers, from 1, of the phases that look different when the counter is run."""
    changed = with_counter(play, counter)
    first = [phase.id for phase in play.phases].index(counter.from_phase)
    return tuple(
        place + 1
        for place, (old, new) in enumerate(zip(play.phases, changed.phases, strict=True))
        if place == first or (place > first and old != new)
    )


def look_lines(
    looks: Iterable[Look], names: Mapping[Role, str], language: Language
) -> tuple[LookWords, ...]:
    """The looks in their order, with names where there are any."""
    return tuple(
        LookWords(
            look_words(look, names, language),
            condition(look, language),
            None if look.guess is None else round(100 * look.guess),
        )
        for look in looks
    )


def legend_svg(
    language: Language, *, defenders: bool = False, numbered: bool = False, lean: bool = False
) -> SafeString:
    picture = legend(
        "page",
        language,
        width=PAGE_WIDTH,
        size=PAGE_LEAST,
        defenders=defenders,
        numbered=numbered,
    )
    return svg_of(picture, "legend", lean=lean)


def svg_of(picture: Picture, prefix: str, *, lean: bool = False) -> SafeString:
    """A picture as markup for a page; its writer escapes every text."""
    return mark_safe(svg_text(picture, prefix=prefix, lean=lean))  # noqa: S308 - see the docstring
