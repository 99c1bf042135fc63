"""What every gesture needs of a phase: a free id, one more action."""

from __future__ import annotations

from dataclasses import replace

from plays.core.play import Action, ActionKind, Play, Role
from plays.core.shorthand.naming import Reference, action_id


def free_id(play: Play, role: Role, kind: ActionKind) -> str:
    """The id that the shorthand would give, told apart from all that are in the play."""
    taken = {each.id for each in play.actions()}
    taken |= {each.id for counter in play.counters for each in counter.add}
    number = 1
    while (name := action_id(Reference(role, kind, number))) in taken:
        number += 1
    return name


def with_actions(play: Play, index: int, *actions: Action) -> Play:
    """The play with these at the end of a phase."""
    phase = play.phases[index]
    longer = replace(phase, actions=(*phase.actions, *actions))
    return replace(play, phases=(*play.phases[:index], longer, *play.phases[index + 1 :]))


def loosened(play: Play) -> Play:
    """The play whose phases name no look that it does not have."""
    known = {look.id for look in play.looks}
    phases = tuple(
        replace(phase, after=tuple(id_ for id_ in phase.after if id_ in known))
        for phase in play.phases
    )
    return replace(play, phases=phases)


def swapped(play: Play, *actions: Action) -> Play:
    """The play with these instead of those that have their ids."""
    new = {each.id: each for each in actions}
    phases = tuple(
        replace(phase, actions=tuple(new.get(each.id, each) for each in phase.actions))
        for phase in play.phases
    )
    return replace(play, phases=phases)
