"""Sentences in a reader's language: whole templates with named slots, never glued fragments.

The English sentence is the key. ``N_`` marks a template where it is written, so that the
catalogue check finds it; ``Language.say`` translates it and fills its slots::

    WAIT = N_("Wait until {who} is set.")
    language("es", folder).say(WAIT, who="Ida (5)")

A catalogue is ``<code>/LC_MESSAGES/django.mo`` in a folder that whoever asks passes in. Read with
the standard library's gettext; nothing here knows the site.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from gettext import GNUTranslations, NullTranslations
from pathlib import Path
from string import Formatter
from types import MappingProxyType
from typing import Final, Self

DOMAIN: Final = "django"

Slot = str | int


class MissingSlotError(ValueError):
    """A template names a slot for which no value came."""


class UnknownLanguageError(ValueError):
    """There is no catalogue for the language asked for."""


def N_(template: str) -> str:  # noqa: N802 (the name that gettext's own manual gives the marker)
    """The template itself, marked for the catalogue."""
    return template


def NN_(one: str, many: str) -> tuple[str, str]:  # noqa: N802 (the plural of N_)
    """A pair for ``say_n``, marked for the catalogue as singular and plural."""
    return one, many


TWO_AND: Final = N_("{first} and {last}")
TWO_OR: Final = N_("{first} or {last}")
MORE: Final = N_("{first}, {rest}")
_COUNTS: Final = (
    *(N_("zero"), N_("one"), N_("two"), N_("three"), N_("four"), N_("five")),
    *(N_("six"), N_("seven"), N_("eight"), N_("nine"), N_("ten")),
)

# Where words meet and one changes: (pattern, what to write). Spanish: a + el = al, de + el = del;
# y before the sound i becomes e, o before the sound o becomes u (Real Academia Española,
# Diccionario panhispánico de dudas; from memory).
Meetings = tuple[tuple[re.Pattern[str], str], ...]

_MEETINGS: Final[Mapping[str, Meetings]] = {
    "es": (
        (re.compile(r"\b([Aa]) el\b"), r"\1l"),
        (re.compile(r"\b([Dd])e el\b"), r"\1el"),
        (re.compile(r"\by (?=[hH]?[iIíÍ](?![aeoAEO]))"), "e "),
        (re.compile(r"\bo (?=[hH]?[oOóÓ]|8|11\b)"), "u "),
    ),
}
_DECIMAL_COMMA: Final = frozenset({"es"})


class Phrase(str):
    """Words that change those right before them, as "at" goes before "a step above the block".

    ``before`` says how, with patterns that end where the phrase begins. A sentence that begins
    with a phrase is one in its turn.
    """

    __slots__ = ("before",)
    before: Meetings

    def __new__(cls, text: str, before: Meetings = ()) -> Self:
        made = super().__new__(cls, text)
        made.before = before
        return made


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Whole sentences that are said ``instead`` of others, whatever the language.

    ``name`` alone tells one vocabulary from another.
    """

    name: str
    instead: Mapping[str, str] = field(repr=False, compare=False)


AS_WRITTEN: Final = Vocabulary("", MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Language:
    """A language by its code, the catalogue that speaks it, and its choice of words."""

    code: str
    translations: NullTranslations = field(repr=False, compare=False)
    vocabulary: Vocabulary = field(default=AS_WRITTEN, repr=False)

    def say(self, template: str, /, **slots: Slot) -> str:
        """The template in this language, its slots filled. Raises MissingSlotError."""
        chosen = self.vocabulary.instead.get(template, template)
        words = self.translations.gettext(chosen) if chosen else ""
        return self._filled(words, slots)

    def say_n(self, one: str, many: str, n: int, /, **slots: Slot) -> str:
        """Like ``say``, in the form that ``n`` asks for; ``{n}`` is filled with n."""
        words = self.translations.ngettext(one, many, n)
        return self._filled(words, {"n": n, **slots})

    def all_of(self, items: Sequence[str]) -> str:
        """A list in a sentence: "a", "a and b", "a, b and c"."""
        return self._joined(items, TWO_AND)

    def any_of(self, items: Sequence[str]) -> str:
        """A choice in a sentence: "a", "a or b", "a, b or c"."""
        return self._joined(items, TWO_OR)

    def number(self, value: float, digits: int = 1, *, fixed: bool = False) -> str:
        """A number for people, with the language's decimal sign; idle zeros only if ``fixed``."""
        text = f"{value:.{digits}f}"
        if "." in text and not fixed:
            text = text.rstrip("0").rstrip(".")
        return text.replace(".", ",") if self.code in _DECIMAL_COMMA else text

    def count(self, n: int) -> str:
        """A small number as a word, so that nobody takes it for a role: "two", "11"."""
        return self.say(_COUNTS[n]) if 0 <= n < len(_COUNTS) else str(n)

    def _joined(self, items: Sequence[str], last_two: str) -> str:
        if len(items) < 2:
            return "".join(items)
        joined = self.say(last_two, first=items[-2], last=items[-1])
        for item in reversed(items[:-2]):
            joined = self.say(MORE, first=item, rest=joined)
        return joined

    def _filled(self, words: str, slots: Mapping[str, Slot]) -> str:
        text, lead = "", Phrase("")
        for literal, name in _pieces(words):
            text += literal
            if name is None:
                continue
            if name not in slots:
                raise MissingSlotError(f"no value for {name!r} in {words!r}")
            value = slots[name]
            if isinstance(value, Phrase):
                lead = lead if text else value
                text = met(text, value.before)
            text += str(value)
        text = met(text, _MEETINGS.get(self.code, ()))
        return Phrase(text, lead.before) if lead.before else text


def met(text: str, meetings: Meetings) -> str:
    """The text with each of the meetings written as it should be, in their order."""
    for meeting, written in meetings:
        text = meeting.sub(written, text)
    return text


@cache
def _pieces(words: str) -> tuple[tuple[str, str | None], ...]:
    """A template in pieces: the words, then the slot after them."""
    return tuple((literal, name) for literal, name, _, _ in Formatter().parse(words))


def sentence(text: str) -> str:
    """The text with its first letter in upper case, the rest as it was."""
    return text[:1].upper() + text[1:]


def slots_of(template: str) -> frozenset[str]:
    """The names of the slots in a template."""
    return frozenset(name for _, name, _, _ in Formatter().parse(template) if name)


ENGLISH: Final = Language("en", NullTranslations())


@cache
def language(code: str, catalogues: Path) -> Language:
    """The language for a code such as "es" or "es-MX", from a folder of catalogues.

    Raises UnknownLanguageError.

    A regional code is answered with the language itself.
    """
    base = re.split("[-_]", code.lower())[0]
    if base == ENGLISH.code:
        return ENGLISH
    catalogue = catalogues / base / "LC_MESSAGES" / f"{DOMAIN}.mo"
    if not base.isalpha() or not catalogue.is_file():
        raise UnknownLanguageError(f"no catalogue for the language {code!r}")
    with catalogue.open("rb") as file:
        return Language(base, GNUTranslations(file))
