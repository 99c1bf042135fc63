"""Readiness of everybody in everything at once: the model of ``readiness`` in numpy arrays.

A grid has the axes players, plays, roles (five, in the order of ``ROLES``). Working memory is
a few arrays of one number per touch and per cell: 15 x 40 x 5 cells are 24 kB.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from practice.core.instants import DAY_SECONDS
from practice.core.readiness.assumptions import NO_OFFSETS, Assumptions, Offsets
from practice.core.readiness.cell import Cell, short_of
from practice.core.reps.rep import Id, Mode, Touch

Numbers = NDArray[np.float64]
Indices = NDArray[np.int64]
_ROLE_INDEX: Final = {role: index for index, role in enumerate(ROLES)}


@dataclass(frozen=True, slots=True, eq=False)
class Ledger:
    """The touches as arrays, one entry for each cell and practice in which it was touched.

    ``cell`` indexes the flattened grid, ``held`` is in days since the epoch, ``gain`` is the
    practice's strength at an age of one day; ``faster`` says whether more than walking through
    was run in it.
    """

    players: tuple[Id, ...]
    plays: tuple[Id, ...]
    cell: Indices
    held: Numbers
    gain: Numbers
    faster: NDArray[np.bool_]
    assumptions: Assumptions
    offsets: Offsets

    @property
    def shape(self) -> tuple[int, int, int]:
        return len(self.players), len(self.plays), len(ROLES)


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Values from 0 to 1 and strengths, axes (player, play, role)."""

    players: tuple[Id, ...]
    plays: tuple[Id, ...]
    on: datetime
    value: Numbers
    strength: Numbers

    def at(self, cell: Cell) -> float:
        """The value of a cell. Raises ValueError for a player or play not in the grid."""
        return float(self.value[self._place(cell)])

    def mark(self, marks: NDArray[np.object_], cell: Cell) -> ReadinessMark:
        """A cell's mark among those of ``standings``."""
        return ReadinessMark(marks[self._place(cell)])

    def _place(self, cell: Cell) -> tuple[int, int, int]:
        player, play, role = cell
        return self.players.index(player), self.plays.index(play), _ROLE_INDEX[role]


def ledger(
    history: Iterable[Touch],
    players: Sequence[Id],
    plays: Sequence[Id],
    assumptions: Assumptions,
    offsets: Offsets = NO_OFFSETS,
) -> Ledger:
    """Sum the touches up, once for all dates; players and plays not named are left out."""
    player_index = {who: index for index, who in enumerate(players)}
    play_index = {play: index for index, play in enumerate(plays)}
    practice_index: dict[Id, int] = {}
    cells, practices, days, worths, faster = [], [], [], [], []
    for touch in history:
        who, play = player_index.get(touch.player), play_index.get(touch.play)
        if who is None or play is None:
            continue
        cells.append((who * len(plays) + play) * len(ROLES) + _ROLE_INDEX[touch.role])
        practices.append(practice_index.setdefault(touch.practice, len(practice_index)))
        days.append(day_number(touch.at))
        worths.append(touch.count * assumptions.worth(touch.mode, clean=touch.clean))
        faster.append(touch.mode is not Mode.WALK_THROUGH)
    keys = np.array(cells, dtype=np.int64) * max(1, len(practice_index)) + np.array(
        practices, dtype=np.int64
    )
    unique, place = np.unique(keys, return_inverse=True)
    worth = np.bincount(place, weights=worths, minlength=len(unique))
    held = np.full(len(unique), np.inf)
    np.minimum.at(held, place, np.array(days, dtype=np.float64))
    gain = np.where(worth > 0, worth, 0.0) ** assumptions.massing
    cell = unique // max(1, len(practice_index))
    fast = np.bincount(place, weights=np.array(faster, dtype=float), minlength=len(unique)) > 0
    return Ledger(tuple(players), tuple(plays), cell, held, gain, fast, assumptions, offsets)


