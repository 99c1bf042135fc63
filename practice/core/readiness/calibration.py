"""Fitting the parameters of readiness to a club's own later reps, and judging the fit.

Each rep of a cell that was practised before is a forecast put to the test: its strength when
the practice began against clean or error. The fit is a maximum a posteriori one; below
``ENOUGH_FOR_ALL`` graded reps only the players' offsets move. It is scored walk-forward, on
reps later than those it was fitted to, against two plain baselines; until it beats both in
log-loss and in Brier score the club is told "not calibrated yet" and the defaults are used.
A logistic on reps counted by age (``by_age``) is scored beside it and told of where it wins.
All priors and limits are our choice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from practice.core.logistic import logistic
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.by_age import by_age_forecasts
from practice.core.readiness.calibration_rows import MODES, CalibrationRows, Numbers, rows_of
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import N_, Language

FEWEST: Final = 150  # graded reps; below, nothing is fitted at all
ENOUGH_FOR_ALL: Final = 500
PLAYER_SPREAD: Final = 0.4
FOLDS: Final = 5
START_SHARE: Final = 0.4  # of the practices, before the first fold
# Priors: parameter, standard deviation around the default, and its limits.
PRIORS: Final = (
    ("threshold", 0.5, (-5.0, 3.0)),
    ("spread", 0.15, (0.1, 2.0)),
    ("decay", 0.15, (0.05, 1.5)),
    ("walk_through", 0.15, (0.02, 2.0)),
    ("half_speed", 0.15, (0.02, 2.0)),
)
HARDER_SPREAD: Final = 0.5  # of how much harder a mode is than live, which readiness speaks of
NOT_LIVE: Final = [index for index, mode in enumerate(MODES) if mode is not Mode.LIVE]

TOO_FEW: Final = N_("Not calibrated yet: {graded} graded reps, {needed} are needed.")
NO_BETTER: Final = N_("Not calibrated yet: on later reps it does not beat {baselines}.")
CALIBRATED: Final = N_("Calibrated on {graded} graded reps of this club.")
PLAYER_RATE: Final = N_("each player's own rate")
LAST_THREE: Final = N_("the last three reps")
BY_AGE: Final = N_(
    "{sentence} A plain count of reps, in which newer ones count more, foretells them "
    "better still; readiness does not use it."
)


@dataclass(frozen=True, slots=True)
class ForecastScore:
    """Mean log-loss (natural logarithm) and Brier score: smaller is better."""

    log_loss: float
    brier: float

    def beats(self, other: ForecastScore) -> bool:
        return self.log_loss < other.log_loss and self.brier < other.brier


@dataclass(frozen=True, slots=True)
class Scores:
    """Of forecasts for the same later reps, ``count`` of them."""

    count: int
    fitted: ForecastScore
    defaults: ForecastScore
    player_rate: ForecastScore
    last_three: ForecastScore
    by_age: ForecastScore


@dataclass(frozen=True, slots=True)
class Fitted:
    """Fitted parameters; ``harder`` adds to the threshold of an outcome, by mode; live has 0."""

    assumptions: Assumptions
    offsets: Offsets
    harder: tuple[float, ...] = (0.0,) * len(MODES)


@dataclass(frozen=True, slots=True)
class Calibration:
    """``fit`` is what to use: the fitted parameters if calibrated, else the defaults."""

    graded: int
    calibrated: bool
    fit: Fitted
    candidate: Fitted
    scores: Scores | None
    sentence: str


def calibrate(
    history: Sequence[Touch], assumptions: Assumptions, language: Language
) -> Calibration:
    """Fit, score walk-forward, and say whether the fit may be used."""
    rows = rows_of(history, assumptions)
    plain = Fitted(assumptions, Offsets())
    if rows.graded < FEWEST:
        said = language.say(TOO_FEW, graded=rows.graded, needed=FEWEST)
        return Calibration(rows.graded, False, plain, plain, None, said)
    scores = walk_forward(rows, assumptions)
    candidate = fit(rows, assumptions)
    baselines = ((PLAYER_RATE, scores.player_rate), (LAST_THREE, scores.last_three))
    lost = [language.say(name) for name, other in baselines if not scores.fitted.beats(other)]
    if lost:
        said = language.say(NO_BETTER, baselines=language.all_of(lost))
        return Calibration(rows.graded, False, plain, candidate, scores, said)
    said = language.say(CALIBRATED, graded=rows.graded)
    if scores.by_age.beats(scores.fitted):
        said = language.say(BY_AGE, sentence=said)
    return Calibration(rows.graded, True, candidate, candidate, scores, said)


def fit(rows: CalibrationRows, assumptions: Assumptions) -> Fitted:
    """The most likely parameters given the priors (L-BFGS-B with exact slopes)."""
    from scipy.optimize import minimize  # noqa: PLC0415 (scipy only where it is needed)

    modes, players = len(NOT_LIVE), len(rows.players)
    defaults = [getattr(assumptions, name) for name, _, _ in PRIORS]
    start = np.array([*defaults, *[0.0] * (modes + players)])
    spreads = np.array(
        [spread for _, spread, _ in PRIORS] + [HARDER_SPREAD] * modes + [PLAYER_SPREAD] * players
    )
    bounds = [limits for _, _, limits in PRIORS] + [(-3.0, 3.0)] * (modes + players)
    if rows.graded < ENOUGH_FOR_ALL:
        held = len(PRIORS) + modes
        bounds[:held] = [(value, value) for value in start[:held].tolist()]
    value = posterior(rows, assumptions, start, spreads)
    found = minimize(value, start, jac=True, method="L-BFGS-B", bounds=bounds)
    return _as_fit(rows, assumptions, found.x)


def forecasts(rows: CalibrationRows, fitted: Fitted) -> Numbers:
    """The chance of a clean rep for each row, from the strength when its practice began."""
    shift = np.array([fitted.offsets.players.get(who, 0.0) for who in rows.players])
    strength = rows.strengths(fitted.assumptions)
    hard = np.array(fitted.harder)[rows.mode]
    x = np.log(strength) - fitted.assumptions.threshold - hard - shift[rows.player]
    return logistic(x / fitted.assumptions.spread)


def walk_forward(rows: CalibrationRows, assumptions: Assumptions) -> Scores:
    """Forecast every fold from what came before it, by five forecasters."""
    shares = np.linspace(START_SHARE, 1.0, FOLDS + 1)
    edges = np.unique((shares * rows.practices).astype(np.int64))
    told: list[tuple[Numbers, ...]] = []
    for low, high in zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True):
        past, fold = (
            rows.only(rows.practice < low),
            rows.only((rows.practice >= low) & (rows.practice < high)),
        )
        if not len(past.mode) or not len(fold.mode):
            continue
        told.append(
            (
                forecasts(fold, fit(past, assumptions)),
                forecasts(fold, Fitted(assumptions, Offsets())),
                fold.player_rate(past),
                fold.last_three,
                by_age_forecasts(past, fold),
                fold.clean,
                fold.total,
            )
        )
    columns = [np.concatenate(column) for column in zip(*told, strict=True)]
    clean, total = columns[-2:]
    scored = (score_of(column, clean, total) for column in columns[:-2])
    return Scores(int(total.sum()), *scored)


def posterior(
    rows: CalibrationRows, assumptions: Assumptions, middle: Numbers, spreads: Numbers
) -> Callable[[Numbers], tuple[float, Numbers]]:
    """What to minimise, with its slopes: the priors' squares less the log-likelihood.

    The vector holds the parameters of ``PRIORS``, the modes of ``NOT_LIVE``, the players.
    """

    def value(x: Numbers) -> tuple[float, Numbers]:
        here, harder, shift = _named(assumptions, x)
        strength, slopes = rows.strengths_and_slopes(here)
        z = (np.log(strength) - x[0] - harder[rows.mode] - shift[rows.player]) / x[1]
        off = (x - middle) / spreads
        lost = 0.5 * (off**2).sum() - (rows.clean * z - rows.total * np.logaddexp(0.0, z)).sum()
        per_z = (rows.total * logistic(z) - rows.clean) / x[1]
        likelihood = np.concatenate(
            [
                [-per_z.sum(), -(per_z * z).sum()],
                [(per_z * slope / strength).sum() for slope in slopes],
                -np.bincount(rows.mode, weights=per_z, minlength=len(MODES))[NOT_LIVE],
                -np.bincount(rows.player, weights=per_z, minlength=len(rows.players)),
            ]
        )
        return float(lost), off / spreads + likelihood

    return value


def _named(assumptions: Assumptions, x: Numbers) -> tuple[Assumptions, Numbers, Numbers]:
    """From the vector: the shared parameters, how much harder each mode is, players' offsets."""
    shared = len(PRIORS)
    names = [name for name, _, _ in PRIORS]
    harder = np.zeros(len(MODES))
    harder[NOT_LIVE] = x[shared : shared + len(NOT_LIVE)]
    here = replace(assumptions, **dict(zip(names, x[:shared].tolist(), strict=True)))
    return here, harder, x[shared + len(NOT_LIVE) :]


def _as_fit(rows: CalibrationRows, assumptions: Assumptions, x: Numbers) -> Fitted:
    here, harder, shift = _named(assumptions, x)
    offsets: dict[Id, float] = dict(zip(rows.players, shift.tolist(), strict=True))
    return Fitted(here, Offsets(players=offsets), tuple(harder.tolist()))


def score_of(chance: Numbers, clean: Numbers, total: Numbers) -> ForecastScore:
    """The score of forecasts for rows of so many reps, so many of them clean."""
    held = np.clip(chance, 1e-6, 1 - 1e-6)
    log_loss = -(clean * np.log(held) + (total - clean) * np.log(1 - held)).sum() / total.sum()
    brier = (clean * (1 - chance) ** 2 + (total - clean) * chance**2).sum() / total.sum()
    return ForecastScore(float(log_loss), float(brier))
