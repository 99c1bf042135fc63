"""Everything that is wrong with a file in one list: how it is written, and what it says.

A file that cannot be read as a play still says most of what its author meant. A copy is mended
(what is nearly a word becomes that word, what means nothing falls away, what is missing is
filled with something harmless), and the checks of form are asked about the copy. Of their
answers those are dropped that could come from the mending.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, MutableMapping, MutableSequence
from copy import deepcopy
from difflib import get_close_matches
from enum import EnumMeta, StrEnum
from typing import Any, Final, NamedTuple

from plays.core import play as model
from plays.core.document.file import VERSION_KEY, known_keys, read_draft
from plays.core.document.form import problems
from plays.core.document.problem import Token, tokens
from plays.core.play import VERSION, Play
from shared.core.finding import Finding
from shared.core.language import ENGLISH, Language

_FILLERS: Final[Mapping[str, Any]] = {
    "key": "key",
    "name": "?",
    "title": "?",
    "says": "?",
    "situation": "half_court",
    "formation": "other",
    "court": "FIBA",
    "defence": "switch",
    "quality": "reading",
    "level": 3,
    "at": [0, 5],
}
# Mending any other word may change who does what, so then only single values are judged.
_HARMLESS: Final = frozenset(_FILLERS) | frozenset(
    {"series", "call", "use", "teach", "errors", "cautions", "condition", "guess", "weight"}
    | {"cut", "screen", "pass_kind", "easy", "decoy", "wait", "conditions", "origin", "path"}
)
_SINGLE: Final = frozenset(
    {"empty_text", "long_text", "out_of_range", "key", "call_unknown_role", "call_braces"}
    | {"limits_crossed", "id_twice", "need_twice"}
)
_OF_PLACES: Final = frozenset(
    {"same_place", "start_off", "thrower_in", "thrower_far", "path_off", "look_off"}
    | {"defender_off", "spot_off"}
)


class Review(NamedTuple):
    """The play, if the file can be read as one, and every problem found."""

    play: Play | None
    problems: tuple[Finding, ...]


def review(data: bytes | str | Mapping[str, Any], language: Language = ENGLISH) -> Review:
    """Read a file and list everything wrong with it. Never raises."""
    draft = read_draft(data, language)
    if draft.play is not None and not draft.problems:
        return Review(draft.play, problems(draft.play, language))
    mended, exact = _mended(draft.values, draft.problems)
    again = read_draft({VERSION_KEY: VERSION, **mended}, language)
    if again.play is None or again.problems:
        return Review(None, draft.problems)
    blamed = [tokens(problem.place) for problem in draft.problems]
    judged = problems(again.play, language)
    return Review(None, (*draft.problems, *(p for p in judged if _stands(p, blamed, exact))))


def _stands(found: Finding, blamed: list[tuple[Token, ...]], exact: bool) -> bool:
    """Whether a fault of form owes nothing to the mending."""
    at = tokens(found.place)
    for place in blamed:
        whole = place[:-1] or place  # the object in which the mended word stands
        if at[: len(whole)] == whole:
            return False
        if place[-1] == "situation" and found.code == "situation_spot":
            return False
        if not {"at", "path", "court", "spot"}.isdisjoint(map(str, place)):
            exact = exact and found.code not in _OF_PLACES
    return exact or found.code in _SINGLE


def _mended(values: Mapping[str, Any], found: Collection[Finding]) -> tuple[dict[str, Any], bool]:
    """A copy that may be readable, and whether it surely still says who does what."""
    copy, exact = deepcopy(dict(values)), True
    for problem in found:
        place = tokens(problem.place)
        holder = _at(copy, place[:-1])
        if place and isinstance(holder, dict | list):
            certain = _mend(holder, place[-1], problem.code)
            key = next((t for t in reversed(place) if isinstance(t, str)), "")
            exact = exact and (certain or key in _HARMLESS)
    return copy, exact


def _at(value: Any, place: tuple[Token, ...]) -> Any:
    for token in place:
        try:
            value = value[token]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def _mend(holder: Any, token: Token, code: str) -> bool:
    """Mend one word in place; True if it surely says what was meant."""
    if code == "unknown_key":
        return _rename(holder, str(token))
    if isinstance(holder, MutableMapping):
        near = get_close_matches(str(holder.get(str(token))), _choices(), n=1, cutoff=0.75)
        if code == "choice" and near:
            holder[str(token)] = near[0]
            return True
        if token in _FILLERS:
            holder[str(token)] = _FILLERS[str(token)]
        else:
            holder.pop(str(token), None)
    elif isinstance(holder, MutableSequence) and isinstance(token, int) and token < len(holder):
        holder[token] = [0, 5] if code == "place" else 0
    return False


def _rename(holder: MutableMapping[str, Any], key: str) -> bool:
    held = holder.pop(key, None)
    near = get_close_matches(key, known_keys(), n=1, cutoff=0.7)
    if near and near[0] not in holder:
        holder[near[0]] = held
    return True


def _choices() -> list[str]:
    kinds = [kind for kind in vars(model).values() if isinstance(kind, EnumMeta)]
    return [str(choice) for kind in kinds if issubclass(kind, StrEnum) for choice in kind]
