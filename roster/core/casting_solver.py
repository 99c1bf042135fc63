"""One call of scipy's ``milp`` (HiGHS), which is loaded only when it is called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from roster.core.casting_model import Model

OPTIMAL: Final = 0  # scipy's status codes
INFEASIBLE: Final = 2


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """``x`` and ``fun`` are None without a solution; ``bound`` is from below."""

    status: int
    x: NDArray[np.float64] | None
    fun: float | None
    bound: float | None


def solved(model: Model, seconds: float, *, whole: bool = True, gap: float = 1e-4) -> Solved:
    """The optimum, or the best within the time; ``whole`` False leaves fractions be."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 (slow to import)

    result = milp(
        model.cost,
        integrality=model.whole if whole else None,
        bounds=Bounds(model.lower, model.upper),
        constraints=LinearConstraint(model.matrix, model.low, model.high),
        options={"time_limit": max(0.01, seconds), "mip_rel_gap": gap},
    )
    bound = getattr(result, "mip_dual_bound", None)
    return Solved(int(result.status), result.x, result.fun, bound)
