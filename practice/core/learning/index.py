"""What the check's index of a look is worth in games: fitted to the club's own, and judged.

The index is the share of such passes that professionals dared (``plays.core.defence.verdict``); it
says nothing on how often a look is there for this team. Each look that a possession reached is a
forecast put to the test. A logistic curve over the index, with an offset for each play that is
drawn towards none (partial pooling; a MAP fit, the priors our choice), is scored walk-forward on
later games against the coach's guess and against the play's own average. Until it beats both, in
log-loss and surely in Brier score, "not calibrated yet" stands there and nothing uses it. Surely:
the gain of each game, by Student's t, one in twenty by luck (as Diebold and Mariano 1995, J Bus
Econ Stat 13:253, compare forecasts; from memory). Else the two that know the same would take turns.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from plays.core.defence.stance import Tactic
from practice.core.learning.order import LookOrder, evidence
from practice.core.logistic import Numbers, logistic, penalised
from practice.core.readiness.calibration import ForecastScore, score_of
from practice.core.reps.called import CalledPlay
from practice.core.reps.rep import Id
from shared.core.language import N_, Language

IndexOf = Callable[[CalledPlay, str], float | None]

FEWEST: Final = 150  # judged looks; below, nothing is fitted
FOLDS: Final = 5
START_SHARE: Final = 0.4  # of the games, before the first fold
LEVEL_SPREAD: Final = 1.5  # of the curve's level around the index itself, in log-odds
SLOPE_SPREAD: Final = 0.5  # of its slope around one
PLAY_SPREAD: Final = 0.5  # of the plays around the curve
AVERAGE_WORTH: Final = 16.0  # looks: draws a play to everybody as far as PLAY_SPREAD does
LUCK: Final = 0.05  # how often luck alone may pass for a gain; usual practice
EDGE: Final = 0.02  # an index is never surer than this

TOO_FEW: Final = N_("Not calibrated yet: {judged} looks were judged in games, {needed} are needed.")
NO_BETTER: Final = N_("Not calibrated yet: on later games it does not beat {baselines}.")
CALIBRATED: Final = N_(
    "Calibrated on {judged} looks of this club's games: on later games it beats the coach's guess"
    " and the play's own average."
)
GUESS: Final = N_("the coach's guess")
OWN_AVERAGE: Final = N_("the play's own average")


@dataclass(frozen=True, slots=True)
class LookTry:
    """A look that a possession reached: was it there? ``guess`` None where nobody guessed."""

    game: Id
    play: Id
    index: float
    guess: float | None
    there: bool


@dataclass(frozen=True, slots=True)
class IndexFit:
    """The chance that a look is there: logistic of ``level`` + ``slope`` * log-odds of the index,
    and the play's own offset."""

    level: float
    slope: float
    plays: Mapping[Id, float]

    def chance(self, index: float, play: Id) -> float:
        """How often a look with this index is there, in this play. 0 to 1."""
        x = self.level + self.slope * float(_log_odds(np.array(index))) + self.plays.get(play, 0.0)
        return float(logistic(np.array(x)))


@dataclass(frozen=True, slots=True)
class IndexScores:
    """Of forecasts for the same looks of later games, ``count`` of them.

    ``luck_guess`` and ``luck_average`` say how likely luck alone made such a gain in Brier score.
    """

    count: int
    fitted: ForecastScore
    guess: ForecastScore
    own_average: ForecastScore
    luck_guess: float
    luck_average: float

    def lost_to(self) -> list[str]:
        """The baselines that the fit does not surely beat, as templates."""
        pairs = (
            (GUESS, self.guess, self.luck_guess),
            (OWN_AVERAGE, self.own_average, self.luck_average),
        )
        return [name for name, other, luck in pairs if luck >= LUCK or not self.fitted.beats(other)]


@dataclass(frozen=True, slots=True)
class IndexCalibration:
    """``fit`` is None until it may be used."""

    judged: int
    fit: IndexFit | None
    scores: IndexScores | None
    sentence: str


def tries(
    possessions: Iterable[CalledPlay], orders: Mapping[tuple[Id, Id | None], LookOrder], of: IndexOf
) -> list[LookTry]:
    """Every look that was reached and has an index, game by game in the order of time.

    ``orders`` by play and revision; ``of`` gives the index against the defence that was seen.
    """
    found = []
    for possession in sorted(possessions, key=lambda each: each.at):
        order = orders.get((possession.play, possession.revision))
        if order is None:
            continue
        told = evidence(order, possession)
        for place in order.places:
            value = of(possession, place.id) if place.id in told.there | told.absent else None
            if value is not None:
                there = place.id in told.there
                found.append(LookTry(possession.game, possession.play, value, place.guess, there))
    return found


