"""Checks of counters: that they hang on a phase, and change what is there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.document.walk import Fault, Place, all_actions, all_looks
from plays.core.play import ActionKind, Counter, Defence, Play, Role, ScreenStyle
from shared.core.language import N_

NO_PHASE: Final = N_("Counter “{id}” begins with phase “{phase}”, and the play has no such phase.")
NO_ACTION: Final = N_("Counter “{id}” changes “{action}”, and the play has no such action.")
TOO_EARLY: Final = N_("Counter “{id}” changes “{action}”, which is over before the counter begins.")
BOTH: Final = N_("Counter “{id}” takes “{action}” away and replaces it. Do one of the two.")
OTHER_ROLE: Final = N_("Counter “{id}” gives “{action}” of the {old} to the {new}. Add it instead.")
WHOSE_TWICE: Final = N_("“{id}” names the {role} twice. Once is enough.")
SWITCH_ALONE: Final = N_("In “{id}” one defender alone switches. Name the other one too.")
WHO_TRAPS: Final = N_(
    "“{id}”: the defender of the {role} cannot trap. A trap is by who guards the thrower, the"
    " screener on the ball, or the one who hands it off."
)
NO_SCREEN: Final = N_("“{id}”: over or under a screen, and nobody screens for the {role}.")
NO_SCREENS: Final = N_("“{id}”: over or under a screen, and the play has no screen for anybody.")
NOTHING: Final = N_("Counter “{id}” changes nothing.")


def counters(play: Play) -> Iterator[Fault]:
    """What is wrong with the counters by themselves."""
    for index, counter in enumerate(play.counters):
        place: Place = ("counters", index)
        phases = [phase.id for phase in play.phases]
        if not (counter.remove or counter.replace or counter.add or counter.looks):
            yield Fault(place, "counter_empty", NOTHING, {"id": counter.says or counter.id})
        yield from _by_whom(play, place, counter.id, counter.defence, counter.whose)
        if counter.from_phase not in phases:
            slots = {"id": counter.id, "phase": counter.from_phase}
            yield Fault((*place, "from_phase"), "counter_no_phase", NO_PHASE, slots)
        else:
            yield from _changes(play, counter, place, phases.index(counter.from_phase))


def reads(play: Play) -> Iterator[Fault]:
    """What is wrong with what the looks read."""
    for place, look in all_looks(play):
        if look.read is not None:
            read = look.read
            yield from _by_whom(play, (*place, "read"), look.id, read.defence, read.whose)


def _by_whom(
    play: Play, place: Place, id_: str, defence: Defence, whose: tuple[Role, ...]
) -> Iterator[Fault]:
    """Whether those who are named can do what the defence is said to do."""
    yield from _whose(place, id_, defence, whose)
    yield from _screened(play, place, id_, defence, whose)
    yield from _traps(play, place, id_, defence, whose)


def _whose(place: Place, id_: str, defence: Defence, whose: tuple[Role, ...]) -> Iterator[Fault]:
    for n, role in enumerate(whose):
        if role in whose[:n]:
            slots = {"id": id_, "role": role}
            yield Fault((*place, "whose", n), "whose_twice", WHOSE_TWICE, slots)
    if defence is Defence.SWITCH and len(whose) == 1:
        yield Fault((*place, "whose"), "switch_alone", SWITCH_ALONE, {"id": id_})


def _traps(
    play: Play, place: Place, id_: str, defence: Defence, whose: tuple[Role, ...]
) -> Iterator[Fault]:
    """Who traps guards somebody who brings two defenders to the ball."""
    if defence is not Defence.TRAP:
        return
    able = {play.thrower}
    for _, action in all_actions(play):
        on_ball = action.kind is ActionKind.SCREEN and action.screen is ScreenStyle.BALL
        if on_ball or action.kind is ActionKind.HANDOFF:
            able.add(action.role)
    for n, role in enumerate(whose):
        if role not in able:
            slots = {"id": id_, "role": role}
            yield Fault((*place, "whose", n), "who_traps", WHO_TRAPS, slots)


def screened_for(play: Play) -> frozenset[Role]:
    """Whom a screen of the play, or of a counter, is set for, or who takes a hand-off."""
    actions = [action for _, action in all_actions(play)]
    found = {a.cutter for a in actions if a.kind is ActionKind.SCREEN}
    found |= {a.to for a in actions if a.kind is ActionKind.HANDOFF}
    return frozenset(role for role in found if role is not None)


def _screened(
    play: Play, place: Place, id_: str, defence: Defence, whose: tuple[Role, ...]
) -> Iterator[Fault]:
    """Who goes over or under has a screen to go over or under."""
    if defence not in (Defence.OVER, Defence.UNDER):
        return
    cutters = screened_for(play)
    if not cutters:
        yield Fault((*place, "defence"), "no_screen", NO_SCREENS, {"id": id_})
        return
    for n, role in enumerate(whose):
        if role not in cutters:
            slots = {"id": id_, "role": role}
            yield Fault((*place, "whose", n), "no_screen", NO_SCREEN, slots)


def _changes(play: Play, counter: Counter, place: Place, first: int) -> Iterator[Fault]:
    roles = {action.id: action.role for action in play.actions()}
    over = {action.id for phase in play.phases[:first] for action in phase.actions}
    named: list[tuple[Place, str]] = [
        ((*place, "remove", n), id_) for n, id_ in enumerate(counter.remove)
    ]
    named += [((*place, "replace", n, "id"), a.id) for n, a in enumerate(counter.replace)]
    for at, id_ in named:
        slots = {"id": counter.id, "action": id_}
        if id_ not in roles:
            yield Fault(at, "counter_no_action", NO_ACTION, slots)
        elif id_ in over:
            yield Fault(at, "counter_too_early", TOO_EARLY, slots)
    for n, action in enumerate(counter.replace):
        slots = {"id": counter.id, "action": action.id}
        if action.id in counter.remove:
            yield Fault((*place, "replace", n, "id"), "counter_both", BOTH, slots)
        old = roles.get(action.id, action.role)
        if old != action.role:
            slots |= {"old": old, "new": action.role}
            yield Fault((*place, "replace", n, "role"), "counter_role", OTHER_ROLE, slots)
