"""A play called in a game in words: its looks to choose from, and how it ended."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from plays.core.play import Play
from plays.core.words.terms import look_words
from practice.core.reps.called import CallResult, Take
from practice.models import CallResultChoice, TakenChoice
from shared.core.language import Language
from shared.speech import language_now

LOOK: Final = "look-"  # before a look's id, which may be any word


def looks_to_choose(play: Play | None) -> list[tuple[str, str]]:
    """What could be taken in a play: its looks, none of them, broken."""
    looks = () if play is None else looks_told(play, language_now())
    others = [(str(c.value), str(c.label)) for c in TakenChoice if c != TakenChoice.LOOK]
    return [*((f"{LOOK}{id_}", told) for id_, told in looks), *others]


def look_of(chosen: str) -> tuple[Take, str | None]:
    """What a choice of ``looks_to_choose`` says; the inverse is ``look_chosen``."""
    if chosen.startswith(LOOK):
        return Take.LOOK, chosen.removeprefix(LOOK)
    return Take(chosen), None


def look_chosen(taken: Take, look: str | None) -> str:
    """The choice that stands for what was taken."""
    return f"{LOOK}{look}" if taken is Take.LOOK else taken.value


def looks_told(play: Play, language: Language) -> tuple[tuple[str, str], ...]:
    """Every look of a play by its id: "2 to 4, lob".

    Those that only a counter has come last, with what the counter answers: "1 to 2 (switch)".
    """
    found = {look.id: look_words(look, {}, language) for look in play.looks}
    for counter in play.counters:
        against = defence_told(Tactic(counter.defence.value))
        for look in counter.looks:
            found.setdefault(look.id, f"{look_words(look, {}, language)} ({against})")
    return tuple(found.items())


def defence_told(defence: Tactic | None) -> str:
    """A defence that was seen, or nothing."""
    return _(TACTICS[defence]) if defence else ""


def look_told(looks: Mapping[str, str], taken: Take, look: str | None) -> str:
    """What was taken; a look that the play has no more by its id."""
    if taken is Take.LOOK and look is not None:
        return looks.get(look, look)
    return str(TakenChoice(taken.value).label)


def result_told(result: CallResult, points: int | None) -> str:
    """As in "2 points", "Foul drawn, 1 point" or "Turnover"."""
    label = str(CallResultChoice(result.value).label)
    if result not in (CallResult.POINTS, CallResult.FOUL) or points is None:
        return label
    said = points_told(points)
    return said if result is CallResult.POINTS else f"{label}, {said}"


def points_told(points: int) -> str:
    """As in "Missed" or "2 points"."""
    if not points:
        return _("Missed")
    return ngettext("%(n)d point", "%(n)d points", points) % {"n": points}
