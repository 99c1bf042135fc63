"""From an install question to its arrays: who stands where, what counts, what is behind them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Final

import numpy as np

from plays.core.play import ROLES, Role
from practice.core.install.model import EXAMS, Flags, Indices, Model, Numbers, Place, counted
from practice.core.install.question import Ask, PlayToInstall, PracticeSlot, Unit
from practice.core.instants import days_between
from practice.core.readiness.cell import strength_for
from practice.core.readiness.grid import grid, ledger
from practice.core.reps.rep import PRACTICE_MODES, Id, Mode

FEWEST_CAST: Final = 3  # of a unit's five: our choice; a rep of fewer is no rep of the play
STAND_IN: Final = 6.0  # costs of a place in a five: our choice
FROM_OUTSIDE: Final = 3.0
NOBODY: Final = -2  # no five at all; -1 is a stand-in who is not cast
LIVE_MODES: Final = (Mode.LIVE, Mode.GAME)


class NothingToPlanError(ValueError):
    """There is no practice before the game, no play with a cast, or no unit."""


def model(ask: Ask) -> Model:
    """Build the arrays. Practices after the game, and locks outside the question, fall away.

    Raises NothingToPlanError.
    """
    slots = tuple(sorted((s for s in ask.slots if s.starts < ask.game), key=lambda s: s.starts))
    cells = _cells(ask)
    if not (slots and cells and ask.units):
        raise NothingToPlanError(f"{len(slots)} practices, {len(cells)} cast")
    depths = np.array([_depth(ask, cell) for cell in cells])
    exam_days = _exam_days(ask)
    starts = np.array([days_between(slot.starts, ask.game) for slot in slots])
    fives = _fives(ask, slots, cells)
    fixed = counted(ask, slots, ask.fixed)
    minutes, setup = _minutes(ask), _setup(ask)
    used = np.einsum("kumt,m->kt", fixed, minutes) + setup[:, None] * fixed.any(axis=(1, 2))
    walked, halved = _behind(ask, cells, slots[0].starts)
    is_new = np.array([not any(t.play == p.play for t in ask.history) for p in ask.plays])
    return Model(
        ask=ask,
        slots=slots,
        cells=cells,
        play_of=np.array([k for k, _, _ in cells]),
        first=depths == 1,
        full=np.array([_is_full(cells, depths, k) for k in range(len(ask.plays))]),
        wanted=_wanted(ask, cells),
        faster=_faster(ask, cells),
        counts=np.ones(len(ask.plays), dtype=bool),
        weight=_weights(ask, cells, depths, exam_days),
        shift=np.array([ask.offsets.of(who, ask.plays[k].play) for k, _, who in cells]),
        start=_start(ask, cells),
        fade=_fade(ask, cells, exam_days, starts),
        fives=fives,
        can=_by_mode((fives > NOBODY).all(axis=-1) & ((fives >= 0).sum(axis=-1) >= FEWEST_CAST)),
        second=_by_mode(_mostly(fives, depths > 1)),
        leading=_by_mode(_mostly(fives, depths == 1)),
        fixed=fixed,
        minutes=minutes,
        setup=setup,
        room=np.maximum([slot.minutes for slot in slots], used.sum(axis=0)),
        play_room=np.maximum(ask.rules.longest_on_play, used),
        effort=np.array([_effort(ask, mode) for mode in PRACTICE_MODES]),
        walked=walked,
        halved=halved,
        is_new=is_new,
        new_room=_new_room(ask, fixed, is_new),
        late=starts <= ask.rules.last_touch_days,
        lives=_past(ask, set(cells), LIVE_MODES),
        seconds=_past(ask, {c for c, d in zip(cells, depths, strict=True) if d > 1}, tuple(Mode)),
        priority=np.array([carried.priority for carried in ask.plays]),
    )


def _cells(ask: Ask) -> tuple[Place, ...]:
    known = set(ask.players)
    return tuple(
        dict.fromkeys(
            (k, role, who)
            for k, carried in enumerate(ask.plays)
            for role in ROLES
            for who in carried.cast.get(role, ())
            if who in known
        )
    )


def _depth(ask: Ask, cell: Place) -> int:
    k, role, who = cell
    return ask.plays[k].cast[role].index(who) + 1


def _is_full(cells: Sequence[Place], depths: Indices, k: int) -> bool:
    """Whether every role of a play has its first."""
    firsts = {role for (j, role, _), d in zip(cells, depths, strict=True) if (j, d) == (k, 1)}
    return len(firsts) == len(ROLES)


def _wanted(ask: Ask, cells: Sequence[Place]) -> Numbers:
    """The strength from which each cell is ready, (C)."""
    bar, plays = ask.assumptions.ready, ask.plays
    offsets = (ask.offsets.of(who, plays[k].play) for k, _, who in cells)
    return np.array([strength_for(bar, ask.assumptions, one) for one in offsets])


def _faster(ask: Ask, cells: Sequence[Place]) -> Flags:
    """Which cells have more behind them than walking through, (C)."""
    behind = {
        (touch.play, touch.role, touch.player)
        for touch in ask.history
        if touch.mode is not Mode.WALK_THROUGH
    }
    return np.array([(ask.plays[k].play, role, who) in behind for k, role, who in cells])


def _minutes(ask: Ask) -> Numbers:
    return np.array([ask.rules.minutes(mode) for mode in PRACTICE_MODES])


def _setup(ask: Ask) -> Numbers:
    usual = ask.rules.setup_minutes
    return np.array([usual if p.setup_minutes is None else p.setup_minutes for p in ask.plays])


def _effort(ask: Ask, mode: Mode) -> float:
    clean, error = (ask.assumptions.worth(mode, clean=right) for right in (True, False))
    return ask.rules.expected_clean * clean + (1 - ask.rules.expected_clean) * error


# --- who stands where ---------------------------------------------------------------------


def _fives(ask: Ask, slots: Sequence[PracticeSlot], cells: Sequence[Place]) -> Indices:
    number = {cell: index for index, cell in enumerate(cells)}
    seen: dict[tuple[int, int, frozenset[Id]], list[int]] = {}
    fives = np.full((len(ask.plays), len(ask.units), len(slots), 2, 5), NOBODY, dtype=np.int64)
    for k, u, t, kind in np.ndindex(fives.shape[:4]):
        away = slots[t].absent | slots[t].limited if kind else slots[t].absent
        key = k, u, away
        if key not in seen:
            seen[key] = _five(ask, k, ask.units[u], away, number)
        fives[k, u, t, kind] = seen[key]
    return fives


def _five(ask: Ask, k: int, unit: Unit, away: frozenset[Id], number: dict[Place, int]) -> list[int]:
    """The cells of the unit's five in a play: the cheapest distinct players who are there."""
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 (scipy where needed)

    present = [who for who in ask.players if who not in away]
    if len(present) < len(ROLES):
        return [NOBODY] * len(ROLES)
    # The tiny slope makes the first of equals win, so that reruns do not shuffle players.
    cost = [
        [_place_cost(ask.plays[k], unit, role, who) + 1e-6 * n for n, who in enumerate(present)]
        for role in ROLES
    ]
    _, columns = linear_sum_assignment(np.array(cost))
    return [
        number.get((k, role, present[column]), -1)
        for role, column in zip(ROLES, columns, strict=True)
    ]


