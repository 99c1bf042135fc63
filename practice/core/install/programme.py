"""The install question as an integer programme: what its columns and rows are.

Columns: reps (play, unit, mode, practice); whether a play is run in a practice, and whether
it begins there; what a group of cells gains in a practice; the fresh strength and readiness
of each exam; whether a play is ready. Cells that always stand together share a column, as
do equal exams.

Long since columns and rows are one table: a row can be read only beside its columns.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from practice.core.install.model import (
    EVEN,
    HALF,
    LIVE,
    WALK,
    Flags,
    Indices,
    Model,
    all_up,
    bonuses,
    efforts,
    only_walked,
    ready_bonuses,
)
from practice.core.install.pieces import Line, PiecewiseCurve, curve_over, gain_lines
from shared.core.milp import Growing, Solved, Term, solved, weighted

MOST_REPS: Final = 16  # of one play, unit and mode in one practice
SAME: Final = 9  # digits in which two exams must agree to share a column


@dataclass(frozen=True, slots=True, eq=False)
class PlanFound:
    """``reps`` are None where no plan was found; nothing is worth more than ``bound``."""

    reps: Indices | None
    bound: float


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """A plan, and the part of it that may change."""

    reps: Indices
    free: Flags


@dataclass(frozen=True, slots=True)
class _Exam:
    """One or more equal exams: the columns that gain, how they fade, and what it counts."""

    gains: tuple[tuple[int, float], ...]
    curve: PiecewiseCurve
    weight: float


class Programme:
    """Built once for a model; every bound it gives holds for the exact worth."""

    def __init__(self, model_: Model) -> None:
        self.model = model_
        self.rows = Growing()
        self.constant = 0.0
        self.members = _members(model_)
        self.lines = gain_lines(model_.assumptions.massing, _least_effort(model_))
        self.reps = self._rep_columns()
        self.run = self._run_columns()
        self._add_visits()
        self._add_minutes()
        self._add_new_plays()
        self._add_steps()
        self.most_gain: dict[int, float] = {}
        self.gain_of = self._gain_columns()
        for exam in self._exams():
            self._add_exam(exam)
        self._add_bonuses()
        self._add_ready()
        self.milp = self.rows.milp()
        rules = model_.ask.rules
        best_bonus = sum((rules.touch_bonus, rules.live_bonus, rules.second_bonus))
        best_bonus += rules.ready_bonus
        self.loosest = float(model_.weight.sum() + best_bonus * model_.priority.sum())

    def solve(self, seconds: float, relative_gap: float, around: Around | None = None) -> PlanFound:
        """Solve for at most ``seconds``; ``around`` a plan, only a part of it may change.

        The bound is for the whole question only where nothing is held.
        """
        held = {} if around is None else self._held(around)
        found = solved(self.milp.with_held(held), seconds, relative_gap)
        reps = None if found.x is None else np.rint(found.x[self.reps]).astype(np.int64)
        return PlanFound(reps, self._bound(found))

    def _held(self, around: Around) -> dict[int, float]:
        columns, reps = self.reps[~around.free], around.reps[~around.free]
        return dict(zip(columns.tolist(), reps.astype(float).tolist(), strict=True))

    def _bound(self, found: Solved) -> float:
        return self.loosest if found.bound is None else self.constant - found.bound

    def value_of(self, reps: Indices) -> float:
        """What the pieces say a plan is worth: never less than its exact worth."""
        effort = efforts(self.model, reps)
        gain = np.min([level + slope * effort for level, slope in self.lines], axis=0)
        gain[effort <= 0] = 0.0
        fresh = np.einsum("cjt,ct->cj", self.model.fade, gain)
        up = self.model.start[:, 0] + fresh[:, 0] >= self.model.wanted - EVEN
        ready = all_up(self.model, up & ~only_walked(self.model, reps))
        total = sum(
            self.model.weight[c, j] * self._curve(c, j).at(float(fresh[c, j]))
            for c, j in np.argwhere(self.model.weight > 0).tolist()
        )
        bonus = bonuses(self.model, reps) + ready * ready_bonuses(self.model)
        return float(total + bonus.sum())

    # --- columns and rows ---

    def _rep_columns(self) -> Indices:
        model_, shape = self.model, self.model.can.shape
        can = model_.can & model_.counts[:, None, None, None]
        columns = np.zeros(shape, dtype=np.int64)
        for k, u, m, t in np.ndindex(shape):
            low = int(model_.fixed[k, u, m, t])
            fits = int((model_.play_room[k, t] - model_.setup[k]) / model_.minutes[m] + 1e-9)
            most = min(MOST_REPS, max(0, fits)) if can[k, u, m, t] else 0
            columns[k, u, m, t] = self.rows.column(low, max(low, most), integer=True)
        return columns

    def _run_columns(self) -> Indices:
        plays, _, _, practices = self.model.shape
        fixed: Flags = np.asarray(self.model.fixed.any(axis=(1, 2)))
        columns = np.zeros((plays, practices), dtype=np.int64)
        for k, t in np.ndindex(plays, practices):
            run = self.rows.column(float(fixed[k, t]), 1, integer=True)
            columns[k, t] = run
            reps = self.reps[k, :, :, t].ravel().tolist()
            self.rows.at_most([(run, 1.0), *weighted(reps, -1.0)], 0.0)
            for column in reps:
                self.rows.at_most([(column, 1.0), (run, -self.rows.highest(column))], 0.0)
        return columns

    def _add_visits(self) -> None:
        """A unit that runs a play in a practice runs it often enough there."""
        plays, units, _, practices = self.model.shape
        least = self.model.ask.rules.least_reps
        if least <= 1:
            return
        for k, u, t in np.ndindex(plays, units, practices):
            visit = self.rows.column(0, 1, integer=True)
            reps = self.reps[k, u, :, t].tolist()
            locked = self.model.fixed[k, u, :, t].astype(float).tolist()
            self.rows.at_most([(visit, float(least)), *weighted(reps, -1.0)], 0.0)
            for column, fixed in zip(reps, locked, strict=True):
                most = self.rows.highest(column) - fixed
                self.rows.at_most([(column, 1.0), (visit, -most)], fixed)

    def _minutes_of(self, k: int, t: int) -> list[Term]:
        minutes = self.model.minutes
        return [
            (int(column), float(minutes[m]))
            for (_, m), column in np.ndenumerate(self.reps[k, :, :, t])
        ]

    def _add_minutes(self) -> None:
        plays, _, _, practices = self.model.shape
        for t in range(practices):
            everything: list[Term] = []
            for k in range(plays):
                run, setup = int(self.run[k, t]), float(self.model.setup[k])
                minutes = self._minutes_of(k, t)
                # Nothing without the run column, and with it no more than the room.
                room = float(self.model.play_room[k, t])
                self.rows.at_most([*minutes, (run, setup - room)], 0.0)
                everything += [*minutes, (run, setup)]
            self.rows.at_most(everything, float(self.model.room[t]))

    def _add_new_plays(self) -> None:
        _, _, _, practices = self.model.shape
        new = np.flatnonzero(self.model.is_new).tolist()
        begins = {
            (k, t): self.rows.column(0, 1, integer=True) for k in new for t in range(practices)
        }
        for k in new:
            own = [begins[k, t] for t in range(practices)]
            self.rows.at_most(weighted(own, 1.0), 1.0)
            for t in range(practices):
                run = int(self.run[k, t])
                self.rows.at_most([(run, 1.0), *weighted(own[: t + 1], -1.0)], 0.0)
                self.rows.at_most([(own[t], 1.0), (run, -1.0)], 0.0)
        for t in range(practices):
            starting = [begins[k, t] for k in new]
            self.rows.at_most(weighted(starting, 1.0), float(self.model.new_room[t]))

    def _add_steps(self) -> None:
        """Walk-throughs before half speed, half speed before live, by unit."""
        rules = self.model.ask.rules
        plays, units, _, _ = self.model.shape
        for k, u in np.ndindex(plays, units):
            walks = rules.walk_first - int(self.model.walked[k, u])
            halves = rules.half_first - int(self.model.halved[k, u])
            self._add_step(k, u, (WALK,), (HALF, LIVE), walks)
            self._add_step(k, u, (HALF,), (LIVE,), halves)

    def _add_step(
        self, k: int, u: int, before: tuple[int, ...], after: tuple[int, ...], lacking: int
    ) -> None:
        if lacking <= 0:
            return
        fixed = self.model.fixed[k, u]
        for t in range(self.model.shape[3]):
            done = self.rows.column(0, 1, integer=True)
            for m in after:
                # Locked reps are the coach's own: only what is added needs the step.
                column, locked = int(self.reps[k, u, m, t]), float(fixed[m, t])
                most = self.rows.highest(column) - locked
                self.rows.at_most([(column, 1.0), (done, -most)], locked)
            sooner = self.reps[k, u, list(before), : t + 1].ravel().tolist()
            faster = float(fixed[list(after), : t + 1].sum())
            self.rows.at_most([(done, float(lacking)), *weighted(sooner, -1.0)], faster)

    def _gain_columns(self) -> dict[tuple[int, int], int]:
        """For every cell and practice the column of its gain, shared within its group."""
        model_ = self.model
        shared: dict[tuple[int, int, bytes], int] = {}
        columns = {}
        for c, t in np.ndindex(len(model_.cells), model_.shape[3]):
            k = model_.cells[c][0]
            key = k, t, self.members[c, :, t].tobytes()
            if key not in shared:
                shared[key] = self._gain_column(k, t, self.members[c, :, t])
            columns[c, t] = shared[key]
        return columns

    def _gain_column(self, k: int, t: int, member: Flags) -> int:
        terms = self._effort_terms(k, t, member)
        most = self._most_effort(k, t, [column for column, _ in terms])
        high = min(level + slope * most for level, slope in self.lines) if terms else 0.0
        gain = self.rows.column(0.0, high)
        self.most_gain[gain] = high
        run = int(self.run[k, t])
        for level, slope in self.lines if terms else ():
            # The level times the run column: without a run there is no gain to share out.
            own = [(c, -slope * f) for c, f in terms]
            self.rows.at_most([(gain, 1.0), (run, -level), *own], 0.0)
        return gain

    def _effort_terms(self, k: int, t: int, member: Flags) -> list[Term]:
        effort = self.model.effort
        return [
            (int(column), float(effort[m]))
            for (u, m), column in np.ndenumerate(self.reps[k, :, :, t])
            if member[u, int(m == LIVE)]
        ]

    def _most_effort(self, k: int, t: int, columns: list[int]) -> float:
        """No more effort in one practice than the dearest use of all its minutes."""
        if not columns:
            return 0.0
        per_minute = float((self.model.effort / self.model.minutes).max())
        locked = float(np.einsum("um,m->", self.model.fixed[k, :, :, t], self.model.effort))
        return max(locked, per_minute * float(self.model.play_room[k, t] - self.model.setup[k]))

    def _curve(self, c: int, j: int) -> PiecewiseCurve:
        start, shift = float(self.model.start[c, j]), float(self.model.shift[c])
        return curve_over(start, shift, self.model.assumptions)

    def _exams(self) -> list[_Exam]:
        model_ = self.model
        alike: dict[tuple[object, ...], list[tuple[int, int]]] = {}
        for c, j in np.argwhere(model_.weight > 0).tolist():
            gains = self._gains_of(c, j)
            key = gains, round(model_.start[c, j], SAME), round(model_.shift[c], SAME)
            alike.setdefault(key, []).append((c, j))
        return [
            _Exam(
                self._gains_of(*same[0]),
                self._curve(*same[0]),
                sum(float(model_.weight[place]) for place in same),
            )
            for same in alike.values()
        ]

    def _gains_of(self, c: int, j: int) -> tuple[tuple[int, float], ...]:
        fade = self.model.fade[c, j]
        return tuple(
            (self.gain_of[c, t], float(fade[t])) for t in np.flatnonzero(fade > 0).tolist()
        )

    def _add_exam(self, exam: _Exam) -> None:
        most = sum(self.most_gain[column] * fade for column, fade in exam.gains)
        curve = exam.curve
        if curve.foot <= 0:
            self._add_upper(exam, [(c, f) for c, f in exam.gains], None)
            return
        level, slope = curve.low
        self.constant += exam.weight * level
        low = self.rows.column(0.0, min(curve.foot, most), exam.weight * slope)
        if most <= curve.foot:
            self.rows.at_most([(low, 1.0), *((c, -f) for c, f in exam.gains)], 0.0)
            return
        high = self.rows.column(0.0, most)
        past = self.rows.column(0, 1, -exam.weight * level, integer=True)
        self.rows.at_most([(low, 1.0), (past, curve.foot)], curve.foot)
        self.rows.at_most([(high, 1.0), (past, -most)], 0.0)
        self.rows.at_most([(high, -1.0), (past, curve.foot)], 0.0)
        fresh = [(c, -f) for c, f in exam.gains]
        self.rows.at_most([(low, 1.0), (high, 1.0), *fresh], 0.0)
        self._add_upper(exam, [(high, 1.0)], past)

    def _add_upper(self, exam: _Exam, fresh: list[Term], past: int | None) -> None:
        """Readiness under the upper lines; with ``past`` they hold only where it is 1."""
        value = self.rows.column(0.0, 1.0, exam.weight)
        for level, slope in exam.curve.lines:
            self._add_line((level, slope), value, fresh, past)

    def _add_line(self, line: Line, value: int, fresh: list[Term], past: int | None) -> None:
        level, slope = line
        terms = [(value, 1.0), *((column, -slope * factor) for column, factor in fresh)]
        if past is None:
            self.rows.at_most(terms, level)
        else:
            self.rows.at_most([*terms, (past, -level)], 0.0)

    def _add_bonuses(self) -> None:
        model_, rules = self.model, self.model.ask.rules
        for k, priority in enumerate(model_.priority.tolist()):
            late = self.reps[k][model_.leading[k] & model_.late].tolist()
            touch = self.rows.column(0.0, 1.0, rules.touch_bonus * priority)
            self.rows.at_most([(touch, 1.0), *weighted(late, -1.0)], 0.0)
            lives = self.reps[k, :, LIVE].ravel().tolist()
            bonus = rules.live_bonus * priority
            self._add_quota(lives, int(model_.lives[k]), rules.least_live, bonus)
            seconds = self.reps[k][model_.second[k]].tolist()
            bonus = rules.second_bonus * priority
            self._add_quota(seconds, int(model_.seconds[k]), rules.least_second, bonus)

    def _add_ready(self) -> None:
        """A play has its bonus where the strength of each of its five reaches the bar."""
        model_ = self.model
        for k, bonus in enumerate(ready_bonuses(model_).tolist()):
            if bonus <= 0 or not model_.full[k]:
                continue
            ready = self.rows.column(0, 1, bonus, integer=True)
            for c in np.flatnonzero(model_.first & (model_.play_of == k)).tolist():
                lacking = float(model_.wanted[c] - model_.start[c, 0]) - EVEN
                gains = [(column, -fade) for column, fade in self._gains_of(c, 0)]
                if lacking > 0:
                    self.rows.at_most([(ready, lacking), *gains], 0.0)
                if not model_.faster[c]:
                    self.rows.at_most([(ready, 1.0), *self._faster_reps(c)], 0.0)

    def _faster_reps(self, c: int) -> list[Term]:
        """The reps beyond walking through in which a cell stands, each counting against 0."""
        members, effort = self.members[c], self.model.effort
        return [
            (int(column), -1.0)
            for (u, m, t), column in np.ndenumerate(self.reps[self.model.cells[c][0]])
            if m != WALK and effort[m] > 0 and members[u, t, int(m == LIVE)]
        ]

    def _add_quota(self, columns: list[int], have: int, least: int, bonus: float) -> None:
        if least <= 0:
            self.constant += bonus
            return
        filled = self.rows.column(0.0, 1.0, bonus)
        self.rows.at_most([(filled, float(least)), *weighted(columns, -1.0)], float(have))


def _members(model_: Model) -> Flags:
    """Which cells stand in which unit's five, (C, U, T, quiet or live)."""
    _, units, _, practices = model_.shape
    members = np.zeros((len(model_.cells) + 2, units, practices, 2), dtype=bool)
    for place in np.ndindex(model_.fives.shape):
        _, u, t, kind, _ = place
        members[model_.fives[place], u, t, kind] = True
    return members[:-2]  # the last two rows gather stand-ins and nobody


def _least_effort(model_: Model) -> float:
    """The least effort above none that whole reps can make, for the chord from zero."""
    positive = model_.effort[model_.effort > 0]
    return float(positive.min()) if len(positive) else 1.0
