"""What the page of one play shows, computed from its document."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from plays.core.course import with_counter
from plays.core.diagram import diagram
from plays.core.diagram_legend import legend
from plays.core.play import Counter, Look, Play, Role
from shared.core.language import Language
from shared.core.picture import Picture
from shared.core.svg import write_svg


@dataclass(frozen=True, slots=True)
class Figure:
    """A diagram ready for a page, with its caption."""

    svg: SafeString
    caption: str
    teach: tuple[tuple[Role, str], ...] = ()


@dataclass(frozen=True, slots=True)
class CounterView:
    counter: Counter
    figures: tuple[Figure, ...]
    looks: tuple[Look, ...]


def figures_of(
    play: Play, language: Language, names: Mapping[Role, str] | None = None
) -> tuple[Figure, ...]:
    """One figure for each phase."""
    return tuple(
        Figure(
            svg_of(
                diagram(play, phase.id, names=names, scheme="page", language=language),
                f"{play.key}-{phase.id}",
            ),
            phase.title,
            tuple((a.role, line) for a in phase.actions for line in a.teach),
        )
        for phase in play.phases
    )


def counter_views(play: Play, language: Language) -> tuple[CounterView, ...]:
    """Each counter with the diagrams that it changes."""
    return tuple(_counter_view(play, counter, language) for counter in play.counters)


def _counter_view(play: Play, counter: Counter, language: Language) -> CounterView:
    changed = with_counter(play, counter)
    first = [phase.id for phase in play.phases].index(counter.from_phase)
    old = {phase.id: phase for phase in play.phases}
    figures = tuple(
        Figure(
            svg_of(
                diagram(play, phase.id, counter=counter, scheme="page", language=language),
                f"{play.key}-{counter.id}-{phase.id}",
            ),
            phase.title,
        )
        for phase in changed.phases[first:]
        if phase != old[phase.id] or phase.id == counter.from_phase
    )
    return CounterView(counter, figures, counter.looks)


def legend_svg(language: Language) -> SafeString:
    return svg_of(legend(scheme="page", language=language), "legend")


def svg_of(picture: Picture, prefix: str) -> SafeString:
    """A picture as markup for a page; its writer escapes every text."""
    out = io.BytesIO()
    write_svg(picture, out, prefix=prefix)
    return mark_safe(out.getvalue().decode("utf-8"))  # noqa: S308 - see the docstring
