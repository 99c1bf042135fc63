"""What opponents do, as the choice weighs it: the coach's word, else what was seen of the next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.defence.verdict import Tactic
from practice.core.learning.coming import KINDS, ComingShare, coming_shares
from practice.models import Game, Opponent, PackageWishes
from practice.opponents.shares import counts_by_opponent

NEXT: Final = 4  # opponents ahead by whom plays are chosen: our choice, about a month


@dataclass(frozen=True, slots=True)
class Facing:
    """``own``: the coach has said the parts. ``seen`` is what was seen of the ``next`` ones."""

    own: Mapping[Tactic, float]
    next: tuple[Opponent, ...]
    seen: tuple[ComingShare, ...]

    @property
    def shares(self) -> dict[Tactic, float]:
        """The parts by defence: the coach's, else the expected ones, else none."""
        if any(self.own.values()):
            return {tactic: self.own.get(tactic, 0.0) for tactic in KINDS}
        return {each.defence: each.share for each in self.seen}

    @property
    def is_own(self) -> bool:
        return any(self.own.values())

    def expected(self, tactic: Tactic) -> int | None:
        """The expected part of a hundred; None where nothing was seen of anybody."""
        found = {each.defence: each.share for each in self.seen}
        return round(100 * found[tactic]) if found else None


def facing(wishes: PackageWishes, games: Iterable[Game]) -> Facing:
    """What the games ahead bring, the nearest first. Two queries, none without games."""
    own = {tactic: float(wishes.shares.get(tactic.value, 0)) for tactic in KINDS}
    met: dict[int, Opponent] = {}
    for game in games:
        if game.met is not None and len(met) < NEXT:
            met.setdefault(game.met.pk, game.met)
    counts = counts_by_opponent(wishes.team, set(met)) if met else {}
    seen = coming_shares([counts.get(key, {}) for key in met])
    return Facing(own, tuple(met.values()), seen)
