"""The later reps of a log as rows for calibration, and two plain forecasts to beat.

A row is one cell, practice and mode: so many reps, so many of them clean, and what the cell
had behind it when the practice began. Only reps of cells that were practised before count.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import Cell
from practice.core.readiness.grid import day_number
from practice.core.reps.rep import Id, Mode, Touch

Numbers = NDArray[np.float64]
Indices = NDArray[np.int64]
MODES: Final = tuple(Mode)
RECENT: Final = 3


@dataclass(frozen=True, slots=True, eq=False)
class CalibrationRows:
    """Rows as arrays, and the *pairs* of a row and an earlier practice of its cell.

    A pair holds the clean and wrong reps of that practice by mode, (pairs, 4), and its age in
    days when the row's practice began. ``last_three`` is the forecast from the cell's last
    three reps; ``practice`` numbers the practices in the order of time.
    """

    players: tuple[Id, ...]
    practices: int
    player: Indices
    practice: Indices
    mode: Indices
    clean: Numbers
    total: Numbers
    last_three: Numbers
    pair_row: Indices
    pair_clean: Numbers
    pair_wrong: Numbers
    pair_age: Numbers

    @property
    def graded(self) -> int:
        return int(self.total.sum())

    def only(self, kept: NDArray[np.bool_]) -> CalibrationRows:
        """Some of the rows, with their pairs."""
        number = np.cumsum(kept) - 1
        pairs = kept[self.pair_row]
        return CalibrationRows(
            self.players,
            self.practices,
            self.player[kept],
            self.practice[kept],
            self.mode[kept],
            self.clean[kept],
            self.total[kept],
            self.last_three[kept],
            number[self.pair_row[pairs]],
            self.pair_clean[pairs],
            self.pair_wrong[pairs],
            self.pair_age[pairs],
        )

    def strengths(self, assumptions: Assumptions) -> Numbers:
        """Strength of each row's cell when its practice began."""
        return self.strengths_and_slopes(assumptions)[0]

    def strengths_and_slopes(self, assumptions: Assumptions) -> tuple[Numbers, list[Numbers]]:
        """Strengths, and their slopes in decay, worth of walk-through, worth of half speed."""
        worth = np.array([assumptions.worth(mode, clean=True) for mode in MODES])
        reps = self.pair_clean + assumptions.error * self.pair_wrong
        effort = reps @ worth
        age = np.maximum(self.pair_age, assumptions.youngest)
        faded = age**-assumptions.decay
        gain = effort**assumptions.massing * faded
        worked = np.where(effort > 0, effort, 1.0)
        rising = assumptions.massing * worked ** (assumptions.massing - 1) * faded
        sums = [self._by_row(x) for x in (
            gain, -gain * np.log(age), rising * reps[:, 0], rising * reps[:, 1]
        )]  # fmt: skip
        return sums[0] + assumptions.carried, sums[1:]

    def player_rate(self, past: CalibrationRows) -> Numbers:
        """Beta-binomial: each player's own rate so far, drawn towards everybody's."""
        clean = np.bincount(past.player, weights=past.clean, minlength=len(self.players))
        total = np.bincount(past.player, weights=past.total, minlength=len(self.players))
        everybody = (clean.sum() + 1) / (total.sum() + 2)
        rate = (clean + 10 * everybody) / (total + 10)
        return np.asarray(rate[self.player], dtype=np.float64)

    def _by_row(self, of_pairs: Numbers) -> Numbers:
        summed = np.bincount(self.pair_row, weights=of_pairs, minlength=len(self.mode))
        return np.asarray(summed, dtype=np.float64)


def rows_of(history: Sequence[Touch], assumptions: Assumptions) -> CalibrationRows:
    """Every later rep of a log, in the order of time."""
    builder = _Builder()
    practices: dict[Id, list[Touch]] = {}
    for touch in sorted(history, key=lambda touch: touch.at):
        practices.setdefault(touch.practice, []).append(touch)
    for number, same in enumerate(practices.values()):
        builder.add(number, same)
    return builder.rows(len(practices), assumptions)


class _Builder:
    """Goes through the practices in order and remembers what each cell has behind it."""

    def __init__(self) -> None:
        self.players: dict[Id, int] = {}
        self.behind: dict[Cell, list[tuple[float, Numbers, Numbers]]] = {}
        self.recent: dict[Cell, list[bool]] = {}
        self.facts: list[tuple[int, int, int, float, float, float]] = []
        self.pairs: list[tuple[int, Numbers, Numbers, float]] = []

    def add(self, number: int, same: Sequence[Touch]) -> None:
        cells: dict[Cell, list[Touch]] = {}
        for touch in same:
            cells.setdefault((touch.player, touch.play, touch.role), []).append(touch)
        for cell, own in cells.items():
            day = day_number(own[0].at)
            clean, wrong = (_by_mode(own, clean=right) for right in (True, False))
            if cell in self.behind:
                self._rows(number, cell, day, clean, wrong)
            self.behind.setdefault(cell, []).append((day, clean, wrong))
            self.recent.setdefault(cell, []).extend(
                touch.clean for touch in own for _ in range(touch.count)
            )

    def _rows(self, number: int, cell: Cell, day: float, clean: Numbers, wrong: Numbers) -> None:
        player = self.players.setdefault(cell[0], len(self.players))
        last = self.recent[cell][-RECENT:]
        three = (sum(last) + 1) / (len(last) + 2)
        for mode in np.flatnonzero(clean + wrong).tolist():
            row = len(self.facts)
            total = float(clean[mode] + wrong[mode])
            self.facts.append((player, number, mode, float(clean[mode]), total, three))
            self.pairs += [(row, good, bad, day - then) for then, good, bad in self.behind[cell]]

    def rows(self, practices: int, assumptions: Assumptions) -> CalibrationRows:
        facts = np.array(self.facts, dtype=np.float64).reshape(-1, 6)
        whole = facts[:, :3].astype(np.int64)
        made = CalibrationRows(
            players=tuple(self.players),
            practices=practices,
            player=whole[:, 0],
            practice=whole[:, 1],
            mode=whole[:, 2],
            clean=facts[:, 3],
            total=facts[:, 4],
            last_three=facts[:, 5],
            pair_row=np.array([pair[0] for pair in self.pairs], dtype=np.int64),
            pair_clean=np.array([pair[1] for pair in self.pairs]).reshape(-1, len(MODES)),
            pair_wrong=np.array([pair[2] for pair in self.pairs]).reshape(-1, len(MODES)),
            pair_age=np.array([pair[3] for pair in self.pairs], dtype=np.float64),
        )
        return made.only(made.strengths(assumptions) > 0)


def _by_mode(own: Sequence[Touch], *, clean: bool) -> Numbers:
    counts = np.zeros(len(MODES))
    for touch in own:
        if touch.clean is clean:
            counts[MODES.index(touch.mode)] += touch.count
    return counts
