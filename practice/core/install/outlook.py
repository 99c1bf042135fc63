"""What a schedule lets expect by game day, play by play, and what will not be ready and why.

Expected readiness counts each planned rep with the usual share of clean ones. A play is
ready when every first-depth player is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from plays.core.play import Role
from practice.core.install.build import model
from practice.core.install.getting_ready import can_be_ready, minutes_to_ready
from practice.core.install.greedy import begins_in
from practice.core.install.model import (
    Indices,
    Model,
    Numbers,
    as_reps,
    chances,
    minutes_used,
    only_walked,
    ready_plays,
    strengths,
)
from practice.core.install.question import Ask, Schedule
from practice.core.readiness.cell import all_right, short_of
from practice.core.reps.rep import PRACTICE_MODES, Id, Mode
from shared.core.language import N_, NN_, Language
from shared.core.numbers import hundredths

MOST_EXTRA: Final = 120.0  # minutes; beyond, no number is named

NEEDS_MINUTES: Final = NN_("Needs {n} more minute.", "Needs {n} more minutes.")
WEAKEST: Final = N_("The weakest is {player} in role {role}, at {percent} %.")
NOT_PLANNED: Final = N_("Not in the plan: the minutes go further on other plays.")
CANNOT: Final = N_(
    "Not in the plan: even with all the minutes to itself it would not be ready by then."
)
NEEDS_MUCH: Final = N_("Needs more than {minutes} more minutes.")
TOO_SHORT: Final = N_("Not in the plan: no practice left has the minutes to run it.")
NO_FIVE: Final = N_("There is no practice in which enough of its players are there.")
MISSES: Final = NN_(
    "{player} misses {missed} of the {n} practice left.",
    "{player} misses {missed} of the {n} practices left.",
)
MISSES_IT: Final = N_("{player} misses the only practice left.")
IN_NO_UNIT: Final = N_(
    "No unit runs it with {player} in role {role}: make a unit that does, or practise it apart."
)
LIVE_OUT: Final = N_("{player} is left out of live reps.")
NOT_BEGUN: Final = N_("Not begun: no practice may begin another play (at most {count}).")
NOT_CAST: Final = N_("Role {role} has nobody in first place.")


@dataclass(frozen=True, slots=True)
class Expected:
    """One player's expected readiness in one role, with the schedule and without it."""

    player: Id
    role: Role
    value: float
    without: float


@dataclass(frozen=True, slots=True)
class PlayOutlook:
    """What to expect of one play. ``first`` are its first-depth players, weakest first.

    ``mean`` and ``without`` are over them, None where there is nobody; ``all_right`` is the
    chance that none of them errs, None without a full five;
    ``by_deadline`` is the mean on an earlier deadline.
    ``extra_minutes`` would make it ready; None where no time would, or too much.
    """

    play: Id
    first: tuple[Expected, ...]
    mean: float | None
    without: float | None
    by_deadline: float | None
    all_right: float | None
    ready: bool
    minutes: float
    reps: Mapping[Mode, int]
    extra_minutes: float | None
    reasons: tuple[str, ...]


def outlook(
    ask: Ask, schedule: Schedule, names: Mapping[Id, str], language: Language
) -> tuple[PlayOutlook, ...]:
    """One outlook for each play, in the order of the question. Raises NothingToPlanError."""
    model_ = model(ask)
    reps = as_reps(model_, schedule.entries)
    values, without = _expected(model_, reps), _expected(model_, np.zeros_like(reps))
    return tuple(
        _play_outlook(_PlayCase(model_, reps, k, values, without), names, language)
        for k in range(len(ask.plays))
    )


def _expected(model_: Model, reps: Indices) -> Numbers:
    """Readiness of each cell at its exams; walking through alone stays short of ready."""
    values = chances(model_, strengths(model_, reps))
    most = np.where(only_walked(model_, reps), short_of(model_.assumptions.ready), 1.0)
    return np.minimum(values, most[:, None])


@dataclass(frozen=True, slots=True, eq=False)
class _PlayCase:
    model: Model
    reps: Indices
    play: int
    values: np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    without: np.ndarray[tuple[int, ...], np.dtype[np.float64]]

    @property
    def firsts(self) -> list[int]:
        cells = enumerate(self.model.cells)
        return [c for c, cell in cells if cell[0] == self.play and self.model.first[c]]

    @property
    def absences(self) -> dict[Id, int]:
        slots = self.model.slots
        whos = {self.model.cells[c][2] for c in self.firsts}
        return {who: sum(who in slot.absent for slot in slots) for who in whos}


