"""What is run after which look: a rotation may be kept for some looks from the throw-in.

A phase that names looks in ``after`` is run after those alone. A rotation that names none is run
after every look from the throw-in that no phase names. So a play with such phases runs in several
ways, and each way is a play of its own: its rotation is for one look, and its looks are all those
of the play, so that their numbers stay.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import compress

from plays.core.play import Action, Look, Phase, Play


def named(play: Play) -> frozenset[str]:
    """The looks of the play, by id, that some phase is kept for."""
    known = {look.id for look in play.looks}
    return frozenset(id_ for phase in play.phases for id_ in phase.after if id_ in known)


def bringing_in(play: Play) -> tuple[Look, ...]:
    """The looks from the throw-in, in their order; none of a play without one."""
    return tuple(look for look in play.looks if look.passer == play.thrower)


def entry(play: Play, phase: Phase) -> Look | None:
    """The look as whose catch a rotation is written: the first of those it is run after."""
    of_id = {look.id: look for look in play.looks}
    kept = next((of_id[id_] for id_ in phase.after if id_ in of_id), None)
    if kept is not None or not play.looks:
        return kept
    taken = named(play)
    free = (look for look in bringing_in(play) if look.id not in taken)
    return next(free, play.looks[0]) if taken else play.looks[0]


def entry_of(play: Play) -> Look | None:
    """The look that brings the ball in where a play runs in one way."""
    phase = next((phase for phase in play.phases if phase.after), None)
    if phase is not None:
        return entry(play, phase)
    return play.looks[0] if play.looks else None


def ways(play: Play) -> tuple[Play, ...]:
    """Every way the play runs, by the order of the looks; the play itself where it has one."""
    if not any(phase.after for phase in play.phases):
        return (play,)
    rest = next((phase for phase in play.phases if phase.rotation and not phase.after), None)
    first = None if rest is None else entry(play, rest)
    taken = named(play)
    looks = [look for look in play.looks if look.id in taken or look is first]
    return tuple(after(play, look.id) for look in looks) or (after(play, ""),)


def first_way(play: Play) -> Play:
    """The way that is meant where nobody says which: after the first look that has one."""
    return ways(play)[0]


def after(play: Play, look: str) -> Play:
    """The way that the play goes after this look: without the phases of other looks."""
    if not any(phase.after for phase in play.phases):
        return play
    own = look in named(play)
    kept = (phase for phase in play.phases if _follows(phase, look, own=own))
    of_look = (look,) if any(each.id == look for each in play.looks) else ()
    phases = (replace(phase, after=of_look) if phase.rotation else phase for phase in kept)
    return replace(play, phases=tuple(phases))


def _follows(phase: Phase, look: str, *, own: bool) -> bool:
    return look in phase.after if own and phase.rotation else not phase.after


def way_to(play: Play, look: str) -> Play:
    """The way in which this look is thrown: that of the look that gives its passer the ball."""
    found = next((each for each in play.looks if each.id == look), None)
    if found is None:
        return first_way(play)
    if found.passer == play.thrower:
        return after(play, look)
    for phase in play.phases:
        if phase.after and any(action.id == found.action for action in phase.actions):
            return after(play, phase.after[0])
    gives = [each.id for each in bringing_in(play) if each.receiver == found.passer]
    return after(play, gives[0]) if gives else first_way(play)


def way_with(play: Play, phase_id: str) -> Play:
    """The first way in which a phase is run. The play's first one for a phase it does not have."""
    for way in ways(play):
        if any(phase.id == phase_id for phase in way.phases):
            return way
    return first_way(play)


def way_of(play: Play, action: Action) -> Play:
    """The first way in which this action is run; the first one for an action of none."""
    has_it = (any(each.id == action.id for each in phase.actions) for phase in play.phases)
    phases = compress((phase.id for phase in play.phases), has_it)
    return way_with(play, next(phases, ""))


def numbers_after(play: Play) -> dict[str, tuple[int, ...]]:
    """By phase the numbers of the looks that it is run after, where not after all of them."""
    taken = named(play)
    if not taken:
        return {}
    number = {look.id: n for n, look in enumerate(play.looks, 1)}
    free = tuple(number[look.id] for look in bringing_in(play) if look.id not in taken)
    found = {}
    for phase in play.phases:
        kept = sorted(number[id_] for id_ in phase.after if id_ in number)
        if phase.rotation:
            found[phase.id] = tuple(kept) if phase.after else free
    return {id_: numbers for id_, numbers in found.items() if numbers}
