"""Why a five cannot run a play: the roles for which it has too few people.

By Hall's theorem (Hall 1935, J. London Math. Soc. 10:26) a five can fill all roles unless some
set of roles is known to fewer players than it has roles. The smallest such sets are the reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES, Role
from roster.core.cast import PlayerId
from roster.core.names import Names
from shared.core.language import N_

NOBODY: Final = N_("nobody here knows role {role}")
NOBODY_THROWS: Final = N_("nobody here knows how to throw in (role {role})")
ONE_FOR_TWO: Final = N_("roles {roles} share one person: {players}")
FEW: Final = N_("roles {roles} share only {count} people: {players}")


@dataclass(frozen=True, slots=True)
class Shortage:
    """Roles that a five has too few players for, and who knows any of them."""

    roles: tuple[Role, ...]
    players: tuple[PlayerId, ...]


def shortages(five: Sequence[PlayerId], known: NDArray[np.bool_]) -> tuple[Shortage, ...]:
    """The smallest sets of roles with too few players; ``known`` is (players, 5 roles).

    Only sets without a smaller one inside, smaller sets first; none where the five can run it.
    """
    found: list[Shortage] = []
    for size in range(1, len(ROLES) + 1):
        for chosen in combinations(range(len(ROLES)), size):
            roles = tuple(ROLES[k] for k in chosen)
            if any(set(earlier.roles) <= set(roles) for earlier in found):
                continue
            able = np.asarray(known[:, list(chosen)].any(axis=1))
            if able.sum() < size:
                players = tuple(p for p, can in zip(five, able, strict=True) if can)
                found.append(Shortage(roles, players))
    return tuple(found)


def in_words(shortage: Shortage, names: Names, thrower: Role | None = None) -> str:
    """The reason as a phrase: "roles 4 and 5 share one person: Noor"."""
    say = names.language.say
    if not shortage.players:
        role = shortage.roles[0]
        return say(NOBODY_THROWS if role == thrower else NOBODY, role=role)
    roles = names.language.all_of(shortage.roles)
    players = names.all_players(shortage.players)
    if len(shortage.players) == 1:
        return say(ONE_FOR_TWO, roles=roles, players=players)
    return say(FEW, roles=roles, count=len(shortage.players), players=players)
