"""Mixed integer programmes: rows gathered one by one or many at a time, and solved by HiGHS.

``Rows`` gathers constraints over columns that are numbered already, ``Growing`` hands out the
columns as well. Both end in a ``Milp``, which is minimised: ``solved`` in whole numbers by branch
and cut (scipy's ``milp``), ``relaxed`` in fractions by an interior point method (scipy's
``linprog``). scipy is loaded only when something is solved. Times are seconds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, Self

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Index = NDArray[np.int64]
Term = tuple[int, float]  # column, factor

OPTIMAL: Final = 0  # scipy's status codes
INFEASIBLE: Final = 2
_ROUNDING: Final = 1e-6  # as HiGHS takes a row for kept


@dataclass(frozen=True, slots=True, eq=False)
class Milp:
    """Minimise cost @ v with low <= matrix @ v <= high, lower <= v <= upper, whole where 1."""

    cost: Numbers
    whole: Numbers
    lower: Numbers
    upper: Numbers
    matrix: Any  # scipy.sparse, (rows, columns)
    low: Numbers
    high: Numbers

    def with_rows(self, rows: Rows) -> Self:
        """The same, with more rows."""
        from scipy.sparse import vstack  # noqa: PLC0415 (slow to import)

        if not rows.count:
            return self
        matrix, low, high = rows.made(len(self.cost))
        return replace(
            self,
            matrix=vstack([self.matrix, matrix], format="csr"),
            low=np.concatenate([self.low, low]),
            high=np.concatenate([self.high, high]),
        )

    def allows(self, values: Numbers) -> bool:
        """Whether values keep every row and every bound, up to rounding."""
        made = self.matrix @ values
        low, high = np.minimum(made - self.low, 0.0), np.minimum(self.high - made, 0.0)
        below, above = np.minimum(values - self.lower, 0), np.minimum(self.upper - values, 0)
        return bool(min(part.min(initial=0.0) for part in (low, high, below, above)) > -_ROUNDING)

    def with_held(self, values: Mapping[int, float]) -> Self:
        """The same, with columns fixed at values."""
        lower, upper = self.lower.copy(), self.upper.copy()
        for column, value in values.items():
            lower[column] = upper[column] = value
        return replace(self, lower=lower, upper=upper)


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """``x`` and ``fun`` are None without a solution; ``bound`` is from below, None if unproved."""

    status: int
    x: Numbers | None
    fun: float | None
    bound: float | None


class Rows:
    """Collects rows of a sparse matrix."""

    def __init__(self) -> None:
        self.count = 0
        self._rows: list[Index] = []
        self._columns: list[Index] = []
        self._factors: list[Numbers] = []
        self._low: list[Numbers] = []
        self._high: list[Numbers] = []

    def add(
        self, columns: Index, factors: Numbers, low: float | Numbers, high: float | Numbers
    ) -> None:
        """Many rows alike: ``columns`` (rows, m), and ``factors`` (m,) the same in every row."""
        count = len(columns)
        at = np.arange(self.count, self.count + count)
        self._rows.append(np.repeat(at, columns.shape[1]))
        self._columns.append(columns.ravel())
        self._factors.append(np.tile(factors, count))
        self._low.append(np.broadcast_to(np.asarray(low, dtype=np.float64), (count,)))
        self._high.append(np.broadcast_to(np.asarray(high, dtype=np.float64), (count,)))
        self.count += count

    def at_most(self, terms: Iterable[Term], most: float) -> None:
        """One row: the sum of the terms is at most ``most``."""
        kept = [(column, factor) for column, factor in terms if factor]
        columns = np.array([column for column, _ in kept], dtype=np.int64)
        self.add(columns[None, :], np.array([factor for _, factor in kept]), -np.inf, most)

    def made(self, columns: int) -> tuple[Any, Numbers, Numbers]:
        """The matrix, and the bounds of its rows from below and above."""
        from scipy.sparse import coo_array  # noqa: PLC0415 (slow to import)

        places = (np.concatenate(self._rows), np.concatenate(self._columns))
        matrix = coo_array((np.concatenate(self._factors), places), shape=(self.count, columns))
        return matrix.tocsr(), np.concatenate(self._low), np.concatenate(self._high)


class Growing(Rows):
    """A maximisation that grows by columns and rows."""

    def __init__(self) -> None:
        super().__init__()
        self._lower: list[float] = []
        self._upper: list[float] = []
        self._whole: list[bool] = []
        self._value: list[float] = []

    @property
    def size(self) -> tuple[int, int]:
        """Columns and rows."""
        return len(self._value), self.count

    def column(self, low: float, high: float, value: float = 0.0, *, integer: bool = False) -> int:
        """A new column with its bounds and its value in the sum to maximise."""
        self._lower.append(low)
        self._upper.append(high)
        self._whole.append(integer)
        self._value.append(value)
        return len(self._value) - 1

    def highest(self, column: int) -> float:
        """The upper bound of a column."""
        return self._upper[column]

    def milp(self) -> Milp:
        """The programme, minimised: what it costs is what it is worth, with the sign turned."""
        matrix, low, high = self.made(len(self._value))
        return Milp(
            cost=-np.array(self._value),
            whole=np.array(self._whole, dtype=np.float64),
            lower=np.array(self._lower, dtype=np.float64),
            upper=np.array(self._upper, dtype=np.float64),
            matrix=matrix,
            low=low,
            high=high,
        )


def weighted(columns: Sequence[int], factor: float) -> list[Term]:
    """The same factor for many columns."""
    return [(int(column), factor) for column in columns]


def solved(
    programme: Milp, seconds: float | None, gap: float = 1e-4, nodes: int | None = None
) -> Solved:
    """The optimum in whole numbers, or the best within the limits; ``gap`` as a part of it.

    HiGHS's own seed is fixed: what it finds within so many ``nodes`` of its tree is the same on
    every run, what it finds in so many ``seconds`` depends on the machine.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 (slow to import)

    options: dict[str, float] = {"mip_rel_gap": gap}
    if seconds is not None:
        options["time_limit"] = max(0.01, seconds)
    if nodes is not None:
        options["node_limit"] = nodes
    result = milp(
        programme.cost,
        integrality=programme.whole,
        bounds=Bounds(programme.lower, programme.upper),
        constraints=LinearConstraint(programme.matrix, programme.low, programme.high),
        options=options,
    )
    bound = result.mip_dual_bound if programme.whole.any() else result.fun
    if bound is None or not np.isfinite(bound):
        bound = None
    return Solved(int(result.status), result.x, result.fun, bound)


def relaxed(programme: Milp, seconds: float) -> Solved:
    """The optimum where fractions are let be, by an interior point method: quick in large ones."""
    from scipy.optimize import linprog  # noqa: PLC0415 (slow to import)
    from scipy.sparse import vstack  # noqa: PLC0415

    low, high, matrix = programme.low, programme.high, programme.matrix
    equal = low == high
    above, below = np.isfinite(high) & ~equal, np.isfinite(low) & ~equal
    result = linprog(
        programme.cost,
        A_ub=vstack([matrix[above], -matrix[below]]),
        b_ub=np.concatenate([high[above], -low[below]]),
        A_eq=matrix[equal],
        b_eq=low[equal],
        bounds=np.stack([programme.lower, programme.upper], axis=1),
        method="highs-ipm",
        options={"time_limit": max(0.01, seconds)},
    )
    if result.status != OPTIMAL:
        return Solved(int(result.status), None, None, None)
    return Solved(OPTIMAL, result.x, float(result.fun), float(result.fun))
