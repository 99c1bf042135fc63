"""What is wrong with a schedule that a coach changed by hand: named, never blocked.

Only a rep that cannot take place is an error; whatever bends a rule of the club is a warning.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from practice.core.install.build import model
from practice.core.install.greedy import begins_in, steps_lacking
from practice.core.install.model import Model, as_reps, minutes_used
from practice.core.install.question import Ask, Schedule
from practice.core.reps.rep import PRACTICE_MODES, Id
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

ELSEWHERE: Final = N_("This entry names a practice, play or unit that is not in the plan any more.")
NO_REPS: Final = N_("An entry needs at least 1 rep.")
NO_FIVE: Final = N_("Not enough of the players cast for this play are there for this rep.")
TOO_LONG: Final = N_("The plays take {minutes} minutes; {room} are there for installing.")
PLAY_LONG: Final = N_("{play} takes {minutes} minutes here; more than {most} on one play is long.")
TOO_SOON: Final = N_("{play} is run faster here than its steps allow: walk-through, half, live.")
FEW_REPS: Final = N_("{play} has only {count} here for one unit; {least} are the rule.")
MANY_NEW: Final = N_("{count} plays begin here; the rule is at most {most}.")


def check_schedule(
    ask: Ask, schedule: Schedule, names: Mapping[Id, str], language: Language
) -> tuple[Finding, ...]:
    """Every finding, entries first, then practice by practice. Raises NothingToPlanError."""
    model_ = model(ask)
    reps = as_reps(model_, schedule.entries)
    found = _check_entries(model_, schedule, language)
    used, begins = minutes_used(model_, reps), begins_in(model_, reps)
    for t, slot in enumerate(model_.slots):
        place = f"/practices/{slot.practice}"
        if used[:, t].sum() > slot.minutes + 1e-9:
            minutes = language.number(float(used[:, t].sum()))
            sentence = language.say(TOO_LONG, minutes=minutes, room=language.number(slot.minutes))
            found.append(_warning("too_long", place, sentence))
        if begins[t] > ask.rules.most_new:
            sentence = language.say(MANY_NEW, count=int(begins[t]), most=ask.rules.most_new)
            found.append(_warning("many_new", place, sentence))
        for k, carried in enumerate(ask.plays):
            own = f"{place}/{carried.play}"
            name = names.get(carried.play, str(carried.play))
            if used[k, t] > ask.rules.longest_on_play + 1e-9:
                minutes = language.number(float(used[k, t]))
                most = language.number(ask.rules.longest_on_play)
                sentence = language.say(PLAY_LONG, play=name, minutes=minutes, most=most)
                found.append(_warning("play_long", own, sentence))
            few = reps[k, :, :, t].sum(axis=1)
            few = few[(few > 0) & (few < ask.rules.least_reps)]
            if len(few):
                count, least = int(few.min()), ask.rules.least_reps
                sentence = language.say(FEW_REPS, play=name, count=count, least=least)
                found.append(Finding("few_reps", Severity.NOTE, own, sentence))
            if ((reps[k, :, :, t] > 0) & steps_lacking(model_, reps, k)[:, :, t]).any():
                found.append(_warning("too_soon", own, language.say(TOO_SOON, play=name)))
    return tuple(found)


def _check_entries(model_: Model, schedule: Schedule, language: Language) -> list[Finding]:
    found = []
    for index, entry in enumerate(schedule.entries):
        place = f"/entries/{index}"
        counted = as_reps(model_, [entry])
        if entry.reps < 1:
            found.append(_error("no_reps", place, language.say(NO_REPS)))
        elif not counted.any() or entry.mode not in PRACTICE_MODES:
            found.append(_error("elsewhere", place, language.say(ELSEWHERE)))
        elif not model_.can[tuple(np.argwhere(counted)[0])]:
            found.append(_error("no_five", place, language.say(NO_FIVE)))
    return found


def _error(code: str, place: str, sentence: str) -> Finding:
    return Finding(code, Severity.SERIOUS, place, sentence)


def _warning(code: str, place: str, sentence: str) -> Finding:
    return Finding(code, Severity.WARNING, place, sentence)
