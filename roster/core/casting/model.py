"""The casting question as an integer programme, minimised.

Variables, in this order:
    x[player, play, role, depth]  1 where the player fills the slot
    z[player, role]               1 where the player has this role number anywhere
    hole[play, role, depth], two[player, play], over[player], under[player], left[player],
    outside[play]

The rows that link x to z are written one for each play and role. Summed up over plays they
would say the same to whole numbers, and next to nothing to the relaxation.

Equal casts are told apart by a last digit that depends only on the place in the question, so
that the same question has the same answer.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.cast import Cast
from roster.core.casting.question import CastingQuestion, Lock
from roster.core.casting.score import cast_of, counts, filled_array, unit_members
from shared.core.milp import Index, Milp, Numbers, Rows

_GOLDEN: Final = 0.6180339887498949
_LAST_DIGIT: Final = 1e-5


@dataclass(frozen=True, slots=True, eq=False)
class CastingModel(Milp):
    """The programme, and which of its columns say what."""

    question: CastingQuestion
    x: Index
    z: Index
    hole: Index
    two: Index
    over: Index
    under: Index
    left: Index
    outside: Index
    role_limits: Index  # the rows that limit the role numbers of each player

    def cast(self, values: Numbers) -> Cast:
        """The cast in a solution, play by play, role by role."""
        return cast_of(self.question, np.round(values[self.x]).astype(np.bool_))

    def values(self, cast: Cast) -> Numbers:
        """The columns as this cast has them, whether or not the rows allow it."""
        filled = filled_array(self.question, cast)
        found = counts(self.question, filled)
        values = np.zeros_like(self.cost)
        values[self.x], values[self.z], values[self.hole] = filled, found.roles, found.holes
        values[self.two], values[self.outside] = found.two, found.outside
        values[self.over], values[self.under], values[self.left] = (
            found.over,
            found.under,
            found.left,
        )
        return values

    def with_roles(self, roles: NDArray[np.bool_]) -> CastingModel:
        """(players, 5): the same, with only these role numbers open to each player."""
        upper = self.upper.copy()
        upper[self.z] = np.minimum(upper[self.z], roles)
        return replace(self, upper=upper)

    def with_locks(self, locks: tuple[Lock, ...]) -> CastingModel:
        """The same, with these locks held as rows."""
        rows = Rows()
        for lock in locks:
            columns = lock_columns(self, lock)
            rows.add(columns[None, :], np.ones(len(columns)), 1.0, 1.0)
        return self.with_rows(rows)

    def without_role_limits(self) -> CastingModel:
        """The same, where role numbers cost nothing and nobody has too many."""
        cost, high = self.cost.copy(), self.high.copy()
        cost[self.z] = 0.0
        high[self.role_limits] = len(ROLES)
        return replace(self, cost=cost, high=high)

    def free_of_cost(self) -> CastingModel:
        """The same, where anything that is allowed will do."""
        return replace(self, cost=np.zeros_like(self.cost))

    def with_ceiling(self, cost: float) -> CastingModel:
        """The same, with no more cost than this."""
        rows = Rows()
        rows.add(np.arange(len(self.cost), dtype=np.int64)[None, :], self.cost, -np.inf, cost)
        return self.with_rows(rows)


def casting_model(question: CastingQuestion) -> CastingModel:
    """The programme without the locks: add them by ``with_locks``."""
    n, plays, depth = len(question.players), len(question.plays), question.depth
    sizes = {
        "x": (n, plays, len(ROLES), depth),
        "z": (n, len(ROLES)),
        "hole": (plays, len(ROLES), depth),
        "two": (n, plays),
        "over": (n,),
        "under": (n,),
        "left": (n,),
        "outside": (plays,),
    }
    at, total = _numbered(sizes)
    rows = Rows()
    _add_slots(rows, at)
    role_limits = _add_roles(rows, at, question)
    _add_loads(rows, at, question)
    _add_fives(rows, at, question)
    matrix, low, high = rows.made(total)
    return CastingModel(
        question=question,
        cost=_cost(question, at, total),
        whole=_whole(at, total),
        lower=np.zeros(total),
        upper=_upper(question, at, total),
        matrix=matrix,
        low=low,
        high=high,
        role_limits=role_limits,
        **at,
    )


def lock_columns(model: CastingModel, lock: Lock) -> Index:
    """The variables of which a lock asks one to be 1; none where there is no such slot."""
    question = model.question
    if lock.player not in question.player_index:
        return np.empty(0, dtype=np.int64)
    player, play = question.player_index[lock.player], question.play_index[lock.play]
    columns: Index = model.x[player, play, ROLES.index(lock.role)]
    if lock.depth is None:
        return columns
    return columns[lock.depth - 1 : lock.depth]


def _numbered(sizes: dict[str, tuple[int, ...]]) -> tuple[dict[str, Index], int]:
    at, total = {}, 0
    for name, shape in sizes.items():
        count = int(np.prod(shape))
        at[name] = np.arange(total, total + count, dtype=np.int64).reshape(shape)
        total += count
    return at, total


def _add_slots(rows: Rows, at: dict[str, Index]) -> None:
    """Each slot has one player or is a hole; nobody has two roles at one depth of one play."""
    x = at["x"]
    n, plays, roles, depth = x.shape
    by_slot = x.transpose(1, 2, 3, 0).reshape(plays * roles * depth, n)
    slots = np.hstack([by_slot, at["hole"].reshape(-1, 1)])
    rows.add(slots, np.ones(n + 1), 1.0, 1.0)
    rows.add(
        x.transpose(0, 1, 3, 2).reshape(n * plays * depth, roles), np.ones(roles), -np.inf, 1.0
    )
    in_play = np.hstack([x.reshape(n * plays, roles * depth), at["two"].reshape(-1, 1)])
    rows.add(in_play, _ones_and(roles * depth, -1.0), -np.inf, 1.0)


def _add_roles(rows: Rows, at: dict[str, Index], question: CastingQuestion) -> Index:
    """No role of a play at two depths, and no role number without its z. Returns the limits."""
    x, z = at["x"], at["z"]
    n, plays, roles, depth = x.shape
    linked = np.broadcast_to(z[:, None, :, None], (n, plays, roles, 1))
    link = np.concatenate([x, linked], axis=3).reshape(n * plays * roles, depth + 1)
    rows.add(link, _ones_and(depth, -1.0), -np.inf, 0.0)
    first = rows.count
    rows.add(z, np.ones(roles), -np.inf, question.most_roles().astype(np.float64))
    return np.arange(first, rows.count, dtype=np.int64)


def _add_loads(rows: Rows, at: dict[str, Index], question: CastingQuestion) -> None:
    x = at["x"]
    load = x.reshape(len(x), x[0].size if len(x) else 0)
    fair = question.fair_shares()
    rows.add(load, np.ones(load.shape[1]), -np.inf, question.most_slots().astype(np.float64))
    over, under, left = (at[name][:, None] for name in ("over", "under", "left"))
    ones = load.shape[1]
    rows.add(np.hstack([load, over]), _ones_and(ones, -1.0), -np.inf, np.ceil(fair))
    rows.add(np.hstack([load, under]), _ones_and(ones, 1.0), np.floor(fair), np.inf)
    rows.add(np.hstack([load, left]), _ones_and(ones, 1.0), question.least_slots(), np.inf)


def _add_fives(rows: Rows, at: dict[str, Index], question: CastingQuestion) -> None:
    """The first-depth five of each play: from its unit, and without those kept apart."""
    first = at["x"][..., 0]
    for play in range(len(question.plays)):
        members = unit_members(question, play)
        if members:
            columns = np.append(first[members, play].ravel(), at["outside"][play])[None, :]
            rows.add(columns, np.ones(columns.size), float(min(len(members), 5)), np.inf)
    for group in question.never_together:
        inside = [question.player_index.get(player, -1) for player in dict.fromkeys(group)]
        if inside and min(inside) >= 0:
            columns = (
                first[inside]
                .transpose(1, 0, 2)
                .reshape(len(question.plays), len(inside) * len(ROLES))
            )
            rows.add(columns, np.ones(columns.shape[1]), -np.inf, len(inside) - 1.0)


def _ones_and(count: int, last: float) -> Numbers:
    return np.append(np.ones(count), last)


def _cost(question: CastingQuestion, at: dict[str, Index], total: int) -> Numbers:
    wishes = question.wishes
    cost = np.zeros(total)
    cost[at["x"]] = -(question.worth + _last_digits(at["x"].shape))
    cost[at["z"]] = wishes.role
    cost[at["hole"]] = wishes.hole
    cost[at["two"]] = wishes.two_in_play
    cost[at["over"]] = cost[at["under"]] = wishes.uneven
    cost[at["left"]] = wishes.left_out
    cost[at["outside"]] = wishes.outside_unit
    return cost


def _last_digits(shape: tuple[int, ...]) -> Numbers:
    """Different for neighbours, and the same whatever the size of the question."""
    players, plays, roles, depths = np.indices(shape)
    number = ((players * 64 + plays) * len(ROLES) + roles) * 3 + depths
    return np.asarray(_LAST_DIGIT * ((number * _GOLDEN) % 1.0))


def _whole(at: dict[str, Index], total: int) -> Numbers:
    whole = np.zeros(total)
    whole[at["x"]] = whole[at["z"]] = 1
    return whole


def _upper(question: CastingQuestion, at: dict[str, Index], total: int) -> Numbers:
    upper = np.full(total, np.inf)
    upper[at["x"]] = question.allowed[..., None]
    upper[at["z"]] = upper[at["hole"]] = 1.0
    return upper
