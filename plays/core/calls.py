"""What a team calls a play: "Lantern {5}" with the role in braces filled by a player's call name.

Two players with one call name are told apart by their shirt numbers, and by their roles where
nothing else is known.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from typing import Final, TypeVar

from plays.core.play import Role, role_of
from shared.core.language import N_, Language

K = TypeVar("K", bound=Hashable)

WITH_NUMBER: Final = N_("{name} ({number})")
WITH_ROLE: Final = N_("{name} ({role})")
WITH_BOTH: Final = N_("{name} ({number}, role {role})")

_BRACES: Final = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True, slots=True)
class CallName:
    """What a player is called on the floor, and the shirt number as it is printed."""

    name: str
    number: str = ""


def placeholders(call: str) -> tuple[str, ...]:
    """What stands in braces, in order: roles in a sound call."""
    return tuple(match.strip() for match in _BRACES.findall(call))


def faulty_braces(call: str) -> bool:
    """Whether a brace has no partner."""
    return bool(re.search(r"[{}]", _BRACES.sub("", call)))


def told_apart(people: Mapping[K, CallName], language: Language) -> dict[K, str]:
    """One name for each, such that no two are the same: "Ida (7)" and "Ida (12)", else "Ida".

    Names are the same whatever their capitals. Those who share name and number, or have no
    number, keep their name: nothing else is known that could tell them apart.
    """
    shared = Counter(_folded(person.name) for person in people.values())
    return {
        key: _told(person, shared[_folded(person.name)], language) for key, person in people.items()
    }


def call_for(call: str, cast: Mapping[Role, CallName], language: Language) -> str:
    """The call as this cast hears it; a role that nobody fills is called by its number.

    What stands in other braces stays as it was typed.
    """
    names = told_apart(cast, language)
    spoken = Counter(_folded(name) for name in names.values())

    def fill(match: re.Match[str]) -> str:
        role = role_of(match[1].strip())
        if role is None:
            return match[0]
        name = names.get(role, "") or role
        if spoken[_folded(name)] > 1:
            return with_role(name, role, language)
        return name

    return _BRACES.sub(fill, call)


def by_role(call: str, language: Language) -> str:
    """The call where no team is looked at: a role is called by its number, as in "Tide 3"."""
    return call_for(call, {}, language)


def by_name(call: str, names: Mapping[Role, str], language: Language) -> str:
    """The call with names that are told apart already; a role without one by its number."""
    return call_for(call, {role: CallName(name) for role, name in names.items()}, language)


def with_number(person: CallName, language: Language) -> str:
    """The one way to say who somebody is beyond doubt: "Ida (7)"."""
    name, number = person.name.strip(), person.number.strip()
    return language.say(WITH_NUMBER, name=name, number=number) if name and number else name


def with_role(name: str, role: Role, language: Language) -> str:
    """ "Ida (2)"; what a name has in brackets already shares them: "Ida (7, role 2)"."""
    stem, _, beside = name.removesuffix(")").rpartition(" (")
    if stem and name.endswith(")"):
        return language.say(WITH_BOTH, name=stem, number=beside, role=role)
    return language.say(WITH_ROLE, name=name, role=role)


def _told(person: CallName, count: int, language: Language) -> str:
    return with_number(person, language) if count > 1 else person.name.strip()


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()
