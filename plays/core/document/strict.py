"""Read the JSON of a play with suspicion: plain values, and a list of what cannot be a play.

Refused whole: files too large, that are no UTF-8 JSON object, or nested too deep. Reported at
their place, with something harmless in their stead so that reading goes on: a key written
twice, NaN and infinity, numbers, texts and lists out of all proportion. Numbers are kept to a
thousandth, which is the millimetre for a place.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Mapping
from math import isfinite
from typing import Any, Final

from plays.core.document.problem import Token, problem, where
from plays.core.limits import (
    DIGITS,
    MAX_BYTES,
    MAX_DEPTH,
    MAX_ITEMS,
    MAX_NAME,
    MAX_NUMBER,
    MAX_TEXT,
)
from shared.core.finding import Finding
from shared.core.language import N_, Language

TOO_LARGE: Final = N_("The file holds {size} kB; a play holds {most} kB at most.")
NO_TEXT: Final = N_("The file is not text in UTF-8. Save it as UTF-8 and try again.")
EMPTY: Final = N_("The file is empty.")
NO_JSON: Final = N_("The file is not JSON: it stops making sense at line {line}, column {column}.")
NO_VALUES: Final = N_("The file is not JSON: it cannot be read at all.")
NO_OBJECT: Final = N_("The file is JSON, but not a play: a play is an object in braces.")
TOO_DEEP: Final = N_("{place} is nested deeper than any play.")
TWICE: Final = N_("“{key}” is written twice in {place}. Keep one.")
NO_NUMBER: Final = N_("{place} is not a number that can be measured.")
LARGE_NUMBER: Final = N_("{place} is a number far too large for a play.")
LONG_TEXT: Final = N_("{place} has {length} characters; {most} is the most.")
ODD_TEXT: Final = N_("{place} holds characters that cannot be printed.")
ODD_KEY: Final = N_("{place} holds a key that is no word of a play.")
LONG_LIST: Final = N_("{place} has {length} items; {most} is the most.")
NOT_A_PLACE: Final = N_(
    "{place} must be two numbers in brackets: across and up the court, in metres."
)


class Unreadable(ValueError):  # noqa: N818 (reads as what it says)
    """The bytes hold no JSON object of a bearable size."""

    def __init__(self, problem: Finding) -> None:
        super().__init__(problem.sentence)
        self.problem = problem


class _Object(dict[str, Any]):
    """A JSON object that remembers which keys came twice."""

    def __init__(self, pairs: list[tuple[str, Any]]) -> None:
        super().__init__(pairs)
        self.twice: tuple[str, ...] = ()
        if len(self) < len(pairs):
            counts = Counter(key for key, _ in pairs)
            self.twice = tuple(key for key, count in counts.items() if count > 1)


def plain_object(
    data: bytes | str | Mapping[str, Any], language: Language, most: int = MAX_BYTES
) -> tuple[dict[str, Any], tuple[Finding, ...]]:
    """The JSON object in ``data``, cleaned, and what was cleaned. Raises Unreadable."""
    values = _loaded(data, language, most)
    if not isinstance(values, dict):
        raise _unreadable(language, "no_play", NO_OBJECT)
    cleaner = _Cleaner(language)
    return cleaner.clean(values, ()), tuple(cleaner.problems)


def _loaded(data: bytes | str | Mapping[str, Any], language: Language, most: int) -> Any:
    text = _text(data, language)
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > most:
        kilobytes = {"size": (size + 1023) // 1024, "most": most // 1024}
        raise _unreadable(language, "too_large", TOO_LARGE, **kilobytes)
    if not text.strip():
        raise _unreadable(language, "empty", EMPTY)
    try:
        return json.loads(text, object_pairs_hook=_Object)
    except json.JSONDecodeError as error:
        spot = {"line": error.lineno, "column": error.colno}
        raise _unreadable(language, "no_json", NO_JSON, **spot) from None
    except (ValueError, RecursionError):  # digits without end, brackets without end
        raise _unreadable(language, "no_json", NO_VALUES) from None


def _text(data: bytes | str | Mapping[str, Any], language: Language) -> str:
    if isinstance(data, str):
        return data.removeprefix("\ufeff")
    if isinstance(data, bytes):
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise _unreadable(language, "no_text", NO_TEXT) from None
    try:
        return json.dumps(dict(data))
    except (TypeError, ValueError, RecursionError):
        raise _unreadable(language, "no_json", NO_VALUES) from None


def _unreadable(language: Language, code: str, template: str, **slots: str | int) -> Unreadable:
    return Unreadable(problem((), code, language, template, **slots))


class _Cleaner:
    """Walks the values, keeps what can stand in a play and notes the rest."""

    def __init__(self, language: Language) -> None:
        self.problems: list[Finding] = []
        self._language = language

    def clean(self, value: Any, at: tuple[Token, ...]) -> Any:
        if isinstance(value, dict | list) and len(at) >= MAX_DEPTH:
            return self._note(at, "too_deep", TOO_DEEP)
        kinds: tuple[tuple[type, Callable[[Any, tuple[Token, ...]], Any]], ...] = (
            (dict, self._object),
            (list, self._list),
            (str, self._text),
            (bool, lambda flag, _: flag),
            (float, self._number),
            (int, self._whole),
        )
        return next((clean(value, at) for kind, clean in kinds if isinstance(value, kind)), None)

    def _object(self, value: dict[str, Any], at: tuple[Token, ...]) -> Any:
        known = {
            key: item for key, item in value.items() if len(key) <= MAX_NAME and _printable(key)
        }
        if len(known) < len(value):
            self._note(at, "odd_key", ODD_KEY)
        for key in filter(known.__contains__, getattr(value, "twice", ())):
            self._note((*at, key), "twice", TWICE, key=key, place=where(at, self._language))
        if at and (at[-1] == "at" or (len(at) > 1 and at[-2] == "path")):
            return self._note(at, "place", NOT_A_PLACE, instead=[0, 0])
        return {key: self.clean(item, (*at, key)) for key, item in known.items()}

    def _list(self, value: list[Any], at: tuple[Token, ...]) -> list[Any]:
        if len(value) > MAX_ITEMS:
            self._note(at, "long_list", LONG_LIST, length=len(value), most=MAX_ITEMS)
        return [self.clean(item, (*at, index)) for index, item in enumerate(value[:MAX_ITEMS])]

    def _text(self, value: str, at: tuple[Token, ...]) -> str:
        if len(value) > MAX_TEXT:
            self._note(at, "long_text", LONG_TEXT, length=len(value), most=MAX_TEXT)
        if not _printable(value):
            self._note(at, "odd_text", ODD_TEXT)
            value = "".join(letter for letter in value if _printable(letter))
        return value[:MAX_TEXT]

    def _number(self, value: float, at: tuple[Token, ...]) -> float:
        if not isfinite(value):
            self._note(at, "no_number", NO_NUMBER)
            return 0
        if value.is_integer() or abs(value) > MAX_NUMBER:
            return self._whole(int(value), at)
        return round(value, DIGITS)

    def _whole(self, value: int, at: tuple[Token, ...]) -> int:
        if abs(value) > MAX_NUMBER:
            self._note(at, "large_number", LARGE_NUMBER)
            return 0
        return value

    def _note(
        self, at: tuple[Token, ...], code: str, template: str, *, instead: Any = None, **slots: Any
    ) -> Any:
        self.problems.append(problem(at, code, self._language, template, **slots))
        return instead


def _printable(text: str) -> bool:
    """No control characters but line end and tab, and no half of a surrogate pair."""
    return not any(
        (letter < " " and letter not in "\n\t")
        or letter == "\x7f"
        or "\ud800" <= letter <= "\udfff"
        for letter in text
    )
