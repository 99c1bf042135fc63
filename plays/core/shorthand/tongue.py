"""The shorthand in Spanish words: every line said again in the other language, at its number.

    english(spanish(text)) reads as text does

Only what belongs to the grammar is said again. What somebody wrote (names, titles, cues,
conditions, whatever stands in quotation marks) is passed on sign for sign.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.shorthand import spanish_words as words
from plays.core.shorthand.sheet import LISTS, VALUES
from plays.core.shorthand.typed import quoted_in, typed
from plays.core.shorthand.vocabulary import READS_AS_ACTION

CODE: Final = "es"

_PREFIX: Final = re.compile(r"\s*(?:(?:[•*·▪◦]|\d{1,2}\))\s+)?")
_DASH: Final = re.compile(r"[-–—]\s+")
_HEADING: Final = re.compile(r"([a-z-]+)( [^:]*)?:(.*)", re.IGNORECASE)
_NUMBERED: Final = re.compile(r"(?: \d{1,2})?\s*")
_IN_LANGUAGE: Final = re.compile(r"(?:in|en) ([a-z]{2,3}):\s*", re.IGNORECASE)


def _folded(text: str) -> str:
    """The text without accents, sign for sign, as a phone in a hurry leaves it."""
    return "".join(unicodedata.normalize("NFD", sign)[0] for sign in text)


def _apart(text: str) -> str:
    """*al* and *del* as the two words that they are."""
    return re.sub(r"\b(a|de)l\b", r"\1 el", text)


def _met(text: str) -> str:
    return re.sub(r"\b(a|de) el\b", r"\1l", text)


def _either(said: Iterable[str]) -> str:
    return "|".join(re.escape(each) for each in sorted(said, key=len, reverse=True))


_ALL: Final = (
    *(*words.PHRASES, *words.VERBS, *words.NOUNS, *words.LISTED, *words.PLACES),
    *(*words.ORDINALS,),
)
_TO_SPANISH: Final[Mapping[str, str]] = dict(reversed(_ALL))
_TO_ENGLISH: Final[Mapping[str, str]] = {
    _folded(_apart(other)): one
    for one, other in reversed((*_ALL, *words.ALSO, *words.FORMER_PLACES))
} | {re.sub("^(el|la) ", "", _folded(_apart(said))): name for name, said in words.PLACES}
_NOUNS: Final = dict(words.NOUNS)
_ORDINALS: Final = dict(words.ORDINALS)
_PLAIN_NOUNS: Final = {_folded(said): noun for noun, said in words.NOUNS} | {"entrega": "hand-off"}
_PLAIN_ORDINALS: Final = {_folded(said): each for each, said in words.ORDINALS}

_ENGLISH: Final = re.compile(
    rf"(?<![\w'-])(?:(?P<who>[1-5])'s (?:(?P<which>{_either(_ORDINALS)}|\d+th) )?(?P<new>new )?"
    rf"(?P<noun>{_either(_NOUNS)})|(?:the )?(?P<said>{_either(_TO_SPANISH)}))(?![\w'])"
)
_SPANISH: Final = re.compile(
    rf"(?<![\w])(?:(?:el |la )?(?:(?P<which>{_either(_PLAIN_ORDINALS)}|\d+º) )?(?P<new>nuevo )?"
    rf"(?P<noun>{_either(_PLAIN_NOUNS)}) de (?P<who>[1-5])"
    rf"|(?P<said>{_either(_TO_ENGLISH)}))(?!\w)"
)
_VERBS: Final = dict(words.VERBS)
_SPANISH_VERBS: Final = [
    _folded(said) for verb, said in (*words.VERBS, *words.ALSO) if verb in _VERBS
]
_SPANISH_ACTION: Final = re.compile(rf"[1-5] (?:{_either(_SPANISH_VERBS)})\b", re.IGNORECASE)
_COMMA: Final = re.compile(r"(?<![\d.,])(\d{1,3}),(\d{1,3})(?![\d.,])")


@dataclass(frozen=True, slots=True)
class _Way:
    """From one language to the other: its headings, its word for a condition, its phrases."""

    headings: Mapping[str, str]
    condition: tuple[str, str]
    inside: str
    says: Callable[[str], str]
    is_action: Callable[[str], bool]


def spanish(text: str) -> str:
    """A text of the shorthand, as ``write`` makes it, in Spanish words."""
    return _walked(text, _OUT)


def english(text: str) -> str:
    """A text in Spanish words as the reader knows it; any other as it is."""
    return _walked(text, _BACK) if is_spanish(text) else text


def is_spanish(text: str) -> bool:
    """Whether a heading or an action of the text is in Spanish."""
    return any(_speaks_spanish(line) for line in text.split("\n"))


def spanish_words(said: str) -> str:
    """A few words of the grammar in Spanish: a verb, a place, a piece of a line."""
    return dict(words.HEADINGS).get(said) or _say_in_spanish(said)


def _speaks_spanish(line: str) -> bool:
    said = _folded(_PREFIX.sub("", line, count=1))
    found = _HEADING.fullmatch(said)
    heading = found is not None and found[1].lower() in _BACK.headings
    return heading or _SPANISH_ACTION.match(said) is not None


def _say_in_spanish(said: str) -> str:
    def one(found: re.Match[str]) -> str:
        if found["said"] is not None:
            return _TO_SPANISH[found["said"]]
        which = found["which"]
        order = "" if which is None else _ORDINALS.get(which) or which.replace("th", "º")
        parts = (order, "nuevo" if found["new"] else "", _NOUNS[found["noun"]])
        return f"el {' '.join(filter(None, parts))} de {found['who']}"

    return _outside_quotes(said, lambda part: _met(_ENGLISH.sub(one, part)))


def _say_in_english(said: str) -> str:
    def one(found: re.Match[str]) -> str:
        if found["said"] is not None:
            return _TO_ENGLISH[found["said"]]
        which = found["which"]
        order = "" if which is None else _PLAIN_ORDINALS.get(which) or which.replace("º", "th")
        parts = (order, "new" if found["new"] else "", _PLAIN_NOUNS[found["noun"]])
        return f"{found['who']}'s {' '.join(filter(None, parts))}"

    def plain(part: str) -> str:
        return _SPANISH.sub(one, _apart(_folded(_COMMA.sub(r"\1.\2", part))))

    return _outside_quotes(typed(said), plain)


def _outside_quotes(said: str, change: Callable[[str], str]) -> str:
    made, at = [], 0
    for found in quoted_in(said):
        made += [change(said[at : found.start()]), found[0]]
        at = found.end()
    return "".join((*made, change(said[at:])))


def _walked(text: str, way: _Way) -> str:
    walker = _Walker(way)
    return "\n".join(walker.line(line) for line in text.replace("\r\n", "\n").split("\n"))


class _Walker:
    """Remembers under which heading the next line stands, to tell grammar from texts."""

    def __init__(self, way: _Way) -> None:
        self.way = way
        self.section = ""

    def line(self, line: str) -> str:
        start = _PREFIX.match(line)
        prefix = start[0] if start else ""
        said = line.removeprefix(prefix)
        if not said or said.startswith("#"):
            return line
        if self.way is _BACK and READS_AS_ACTION.match(said.lower()):
            return line
        return prefix + (self._heading(said) or self._body(said))

    def _heading(self, said: str) -> str:
        """The line with its heading in the other language; nothing where it is none."""
        if found := _IN_LANGUAGE.fullmatch(said):
            self.section = "teach"
            return f"{self.way.inside} {found[1]}:"
        found = _HEADING.fullmatch(said) or _HEADING.fullmatch(_folded(said))
        name = found and self.way.headings.get(_folded(found[1]).lower())
        if found is None or name is None:
            return ""
        between, value = found[2] or "", said[len(said) - len(found[3]) :]
        plain = name if self.way is _BACK else found[1].lower()
        if plain == "counter":
            self.section = "phase"
            return f"{name}{' ' * bool(between)}{self.way.says(between.strip())}:{value}"
        if plain == "rotation" and not _NUMBERED.fullmatch(between):
            between = f" {self.way.says(between.strip())}"
        elif not _NUMBERED.fullmatch(between):
            return ""
        if plain not in VALUES:
            self.section = plain
        return f"{name}{between}:{value if plain in words.FREE else self._value(value)}"

    def _value(self, value: str) -> str:
        return f" {self.way.says(value.strip())}" if value.strip() else value

    def _body(self, said: str) -> str:
        dash = _DASH.match(said)
        if self.section in LISTS:
            return said
        if dash is not None:
            text = said[dash.end() :]
            if self.section not in ("phase", "rotation") or self.way.is_action(text):
                return dash[0] + self._row(text)
            if self.way is _OUT and _SPANISH_ACTION.match(_folded(text)):
                return dash[0] + json.dumps(text, ensure_ascii=False)
            return said
        return self._row(said)

    def _row(self, said: str) -> str:
        if self.section != "looks":
            return self.way.says(said)
        here, there = self.way.condition
        head, comma, condition = _split_once(said, here)
        return self.way.says(head) + (f"{there}{condition}" if comma else "")


def _split_once(said: str, mark: str) -> tuple[str, bool, str]:
    at = said.lower().find(mark)
    return (said, False, "") if at < 0 else (said[:at], True, said[at + len(mark) :])


_OUT: Final = _Way(
    dict(words.HEADINGS),
    (", if ", ", si "),
    "en",
    _say_in_spanish,
    lambda said: READS_AS_ACTION.match(said) is not None,
)
_BACK: Final = _Way(
    {_folded(said): heading for heading, said in words.HEADINGS}
    | {said: heading for heading, said in words.ALSO if heading == "looks"},
    (", si ", ", if "),
    "in",
    _say_in_english,
    lambda said: _SPANISH_ACTION.match(_folded(said)) is not None,
)