def _play_outlook(case: _PlayCase, names: Mapping[Id, str], language: Language) -> PlayOutlook:
    model_, k = case.model, case.play
    carried = model_.ask.plays[k]
    first = sorted(
        (
            Expected(
                model_.cells[c][2],
                model_.cells[c][1],
                float(case.values[c, 0]),
                float(case.without[c, 0]),
            )
            for c in case.firsts
        ),
        key=lambda e: e.value,
    )
    full = len({e.role for e in first}) == 5
    ready = bool(ready_plays(model_, case.reps, case.values)[k])
    extra = None if ready or not full else minutes_to_ready(model_, case.reps, k, MOST_EXTRA)
    early = carried.deadline is not None and carried.deadline < model_.ask.game
    return PlayOutlook(
        play=carried.play,
        first=tuple(first),
        mean=_mean([e.value for e in first]),
        without=_mean([e.without for e in first]),
        by_deadline=_mean([float(case.values[c, 1]) for c in case.firsts]) if early else None,
        all_right=all_right(e.value for e in first) if full else None,
        ready=ready,
        minutes=float(minutes_used(model_, case.reps)[k].sum()),
        reps={m: int(case.reps[k, :, i].sum()) for i, m in enumerate(PRACTICE_MODES)},
        extra_minutes=extra,
        reasons=() if ready else _reasons(case, first, extra, names, language),
    )


def _reasons(
    case: _PlayCase,
    first: list[Expected],
    extra: float | None,
    names: Mapping[Id, str],
    language: Language,
) -> tuple[str, ...]:
    said = _gaps(case, first, language)
    if said:
        return tuple(said)
    model_, k = case.model, case.play
    said.append(_weakest(first[0], names, language))
    if not bool(model_.can[k].any()):
        return (*said, language.say(NO_FIVE))
    if why := _why_not(case):
        said.append(language.say(why, count=model_.ask.rules.most_new))
    unreached = _in_no_unit(case, names, language)
    said += unreached
    if extra is not None or not unreached:
        said.append(_minutes_sentence(extra, language))
    return tuple(said + _people(case, first, names, language))


def _why_not(case: _PlayCase) -> str:
    """Why no rep of the play is planned; empty where some are, or where nothing is planned yet."""
    if case.reps[case.play].any():
        return ""
    if not case.reps.any():
        return "" if _room_for_one(case) else TOO_SHORT
    if bool(case.model.is_new[case.play]) and _no_room_to_begin(case):
        return NOT_BEGUN
    return NOT_PLANNED if can_be_ready(case.model, case.play) else CANNOT


def _in_no_unit(case: _PlayCase, names: Mapping[Id, str], language: Language) -> list[str]:
    """First-depth players who are not ready, and whom no unit gives a rep in their role."""
    model_, said = case.model, []
    for cell in case.firsts:
        _, role, who = model_.cells[cell]
        weak = case.values[cell, 0] < model_.assumptions.ready
        present = case.absences[who] < len(model_.slots)
        if weak and present and not bool((model_.fives[case.play] == cell).any()):
            said.append(language.say(IN_NO_UNIT, player=names.get(who, str(who)), role=role))
    return said


def _room_for_one(case: _PlayCase) -> bool:
    """Whether some practice has the minutes to run the play at all."""
    rules = case.model.ask.rules
    least = rules.setup_minutes + rules.least_reps * rules.walk_minutes
    room = np.minimum(case.model.play_room[case.play], case.model.room)
    return bool((room >= least).any())


def _weakest(who: Expected, names: Mapping[Id, str], language: Language) -> str:
    """Why a play with a good mean is not ready: it takes all five. Never rounded up to ready."""
    return language.say(
        WEAKEST,
        player=names.get(who.player, str(who.player)),
        role=who.role,
        percent=hundredths(who.value),
    )


def _gaps(case: _PlayCase, first: list[Expected], language: Language) -> list[str]:
    filled = {e.role for e in first}
    cast = case.model.ask.plays[case.play].cast
    missing = [role for role in ("1", "2", "3", "4", "5") if role not in filled or role not in cast]
    return [language.say(NOT_CAST, role=role) for role in missing]


def _no_room_to_begin(case: _PlayCase) -> bool:
    return bool((begins_in(case.model, case.reps) >= case.model.new_room).all())


def _minutes_sentence(extra: float | None, language: Language) -> str:
    if extra is None:
        return language.say(NEEDS_MUCH, minutes=language.number(MOST_EXTRA, 0))
    return language.say_n(*NEEDS_MINUTES, math.ceil(extra - 1e-9))


def _people(
    case: _PlayCase, first: list[Expected], names: Mapping[Id, str], language: Language
) -> list[str]:
    """Who is away or left out among those that are not ready."""
    slots, said = case.model.slots, []
    weak = [e.player for e in first if e.value < case.model.assumptions.ready]
    for who in dict.fromkeys(weak):
        missed, name = case.absences[who], names.get(who, str(who))
        if missed and len(slots) == 1:
            said.append(language.say(MISSES_IT, player=name))
        elif missed:
            said.append(language.say_n(*MISSES, len(slots), player=name, missed=missed))
        elif all(who in slot.limited for slot in slots):
            said.append(language.say(LIVE_OUT, player=name))
    return said


def _mean(values: list[float]) -> float | None:
    return sum(values) / len(values) if values else None
