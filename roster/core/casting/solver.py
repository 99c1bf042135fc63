"""Calls of HiGHS through scipy, which is loaded only when it is called.

The programme is that of ``casting_model``: ``solved`` gives whole numbers by branch and cut
(scipy's ``milp``), ``relaxed`` lets fractions be (scipy's ``linprog``), which bounds every cast
from below. Costs are those of the model; times are seconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from roster.core.casting.model import Model

OPTIMAL: Final = 0  # scipy's status codes
INFEASIBLE: Final = 2


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """``x`` and ``fun`` are None without a solution; ``bound`` is from below."""

    status: int
    x: NDArray[np.float64] | None
    fun: float | None
    bound: float | None


def solved(model: Model, seconds: float, gap: float = 1e-4) -> Solved:
    """The optimum in whole numbers, or the best within the time; ``gap`` as a part of it."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 (slow to import)

    result = milp(
        model.cost,
        integrality=model.whole,
        bounds=Bounds(model.lower, model.upper),
        constraints=LinearConstraint(model.matrix, model.low, model.high),
        options={"time_limit": max(0.01, seconds), "mip_rel_gap": gap},
    )
    return Solved(int(result.status), result.x, result.fun, getattr(result, "mip_dual_bound", None))


def relaxed(model: Model, seconds: float) -> Solved:
    """The optimum where fractions are let be, by an interior point method: the quickest here."""
    from scipy.optimize import linprog  # noqa: PLC0415 (slow to import)
    from scipy.sparse import vstack  # noqa: PLC0415

    equal = model.low == model.high
    above, below = np.isfinite(model.high) & ~equal, np.isfinite(model.low) & ~equal
    result = linprog(
        model.cost,
        A_ub=vstack([model.matrix[above], -model.matrix[below]]),
        b_ub=np.concatenate([model.high[above], -model.low[below]]),
        A_eq=model.matrix[equal],
        b_eq=model.low[equal],
        bounds=np.stack([model.lower, model.upper], axis=1),
        method="highs-ipm",
        options={"time_limit": max(0.01, seconds)},
    )
    if result.status != OPTIMAL:
        return Solved(int(result.status), None, None, None)
    return Solved(OPTIMAL, result.x, float(result.fun), float(result.fun))
