"""A problem: where in a play document, which, and a sentence that a coach understands.

Places are JSON pointers (RFC 6901) into the document, said as "phase 2, action 3".
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language, Slot, sentence

Token = str | int

# How one item of each list in a document is called.
_ITEMS: Final = {
    "starts": N_("start {n}"),
    "phases": N_("phase {n}"),
    "actions": N_("action {n}"),
    "path": N_("point {n} of the path"),
    "cues": N_("cue {n}"),
    "looks": N_("look {n}"),
    "counters": N_("counter {n}"),
    "variants": N_("variant {n}"),
    "swaps": N_("swap {n}"),
    "remove": N_("removal {n}"),
    "replace": N_("replacement {n}"),
    "add": N_("addition {n}"),
    "whose": N_("defended role {n}"),
    "needs": N_("need {n}"),
    "spacing": N_("spacing {n}"),
    "defenders": N_("defender {n}"),
    "teach": N_("teaching cue {n}"),
    "errors": N_("common error {n}"),
    "cautions": N_("caution {n}"),
    "translations": N_("translation {n}"),
    "plays": N_("play {n}"),
}
_PARTS: Final = {
    "name": N_("the name"),
    "call": N_("the call"),
    "title": N_("the title"),
    "joint": N_("the joint screen"),
    "spot": N_("the throw-in spot"),
    "at": N_("the place"),
    "read": N_("what it reads"),
    "conditions": N_("the conditions"),
    "origin": N_("the origin"),
}
WHOLE: Final = N_("the play")
OTHER_ITEM: Final = N_("“{key}” {n}")
OTHER_PART: Final = N_("“{key}”")


def problem(
    at: Sequence[Token], code: str, language: Language, template: str, /, **slots: Slot
) -> Finding:
    """A problem at a place; the slot ``place``, unless given, is that place in words."""
    filled = {"place": where(at, language), **slots}
    return Finding(code, Severity.SERIOUS, pointer(*at), sentence(language.say(template, **filled)))


def pointer(*keys: Token) -> str:
    """The JSON pointer that these keys and indices make."""
    return "".join("/" + str(token).replace("~", "~0").replace("/", "~1") for token in keys)


def tokens(at: str) -> tuple[Token, ...]:
    """The inverse of ``pointer``, for documents whose keys are not all digits."""
    parts = (part.replace("~1", "/").replace("~0", "~") for part in at.split("/")[1:])
    return tuple(int(part) if part.isdecimal() and len(part) < 7 else part for part in parts)


def where(place: Sequence[Token], language: Language) -> str:
    """The place in a coach's words, counting from 1: "phase 2, action 3"; "the play" for none."""
    said: list[str] = []
    for index, token in enumerate(place):
        if isinstance(token, int):
            said.append(_item(place[index - 1] if index else "", token + 1, language))
        elif index + 1 == len(place) or not isinstance(place[index + 1], int):
            said.append(language.say(_PARTS.get(token, OTHER_PART), key=token))
    return ", ".join(said) or language.say(WHOLE)


def _item(key: Token, number: int, language: Language) -> str:
    return language.say(_ITEMS.get(str(key), OTHER_ITEM), key=key, n=number)