def calibrate_index(judged: Sequence[LookTry], language: Language) -> IndexCalibration:
    """Fit, score walk-forward, and say whether the fit may be used."""
    count = len(judged)
    if count < FEWEST:
        said = language.say(TOO_FEW, judged=count, needed=FEWEST)
        return IndexCalibration(count, None, None, said)
    scores = walk_forward_index(judged)
    lost = [language.say(name) for name in scores.lost_to()]
    if lost:
        said = language.say(NO_BETTER, baselines=language.all_of(lost))
        return IndexCalibration(count, None, scores, said)
    return IndexCalibration(
        count, fit_index(judged), scores, language.say(CALIBRATED, judged=count)
    )


def fit_index(judged: Sequence[LookTry]) -> IndexFit:
    """The most likely curve given the priors, by Newton's method."""
    plays = list(dict.fromkeys(each.play for each in judged))
    number = {play: n for n, play in enumerate(plays)}
    index = _log_odds(np.array([each.index for each in judged]))
    own = np.zeros((len(judged), len(plays)))
    own[np.arange(len(judged)), [number[each.play] for each in judged]] = 1.0
    design = np.column_stack([np.ones(len(judged)), index, own])
    there = np.array([each.there for each in judged], dtype=np.float64)
    middle = np.array([0.0, 1.0, *[0.0] * len(plays)])
    spread = np.array([LEVEL_SPREAD, SLOPE_SPREAD, *[PLAY_SPREAD] * len(plays)])
    found = penalised(design, there, np.ones(len(judged)), middle, spread)
    offsets = dict(zip(plays, found[2:].tolist(), strict=True))
    return IndexFit(float(found[0]), float(found[1]), offsets)


def walk_forward_index(judged: Sequence[LookTry]) -> IndexScores:
    """Forecast the games of every fold from those before them, by three forecasters."""
    games = {game: n for n, game in enumerate(dict.fromkeys(each.game for each in judged))}
    shares = np.linspace(START_SHARE, 1.0, FOLDS + 1)
    edges = np.unique((shares * len(games)).astype(np.int64)).tolist()
    told: list[tuple[float, float, float, bool, int]] = []
    for low, high in pairwise(edges):
        past = [each for each in judged if games[each.game] < low]
        if not past:
            continue
        fitted, own = fit_index(past), _averages(past)
        for each in judged:
            if low <= games[each.game] < high:
                average = own(each.play)
                guess = average if each.guess is None else each.guess
                chance = fitted.chance(each.index, each.play)
                told.append((chance, guess, average, each.there, games[each.game]))
    columns = np.array(told, dtype=np.float64).reshape(-1, 5).T
    there, once = columns[3], np.ones(columns.shape[1])
    by_fit, by_guess, by_average = (score_of(own, there, once) for own in columns[:3])
    luck = [luck_of(columns[0], other, there, columns[4]) for other in columns[1:3]]
    return IndexScores(len(told), by_fit, by_guess, by_average, *luck)


def luck_of(ours: Numbers, other: Numbers, there: Numbers, game: Numbers) -> float:
    """How likely a gain in Brier score like this one, game by game, is luck: one-sided, 0 to 1."""
    from scipy.stats import ttest_1samp  # noqa: PLC0415 (scipy only where it is needed)

    gain = (other - there) ** 2 - (ours - there) ** 2
    _, number = np.unique(game, return_inverse=True)
    by_game = np.bincount(number, weights=gain)
    if len(by_game) < 2 or not by_game.std():
        return 1.0
    return float(ttest_1samp(by_game, 0.0, alternative="greater").pvalue)


def index_of(by_defence: Mapping[tuple[Id, str, Tactic], float]) -> IndexOf:
    """The index against the defence that was seen; a chase where nobody said which it was."""

    def asked(possession: CalledPlay, look: str) -> float | None:
        return by_defence.get((possession.play, look, possession.defence or Tactic.CHASE))

    return asked


def _averages(past: Sequence[LookTry]) -> Callable[[Id], float]:
    """How often a play's looks were there so far, drawn towards everybody's average."""
    everybody = (sum(each.there for each in past) + 1) / (len(past) + 2)
    counts: dict[Id, list[bool]] = {}
    for each in past:
        counts.setdefault(each.play, []).append(each.there)

    def average(play: Id) -> float:
        own = counts.get(play, [])
        return (sum(own) + AVERAGE_WORTH * everybody) / (len(own) + AVERAGE_WORTH)

    return average


def _log_odds(share: Numbers) -> Numbers:
    held = np.clip(share, EDGE, 1 - EDGE)
    return np.asarray(np.log(held / (1 - held)), dtype=np.float64)
