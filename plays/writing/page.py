"""What is shown beside a text while it is written: its faults, its pictures, its count strip."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from plays.core.court.courts import court
from plays.core.drawing.options import PLAIN, Drawing
from plays.core.play import Play, RuleSet
from plays.core.shorthand import tongue
from plays.core.shorthand.places import names
from plays.core.shorthand.read import read
from plays.core.shorthand.told import Told
from plays.core.shorthand.vocabulary import VERBS
from plays.play.page import UNDRAWABLE, CounterView, Figure, counter_views, figures_of
from plays.play.strip import StripView, plain_strip
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class SeenText:
    """A text as far as it can be shown; without pictures where somebody is nowhere yet."""

    play: Play
    faults: tuple[Told, ...]
    figures: tuple[Figure, ...]
    counters: tuple[CounterView, ...]
    strip: StripView | None

    @property
    def unread(self) -> bool:
        """Whether a line of the text is not in the play."""
        return any(fault.unread for fault in self.faults)


def seen(text: str, language: Language) -> SeenText:
    """Everything that follows from the text. No defence is computed, so it answers at once."""
    reading = read(text, language)
    strip = None if reading.faults else plain_strip(reading.play, {}, language)
    drawing = Drawing(numbers=strip.numbers) if strip else PLAIN
    try:
        figures = figures_of(reading.play, language, drawing)
        counters = counter_views(reading.play, language, drawing)
    except UNDRAWABLE:
        return SeenText(reading.play, reading.faults, (), (), None)
    return SeenText(reading.play, reading.faults, figures, counters, strip)


def in_words_of(text: str, language: Language) -> str:
    """A text of the shorthand in the words of who reads it, where the shorthand has them."""
    return tongue.spanish(text) if language.code == tongue.CODE else text


@cache
def completions(code: str) -> Mapping[str, tuple[str, ...]]:
    """What the shorthand knows to say in a language: its verbs, and the places of a FIBA court."""
    verbs, places = tuple(VERBS), tuple(names(court(RuleSet.FIBA)))
    if code != tongue.CODE:
        return {"verbs": verbs, "places": places}
    return {
        "verbs": tuple(map(tongue.spanish_words, verbs)),
        "places": tuple(tongue.spanish_words(place).partition(" ")[2] for place in places),
    }
