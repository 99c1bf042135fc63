"""Another forecast of later reps to hold readiness against: a logistic on reps counted by age.

The model of Lindsey, Shroyer, Pashler and Mozer 2014, Psychol Sci 25:639 (DASH; from memory), with
its windows as far as practices are days apart: the clean and all reps of the last day, week, month
and ever, each as log(1 + count), and how able somebody is. What mode the rep is run in is ours, and
so are the priors.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from practice.core.logistic import Numbers, logistic, penalised
from practice.core.readiness.calibration_rows import MODES, CalibrationRows

WINDOWS: Final = (1.5, 7.5, 30.5, np.inf)  # days: a practice of the day before is of the last day
WINDOW_SPREAD: Final = 0.5
MODE_SPREAD: Final = 1.0
PLAYER_SPREAD: Final = 0.5
LEVEL_SPREAD: Final = 2.0


def by_age_forecasts(past: CalibrationRows, fold: CalibrationRows) -> Numbers:
    """The chance of a clean rep for each row of the fold, fitted to the rows before it."""
    before = design_of(past)
    players = len(past.players)
    spread = np.array(
        [LEVEL_SPREAD]
        + [WINDOW_SPREAD] * (2 * len(WINDOWS))
        + [MODE_SPREAD] * len(MODES)
        + [PLAYER_SPREAD] * players
    )
    found = penalised(before, past.clean, past.total, np.zeros(len(spread)), spread)
    return logistic(design_of(fold) @ found)


def design_of(rows: CalibrationRows) -> Numbers:
    """One row each: a level, the counts by window, the mode, who. (rows, 9 + modes + players)."""
    count = len(rows.mode)
    columns = [np.ones(count)]
    clean, wrong = rows.pair_clean.sum(axis=1), rows.pair_wrong.sum(axis=1)
    for window in WINDOWS:
        young = rows.pair_age <= window
        for reps in (clean, clean + wrong):
            summed = np.bincount(rows.pair_row, weights=reps * young, minlength=count)
            columns.append(np.log1p(summed))
    mode = np.eye(len(MODES))[rows.mode]
    who = np.eye(len(rows.players))[rows.player]
    return np.column_stack([*columns, mode, who])
