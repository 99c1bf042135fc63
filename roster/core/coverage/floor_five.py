"""Five players on the floor: which plays they can run, and who then takes which role.

The roles are filled with the greatest sum of worth, by trying all 120 orders; worth is a mean over
the roles, 0 to 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, permutations
from typing import Final

import numpy as np

from plays.core.play import ROLES, Role
from roster.core.cast import PlayerId, PlayId
from roster.core.coverage.matching import Known, Worth
from roster.core.coverage.squad import Squad
from roster.core.coverage.why_not import Shortage, shortages
from roster.core.names import Names
from shared.core.language import N_

_ORDERS: Final = np.array(list(permutations(range(len(ROLES)))))  # (120, role) -> player


TAKES: Final = N_("{player} takes role {role} in {plays}.")
CHANGES: Final = N_("{player} goes from role {before} to role {role} in {plays}.")


class NotAFiveError(ValueError):
    """Anything but five different players of the squad."""


@dataclass(frozen=True, slots=True)
class PlayFilling:
    """One play for one five: who takes which role, or why it cannot be run.

    ``worth`` is the mean over the roles, 0 to 1; ``filling`` is empty where ``shortages`` is
    not.
    """

    play: PlayId
    filling: Mapping[Role, PlayerId]
    worth: float
    shortages: tuple[Shortage, ...] = ()

    @property
    def can_run(self) -> bool:
        return bool(self.filling)


@dataclass(frozen=True, slots=True)
class RoleMove:
    """What a change of the five does to one player in one play; None: not in it."""

    player: PlayerId
    play: PlayId
    before: Role | None
    after: Role | None


def the_five(
    squad: Squad,
    five: Sequence[PlayerId],
    before: Sequence[PlayFilling] = (),
) -> tuple[PlayFilling, ...]:
    """Every play of the squad for this five, in the squad's order. Raises NotAFiveError.

    The filling has the greatest sum of worth. Where several are as good, it keeps as many as
    it can in the roles of ``before``, and then gives the lowest role to whoever stands first
    in the squad: so the same five always reads the same, whatever order it was picked in.
    """
    rows = _rows(squad, five)
    ids = [squad.players[row] for row in rows]
    held = {filling.play: filling.filling for filling in before}
    return tuple(
        _filled(ids, play, squad.known[rows, column], squad.worth[rows, column], held.get(play, {}))
        for column, play in enumerate(squad.plays)
    )


def moves(before: Sequence[PlayFilling], after: Sequence[PlayFilling]) -> tuple[RoleMove, ...]:
    """Who takes another role than before in plays that can be run, now or then."""
    earlier = {filling.play: _roles(filling) for filling in before}
    found = []
    for filling in after:
        was, now = earlier.get(filling.play, {}), _roles(filling)
        found += [
            RoleMove(player, filling.play, was.get(player), now.get(player))
            for player in dict.fromkeys([*was, *now])
            if was.get(player) != now.get(player)
        ]
    return tuple(found)


def moves_in_words(found: Sequence[RoleMove], names: Names) -> Iterator[str]:
    """One sentence for each player and change of role, with its plays; who goes off says none."""
    say = names.language.say

    def kind(move: RoleMove) -> tuple[str, str, str]:
        return names.player(move.player), move.after or "", move.before or ""

    staying = [move for move in found if move.after is not None]
    for (player, after, before), group in groupby(sorted(staying, key=kind), key=kind):
        plays = names.all_plays(move.play for move in group)
        if before:
            yield say(CHANGES, player=player, before=before, role=after, plays=plays)
        else:
            yield say(TAKES, player=player, role=after, plays=plays)


def _rows(squad: Squad, five: Sequence[PlayerId]) -> list[int]:
    rows = sorted({squad.players.index(player) for player in five if player in squad.players})
    if len(rows) != len(ROLES) or len(five) != len(ROLES):
        raise NotAFiveError("choose five different players who can play")
    return rows


def _filled(
    ids: Sequence[PlayerId],
    play: PlayId,
    known: Known,
    worth: Worth,
    held: Mapping[Role, PlayerId],
) -> PlayFilling:
    """One play, from all 120 ways to give five roles to five players."""
    roles = np.arange(len(ROLES))
    possible = known[_ORDERS, roles].all(axis=1)
    if not possible.any():
        return PlayFilling(play, {}, 0.0, shortages(ids, known))
    sums = np.where(possible, worth[_ORDERS, roles].sum(axis=1).round(9), -np.inf)
    keeps = np.array([[held.get(role) == player for role in ROLES] for player in ids])
    kept = keeps[_ORDERS, roles].sum(axis=1)
    best = max(range(len(_ORDERS)), key=lambda order: (sums[order], kept[order], -order))
    filling = {role: ids[player] for role, player in zip(ROLES, _ORDERS[best], strict=True)}
    return PlayFilling(play, filling, float(sums[best]) / len(ROLES))


def _roles(filling: PlayFilling) -> dict[PlayerId, Role]:
    return {player: role for role, player in filling.filling.items()}
