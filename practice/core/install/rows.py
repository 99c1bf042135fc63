"""Columns and rows of a mixed integer programme, gathered one by one and solved by HiGHS."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Term = tuple[int, float]  # column, coefficient


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """``values`` None where nothing was found; ``bound`` None where nothing was proved."""

    values: NDArray[np.float64] | None
    bound: float | None
    finished: bool


class Rows:
    """A maximisation that grows by columns and rows."""

    def __init__(self) -> None:
        self._low: list[float] = []
        self._high: list[float] = []
        self._integer: list[bool] = []
        self._value: list[float] = []
        self._entries: list[tuple[int, int, float]] = []
        self._most: list[float] = []

    @property
    def size(self) -> tuple[int, int]:
        """Columns and rows."""
        return len(self._low), len(self._most)

    def column(self, low: float, high: float, value: float = 0.0, *, integer: bool = False) -> int:
        """A new column with its bounds and its value in the sum to maximise."""
        self._low.append(low)
        self._high.append(high)
        self._integer.append(integer)
        self._value.append(value)
        return len(self._low) - 1

    def highest(self, column: int) -> float:
        """The upper bound of a column."""
        return self._high[column]

    def at_most(self, terms: Iterable[Term], most: float) -> None:
        """A new row: the sum of the terms is at most ``most``."""
        row = len(self._most)
        self._entries += [(row, column, factor) for column, factor in terms if factor]
        self._most.append(most)

    def solve(
        self,
        seconds: float | None,
        relative_gap: float,
        *,
        relaxed: bool = False,
        held: Mapping[int, float] | None = None,
    ) -> Solution:
        """Maximise. ``relaxed`` drops the integrality, ``held`` fixes columns at values.

        HiGHS's own seed is fixed; what it finds in a limited time depends on the machine.
        """
        from scipy import sparse  # noqa: PLC0415 (scipy only where it is needed)
        from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 (as above)

        low, high = np.array(self._low), np.array(self._high)
        for column, value in (held or {}).items():
            low[column] = high[column] = value
        rows, columns, factors = zip(*self._entries, strict=True)
        matrix = sparse.csr_array((factors, (rows, columns)), shape=self.size[::-1])
        options = {"mip_rel_gap": relative_gap}
        if seconds is not None:
            options["time_limit"] = seconds
        found = milp(
            -np.array(self._value),
            integrality=np.zeros(len(low)) if relaxed else np.array(self._integer, dtype=int),
            bounds=Bounds(low, high),
            constraints=LinearConstraint(matrix, -np.inf, np.array(self._most)),
            options=options,
        )
        bound = found.fun if relaxed else found.mip_dual_bound
        return Solution(
            found.x,
            None if bound is None or not np.isfinite(bound) else -float(bound),
            found.status == 0,
        )


def weighted(columns: Sequence[int], factor: float) -> list[Term]:
    """The same factor for many columns."""
    return [(int(column), factor) for column in columns]