def _place_cost(carried: PlayToInstall, unit: Unit, role: Role, who: Id) -> float:
    outside = FROM_OUTSIDE if unit.players and who not in unit.players else 0.0
    cast = carried.cast.get(role, ())
    if who not in cast:
        return outside + STAND_IN
    return outside + abs(cast.index(who) + 1 - (1 if unit.players else unit.depth))


def _mostly(fives: Indices, cells: Flags) -> Flags:
    padded = np.concatenate([cells, [False, False]])  # stand-ins and nobody count for neither
    return np.asarray(padded[fives].sum(axis=-1) >= FEWEST_CAST)


def _by_mode(by_kind: Flags) -> Flags:
    """From (K, U, T, quiet or live) to (K, U, M, T)."""
    kinds = [int(mode is Mode.LIVE) for mode in PRACTICE_MODES]
    return np.stack([by_kind[..., kind] for kind in kinds], axis=2)


# --- what counts --------------------------------------------------------------------------


def _exam_days(ask: Ask) -> Numbers:
    """Days before the game of each play's exams, (K, exams); nan for an exam that is not."""
    days = np.full((len(ask.plays), EXAMS), np.nan)
    for k, carried in enumerate(ask.plays):
        days[k, 0] = 0.0
        if _early_deadline(ask, carried) is not None:
            days[k, 1] = days_between(carried.deadline or ask.game, ask.game)
    return days


