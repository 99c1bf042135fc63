"""What the defence does, as the beginning of a sentence: all five, or the defenders of some."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from plays.core.play import Defence, Look, Role
from plays.core.words.terms import WHEN_THEY
from shared.core.language import N_, Language

YOURS: Final[Mapping[Defence, str]] = MappingProxyType(
    {
        Defence.SWITCH: N_("When your defender switches"),
        Defence.FRONT: N_("When your defender stands in front"),
        Defence.BEHIND: N_("When your defender stays behind"),
        Defence.TRAP: N_("When your defender traps"),
        Defence.SAG: N_("When your defender sags off"),
        Defence.CHASE: N_("When your defender stays with you"),
        Defence.DENY: N_("When your defender denies the pass"),
        Defence.OVER: N_("When your defender comes over the screen, on your back"),
        Defence.UNDER: N_("When your defender goes under the screen"),
    }
)
ONE: Final[Mapping[Defence, str]] = MappingProxyType(
    {
        Defence.SWITCH: N_("When the defender of {who} switches"),
        Defence.FRONT: N_("When the defender of {who} stands in front"),
        Defence.BEHIND: N_("When the defender of {who} stays behind"),
        Defence.TRAP: N_("When the defender of {who} traps"),
        Defence.SAG: N_("When the defender of {who} sags off"),
        Defence.CHASE: N_("When the defender of {who} does not switch"),
        Defence.DENY: N_("When the defender of {who} denies the pass"),
        Defence.OVER: N_("When the defender of {who} comes over the screen"),
        Defence.UNDER: N_("When the defender of {who} goes under the screen"),
    }
)
SEVERAL: Final[Mapping[Defence, str]] = MappingProxyType(
    {
        Defence.SWITCH: N_("When the defenders of {who} switch"),
        Defence.FRONT: N_("When the defenders of {who} stand in front"),
        Defence.BEHIND: N_("When the defenders of {who} stay behind"),
        Defence.TRAP: N_("When the defenders of {who} trap"),
        Defence.SAG: N_("When the defenders of {who} sag off"),
        Defence.CHASE: N_("When the defenders of {who} do not switch"),
        Defence.DENY: N_("When the defenders of {who} deny the pass"),
        Defence.OVER: N_("When the defenders of {who} come over the screen"),
        Defence.UNDER: N_("When the defenders of {who} go under the screen"),
    }
)


def condition(look: Look, language: Language) -> str:
    """When a look is there: what it reads, then what the coach wrote."""
    read = "" if look.read is None else when(look.read.defence, look.read.whose, language)
    return "; ".join(text for text in (read, look.condition) if text)


def when(
    defence: Defence,
    whose: Sequence[Role],
    language: Language,
    person: Callable[[Role], str] = str,
    reader: Role | None = None,
) -> str:
    """ "When your defender stands in front": a clause without a full stop, said to ``reader``."""
    if not whose:
        return language.say(WHEN_THEY[defence])
    if list(whose) == [reader]:
        return language.say(YOURS[defence])
    who = language.all_of([person(role) for role in whose])
    return language.say((ONE if len(whose) == 1 else SEVERAL)[defence], who=who)
