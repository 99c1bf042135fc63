"""Which fives coverage counts: the coach's units, the usual ones, or every one.

Where the units give everybody who is to play a place they say best who is on the floor; where
somebody is in none of them, the fives that fill the usual positions do (our own choice).
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES, Role
from roster.cast.loaded import TeamCast
from roster.core.cast import PlayerId
from roster.core.coverage.fives import membership
from roster.core.coverage.matching import Known
from roster.core.coverage.usual import named_fives, usual_fives
from roster.models import Unit


class FiveChoice(StrEnum):
    USUAL = "usual"
    UNITS = "units"
    EVERY = "every"


NAMES: Final[dict[FiveChoice, Promise]] = {
    FiveChoice.USUAL: _("Fives that fill the usual positions"),
    FiveChoice.UNITS: _("Our units"),
    FiveChoice.EVERY: _("All fives"),
}


@dataclass(frozen=True, slots=True)
class Counted:
    """``fives`` (fives,) bool are counted, ``number`` of the ``of`` that can be sent out.

    ``choice`` is what is counted, and another than ``asked`` where that left no five.
    """

    asked: FiveChoice
    choice: FiveChoice
    fives: Known
    number: int
    of: int
    choices: tuple[FiveChoice, ...]

    @property
    def said(self) -> Promise:
        """What is counted, in words."""
        return NAMES[self.choice]

    @property
    def others(self) -> list[tuple[str, Promise]]:
        """What could be counted instead: value and label. All of them only where that is more."""
        shown = {self.choice} | ({FiveChoice.EVERY} if self.number == self.of else set())
        return [(each.value, NAMES[each]) for each in self.choices if each not in shown]

    @property
    def fell_back(self) -> bool:
        return self.asked is not self.choice


def counted(known: TeamCast, wanted: str, also_out: Collection[int] = ()) -> Counted:
    """The fives that count: as wanted, else as the module says; all where none of them is left."""
    players = known.reckoned
    inside = membership(len(players))
    away = [row for row, pk in enumerate(players) if pk in known.out or pk in set(also_out)]
    there: Known = np.asarray(~inside[:, away].any(axis=1))
    positions: dict[PlayerId, list[Role]] = {
        pk: [role for role in ROLES if role in known.players[pk].positions] for pk in players
    }
    units = [
        {member.pk for member in unit.members.all()}
        for unit in Unit.objects.filter(team=known.team).prefetch_related("members")
    ]
    masks: dict[FiveChoice, Callable[[], Known]] = {
        FiveChoice.USUAL: lambda: usual_fives(players, positions),
        FiveChoice.UNITS: lambda: named_fives(players, units),
        FiveChoice.EVERY: lambda: there,
    }
    there_are = {
        FiveChoice.USUAL: any(positions.values()),
        FiveChoice.UNITS: bool(units),
        FiveChoice.EVERY: True,
    }
    choices = tuple(each for each in FiveChoice if there_are[each])
    usual = choices[0] if any(positions.values()) else FiveChoice.EVERY
    by_itself = FiveChoice.UNITS if _give_all_a_place(units, known) else usual
    asked = FiveChoice(wanted) if wanted in choices else by_itself
    fives = masks[asked]()
    choice = asked if (fives & there).any() else FiveChoice.EVERY
    if choice is FiveChoice.EVERY:
        fives = np.ones_like(there)
    of, number = int(there.sum()), int((fives & there).sum())
    return Counted(asked, choice, fives, number, of, choices)


def _give_all_a_place(units: Collection[Collection[PlayerId]], known: TeamCast) -> bool:
    """Whether everybody who is there, and is not expected to sit out, is in a whole unit."""
    there = {pk for pk in known.reckoned if pk not in known.out}
    whole = [unit for unit in units if len(unit) == len(ROLES) and there.issuperset(unit)]
    to_play = {pk for pk in there if known.players[pk].expected_minutes != 0}
    return bool(whole) and to_play.issubset(set[PlayerId]().union(*whole))
