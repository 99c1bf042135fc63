"""Checks of single values: texts that say nothing, numbers out of range, roles there are not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum
from typing import Final

from plays.core.calls import faulty_braces, placeholders
from plays.core.document.limits import KEY_PATTERN, LENGTHS, LOUD, MAX_ACTIONS, RANGES
from plays.core.document.walk import Fault, Place, WrittenValue, held
from plays.core.play import ROLES, Conditions, Play
from shared.core.language import N_

EMPTY: Final = N_("{place} is empty. Write something, or leave it out.")
TOO_LONG: Final = N_("{place} has {length} characters; {most} is the most.")
ODD_KEY: Final = N_("The key “{key}” may hold only small letters, digits, “-” and “_”.")
RANGE: Final = N_("{place} is {found}; it must lie between {low} and {high}.")
NO_ROLE: Final = N_("{place} is “{found}”, but the roles are 1 to 5.")
CALL_ROLE: Final = N_("The call names “{found}” in braces, but the roles are 1 to 5.")
CALL_BRACES: Final = N_("The call has a brace without its partner. Write a role as {example}.")
LIMITS_CROSSED: Final = N_("{place}: “from” is more than “to”.")
TOO_MANY: Final = N_("The play has {count} actions; {most} is the most.")

_ROLE_FIELDS: Final = frozenset(
    {"role", "ball", "thrower", "cutter", "to", "passer", "receiver", "guards", "whose"}
)
_TEXT_LISTS: Final = frozenset({"teach", "errors", "cautions", "remove"})


def single_values(play: Play) -> Iterator[Fault]:
    """What is wrong with texts, numbers and roles, each by itself."""
    for item in held(play):
        yield from _text(item)
        yield from _range(item)
        if item.name in _ROLE_FIELDS and item.value is not None and item.value not in ROLES:
            yield Fault(item.place, "unknown_role", NO_ROLE, {"found": str(item.value)})
    if play.key.strip() and not re.fullmatch(KEY_PATTERN, play.key):
        yield Fault(("key",), "key", ODD_KEY, {"key": play.key})
    yield from _call(play)
    if play.conditions is not None:
        yield from _conditions(play.conditions)
    yield from _size(play)


def _text(item: WrittenValue) -> Iterator[Fault]:
    if not isinstance(item.value, str) or isinstance(item.value, Enum):
        return
    needed = (item.kind, item.name) in LOUD or item.name in _TEXT_LISTS
    if not item.value.strip() and (needed or item.value):
        yield Fault(item.place, "empty_text", EMPTY)
    most = LENGTHS.get((item.kind, item.name))
    if most is not None and len(item.value) > most:
        slots = {"length": len(item.value), "most": most}
        yield Fault(item.place, "long_text", TOO_LONG, slots)


def _range(item: WrittenValue) -> Iterator[Fault]:
    limits = RANGES.get((item.kind, item.name))
    if limits is None or item.value is None:
        return
    if not limits.low <= item.value <= limits.high:
        slots = {"found": f"{item.value:g}", "low": f"{limits.low:g}", "high": f"{limits.high:g}"}
        yield Fault(item.place, "out_of_range", RANGE, slots)


def _call(play: Play) -> Iterator[Fault]:
    for found in placeholders(play.call):
        if found not in ROLES:
            yield Fault(("call",), "call_unknown_role", CALL_ROLE, {"found": found})
    if faulty_braces(play.call):
        yield Fault(("call",), "call_braces", CALL_BRACES, {"example": "{4}"})


def _conditions(conditions: Conditions) -> Iterator[Fault]:
    for name in ("seconds_left", "margin"):
        low, high = getattr(conditions, f"{name}_from"), getattr(conditions, f"{name}_to")
        if low is not None and high is not None and low > high:
            yield Fault(("conditions", f"{name}_from"), "limits_crossed", LIMITS_CROSSED)


def _size(play: Play) -> Iterator[Fault]:
    count = len(play.actions()) + sum(len(c.add) + len(c.replace) for c in play.counters)
    if count > MAX_ACTIONS:
        place: Place = ("phases",)
        yield Fault(place, "too_many", TOO_MANY, {"count": count, "most": MAX_ACTIONS})
