"""Checks of single values: texts that say nothing, numbers out of range, roles there are not."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from enum import Enum
from functools import cache
from types import UnionType
from typing import Any, Final, Union, get_args, get_origin, get_type_hints

from plays.core import play as model
from plays.core.calls import faulty_braces, placeholders
from plays.core.document.walk import Fault, Place, WrittenValue, held
from plays.core.limits import KEY_PATTERN, MAX_ACTIONS, Range, Words
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
    words = field_limits().get((item.kind, item.name), Words())
    if not isinstance(words, Words):
        return
    needed = words.needed or item.name in _TEXT_LISTS
    if not item.value.strip() and (needed or item.value):
        yield Fault(item.place, "empty_text", EMPTY)
    if len(item.value) > words.most:
        slots = {"length": len(item.value), "most": words.most}
        yield Fault(item.place, "long_text", TOO_LONG, slots)


def _range(item: WrittenValue) -> Iterator[Fault]:
    limits = field_limits().get((item.kind, item.name))
    if not isinstance(limits, Range) or item.value is None:
        return
    if not limits.low <= item.value <= limits.high:
        slots = {"found": f"{item.value:g}", "low": f"{limits.low:g}", "high": f"{limits.high:g}"}
        yield Fault(item.place, "out_of_range", RANGE, slots)


@cache
def field_limits() -> Mapping[tuple[str, str], Range | Words]:
    """The limits on the fields of the model, by the kind and the name of the field."""
    kinds = [k for k in vars(model).values() if isinstance(k, type) and is_dataclass(k)]
    return {
        (kind.__name__, name): limit
        for kind in kinds
        for name, hint in get_type_hints(kind, include_extras=True).items()
        for limit in _marks(hint)
    }


def _marks(hint: Any) -> Iterator[Range | Words]:
    """The limits in a type: on itself, or on one side of "or nothing"."""
    yield from (mark for mark in get_args(hint) if isinstance(mark, Range | Words))
    if get_origin(hint) in {Union, UnionType}:
        yield from (mark for side in get_args(hint) for mark in _marks(side))


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