def _early_deadline(ask: Ask, carried: PlayToInstall) -> datetime | None:
    deadline = carried.deadline
    return deadline if deadline is not None and deadline < ask.game else None


def _weights(ask: Ask, cells: Sequence[Place], depths: Indices, exam_days: Numbers) -> Numbers:
    exams = ~np.isnan(exam_days)
    share = exams / exams.sum(axis=1, keepdims=True)
    weight = np.zeros((len(cells), EXAMS))
    for index, (k, _, _) in enumerate(cells):
        of_five = ask.rules.depth_weight(int(depths[index])) / len(ROLES)
        weight[index] = share[k] * of_five * ask.plays[k].priority
    return weight


def _start(ask: Ask, cells: Sequence[Place]) -> Numbers:
    """Strength from the history alone at each exam, (C, exams)."""
    plays = [carried.play for carried in ask.plays]
    book = ledger(ask.history, ask.players, plays, ask.assumptions, ask.offsets)
    moments = {ask.game, *(_early_deadline(ask, carried) or ask.game for carried in ask.plays)}
    on = {moment: grid(book, moment).strength for moment in moments}
    row = {who: index for index, who in enumerate(ask.players)}
    start = np.zeros((len(cells), EXAMS))
    for index, (k, role, who) in enumerate(cells):
        place = row[who], k, ROLES.index(role)
        early = _early_deadline(ask, ask.plays[k]) or ask.game
        start[index] = on[ask.game][place], on[early][place]
    return start


def _fade(ask: Ask, cells: Sequence[Place], exam_days: Numbers, starts: Numbers) -> Numbers:
    age = starts[None, None, :] - np.nan_to_num(exam_days)[:, :, None]
    held = np.maximum(age, ask.assumptions.youngest) ** -ask.assumptions.decay
    by_play = np.where(age >= 0, held, 0.0)
    return np.asarray(by_play[[k for k, _, _ in cells]], dtype=np.float64)


# --- what is behind them ------------------------------------------------------------------


def _behind(ask: Ask, cells: Sequence[Place], since: datetime) -> tuple[Indices, Indices]:
    """Recent reps behind each unit in each play: the median over its usual five, (K, U) twice.

    The median, so that one new player does not send four others back to walking. Only the
    last ``recall_days`` before the first practice count: who has not run a play for longer
    begins with the steps again.
    """
    number = {cell: index for index, cell in enumerate(cells)}
    done = np.zeros((len(cells) + 2, 2))  # the last two rows: stand-ins and nobody
    plays = {carried.play: k for k, carried in enumerate(ask.plays)}
    for touch in ask.history:
        index = number.get((plays.get(touch.play, -1), touch.role, touch.player))
        if index is not None and days_between(touch.at, since) <= ask.rules.recall_days:
            done[index] += touch.count, touch.count * (touch.mode is not Mode.WALK_THROUGH)
    usual = np.array(
        [
            [_five(ask, k, unit, frozenset(), number) for unit in ask.units]
            for k in range(len(ask.plays))
        ]
    )
    median = np.median(done[usual], axis=2).astype(np.int64)
    return median[..., 0], median[..., 1]


def _past(ask: Ask, cells: set[Place], modes: Sequence[Mode]) -> Indices:
    """Past reps of each play, by the median count, (K)."""
    plays = {carried.play: k for k, carried in enumerate(ask.plays)}
    counts = np.zeros((len(ask.plays), len(ROLES)), dtype=np.int64)
    for touch in ask.history:
        k = plays.get(touch.play, -1)
        if touch.mode in modes and (k, touch.role, touch.player) in cells:
            counts[k, ROLES.index(touch.role)] += touch.count
    return np.asarray(np.median(counts, axis=1), dtype=np.int64)


def _new_room(ask: Ask, fixed: Indices, is_new: Flags) -> Indices:
    """How many plays may begin in each practice: the rule, or what locks already begin."""
    touched = fixed.any(axis=(1, 2))
    begins = touched & (np.cumsum(touched, axis=1) == 1) & is_new[:, None]
    return np.asarray(np.maximum(ask.rules.most_new, begins.sum(axis=0)), dtype=np.int64)
