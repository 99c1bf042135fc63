"""The plays of five people in the order in which a coach would look through them.

First those for which most of the five are ready in the roles they would take; among equals the
better chance of a look against this opponent, then the readier of the least ready, then the
package's order. Plays are ordered, never people.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.play import ROLES
from practice.core.calls.looks import NOTHING_KNOWN, PlayLooks
from roster.core.cast import Lesson, PlayId
from roster.core.coverage.floor_five import PlayFilling
from shared.core.language import N_, Language

ALL_READY: Final = N_("all five ready")
SOME_READY: Final = N_("{n} of 5 ready")
NO_REPS: Final = N_("no rep logged")


@dataclass(frozen=True, slots=True)
class OrderedCall:
    """A play that a five can run: ``short`` of the five are not ready, ``weakest`` is 0 to 1.

    Both are None where no rep of anybody is logged: nobody is blamed for that.
    """

    filling: PlayFilling
    short: int | None
    weakest: float | None
    looks: PlayLooks

    @property
    def play(self) -> PlayId:
        return self.filling.play


def in_order(
    fillings: Sequence[PlayFilling],
    readiness: Mapping[Lesson, float] | None,
    bar: float,
    looks: Mapping[PlayId, PlayLooks],
) -> tuple[OrderedCall, ...]:
    """The plays that can be run, the first to call first; the others are left out."""
    lines = [
        _line(found, readiness, bar, looks.get(found.play, NOTHING_KNOWN))
        for found in fillings
        if found.can_run
    ]
    return tuple(sorted(lines, key=_key))


def ready_text(short: int | None, language: Language) -> str:
    """As in "all five ready" and "4 of 5 ready"."""
    if short is None:
        return language.say(NO_REPS)
    if not short:
        return language.say(ALL_READY)
    return language.say(SOME_READY, n=len(ROLES) - short)


def _line(
    found: PlayFilling, readiness: Mapping[Lesson, float] | None, bar: float, looks: PlayLooks
) -> OrderedCall:
    if readiness is None:
        return OrderedCall(found, None, None, looks)
    values = [
        readiness.get(Lesson(who, found.play, role), 0.0) for role, who in found.filling.items()
    ]
    return OrderedCall(found, sum(value < bar for value in values), min(values), looks)


def _key(line: OrderedCall) -> tuple[int, float, float]:
    chance = -1.0 if line.looks.chance is None else line.looks.chance
    return line.short or 0, -round(chance, 6), -round(line.weakest or 0.0, 6)
