"""The revisions of a play and what changed between two of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString

from plays.core.drawing.options import PLAIN, on_page
from plays.core.drawing.phase import diagram
from plays.core.play import Phase, Play
from plays.core.words.difference import PlayChange, difference
from plays.models import Revision
from plays.play.page import UNDRAWABLE, svg_of
from plays.values import play_value, read_ahead
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class PhasePair:
    """One phase before and after; None where there was, or is, no such phase."""

    title: str
    old: SafeString | None
    new: SafeString | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two revisions: what changed in sentences, and the phases that look different.

    ``changes`` is None where one of them is a draft too faulty to be told.
    """

    old: Revision
    new: Revision
    changes: tuple[PlayChange, ...] | None
    phases: tuple[PhasePair, ...]


def comparison(old: Revision, new: Revision, language: Language) -> Comparison:
    """What changed from one revision to the other."""
    read_ahead((old, new))
    before, after = play_value(old), play_value(new)
    try:
        changes = difference(before, after, language)
        return Comparison(old, new, changes, _pairs(before, after, language))
    except UNDRAWABLE:
        return Comparison(old, new, None, ())


def two_of(revisions: Sequence[Revision], old: str, new: str) -> tuple[Revision, Revision] | None:
    """The revisions with these numbers, the earlier first; without numbers the two newest."""
    by_number = {str(revision.number): revision for revision in revisions}
    if not old and not new:
        return (revisions[1], revisions[0]) if len(revisions) > 1 else None
    found = by_number.get(old), by_number.get(new)
    if found[0] is None or found[1] is None or found[0] == found[1]:
        return None
    return (found[0], found[1])


def _pairs(before: Play, after: Play, language: Language) -> tuple[PhasePair, ...]:
    """The phases whose pictures differ, those that are new or gone too."""
    pictures = {"old": _pictures(before, "old", language), "new": _pictures(after, "new", language)}
    phases: dict[str, Phase] = {phase.id: phase for phase in (*before.phases, *after.phases)}
    pairs = []
    for phase in phases.values():
        old, new = (pictures[side].get(phase.id, ("", None)) for side in ("old", "new"))
        if old[0] != new[0]:
            pairs.append(PhasePair(phase.title, old[1], new[1]))
    return tuple(pairs)


def _pictures(play: Play, side: str, language: Language) -> dict[str, tuple[str, SafeString]]:
    """By phase: the bare drawing, to compare, and the drawing for the page."""
    drawn = {}
    for number, phase in enumerate(play.phases):
        picture = diagram(play, phase.id, on_page(PLAIN, language))
        drawn[phase.id] = (str(picture.shapes), svg_of(picture, f"{side}-{number}"))
    return drawn