def grid(book: Ledger, on: datetime) -> Grid:
    """Readiness of every cell on a moment."""
    day = day_number(on)
    return Grid(book.players, book.plays, on, _values(book, day), _strengths(book, day))


def over_time(book: Ledger, moments: Sequence[datetime]) -> Numbers:
    """Values on many moments, axes (moment, player, play, role)."""
    values = [_values(book, day_number(on)) for on in moments]
    return np.stack(values) if values else np.zeros((0, *book.shape))


class ReadinessMark(StrEnum):
    """The mark beside a number in the grid: told apart by word and shape, not by colour."""

    NEVER = "never"  # no reps at all
    LEARNING = "learning"  # reps, but never yet ready
    READY = "ready"
    FADING = "fading"  # was ready after some practice, and is not now


def standings(book: Ledger, on: datetime) -> NDArray[np.object_]:
    """A ``ReadinessMark`` for every cell, axes as the grid's."""
    now = grid(book, on)
    ready = book.assumptions.ready
    marks = np.full(book.shape, ReadinessMark.LEARNING, dtype=object)
    marks[_peaks(book, on) >= ready] = ReadinessMark.FADING
    marks[now.value >= ready] = ReadinessMark.READY
    touched = np.zeros(now.strength.size, dtype=bool)
    touched[book.cell[book.held <= day_number(on)]] = True
    marks[~touched.reshape(book.shape) & (now.value < ready)] = ReadinessMark.NEVER
    return marks


def mark_of(
    history: Iterable[Touch],
    cell: Cell,
    on: datetime,
    assumptions: Assumptions,
    offsets: Offsets = NO_OFFSETS,
) -> ReadinessMark:
    """The mark of one cell, as the whole grid has it, without making the grid."""
    book = ledger(history, cell[:1], cell[1:2], assumptions, offsets)
    return grid(book, on).mark(standings(book, on), cell)


def day_number(moment: datetime) -> float:
    """Days since 1970 of an aware moment."""
    return moment.astimezone(UTC).timestamp() / DAY_SECONDS


def _strengths(book: Ledger, day: float) -> Numbers:
    before = book.held <= day
    age = np.maximum(day - book.held[before], book.assumptions.youngest)
    terms = book.gain[before] * age**-book.assumptions.decay
    total = np.bincount(book.cell[before], weights=terms, minlength=int(np.prod(book.shape)))
    return np.asarray(total + book.assumptions.carried, dtype=np.float64).reshape(book.shape)


def _values(book: Ledger, day: float) -> Numbers:
    """Readiness at the end of a day number; walking through alone stays short of ready."""
    values = _chances(book, _strengths(book, day))
    faster = np.zeros(values.size, dtype=bool)
    faster[book.cell[(book.held <= day) & book.faster]] = True
    most = np.where(faster.reshape(book.shape), 1.0, short_of(book.assumptions.ready))
    return np.asarray(np.minimum(values, most), dtype=np.float64)


def _chances(book: Ledger, strength: Numbers) -> Numbers:
    shift = np.array([book.offsets.players.get(who, 0.0) for who in book.players])[:, None]
    shift = shift + np.array([book.offsets.plays.get(play, 0.0) for play in book.plays])
    with np.errstate(divide="ignore", over="ignore"):
        x = (np.log(strength) - book.assumptions.threshold - shift[:, :, None]) / (
            book.assumptions.spread
        )
        return np.asarray(1 / (1 + np.exp(-x)), dtype=np.float64)


def _peaks(book: Ledger, on: datetime) -> Numbers:
    """The best value each cell had in the evening of the day after it was practised (UTC).

    Days on which others practised do not count: a mark is of its own cell alone.
    """
    now = day_number(on)
    peak = np.zeros(int(np.prod(book.shape)))
    days = np.floor(book.held)
    for held in np.unique(days[book.held <= now]):
        own = book.cell[(days == held) & (book.held <= now)]
        values = _values(book, min(held + 1.75, now)).ravel()
        peak[own] = np.maximum(peak[own], values[own])
    return peak.reshape(book.shape)
