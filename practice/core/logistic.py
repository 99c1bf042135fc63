"""Logistic regression with normal priors: the posterior's highest point, by Newton's method."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
STEPS: Final = 50  # Newton's method needs about six
CLOSE: Final = 1e-10  # steps below this have arrived


def penalised(
    design: Numbers, clean: Numbers, total: Numbers, middle: Numbers, spread: Numbers
) -> Numbers:
    """The coefficients, (columns,), given ``clean`` of ``total`` in each row of the design.

    ``middle`` and ``spread`` are the priors' means and standard deviations, (columns,).
    """
    weight = spread**-2
    x = middle.copy()
    for _ in range(STEPS):
        chance = logistic(design @ x)
        slope = design.T @ (clean - total * chance) - weight * (x - middle)
        curve = (design * (total * chance * (1 - chance))[:, None]).T @ design + np.diag(weight)
        step = np.linalg.solve(curve, slope)
        x = x + step / max(1.0, float(np.abs(step).max()) / 2)  # no step leaps over the hill
        if float(np.abs(step).max()) < CLOSE:
            break
    return x


def logistic(x: Numbers) -> Numbers:
    """From log-odds to chances."""
    return np.asarray(1 / (1 + np.exp(-np.clip(x, -500, 500))), dtype=np.float64)
