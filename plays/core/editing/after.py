"""For which looks a phase is: what is drawn differently after another one."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.commands import SetAfter
from plays.core.editing.refused import GONE, RefusedError
from plays.core.play import Look, Phase, Play
from plays.core.sequence.after_look import bringing_in
from plays.core.sequence.cues import CueGraph


def kept_for(play: Play, command: SetAfter) -> Play:
    """The play with this phase for these looks. Raises RefusedError where it cannot be."""
    phase = next((each for each in play.phases if each.id == command.phase), None)
    open_to = {look.id for look in may_follow(play, phase)} if phase is not None else set[str]()
    if phase is None or not open_to.issuperset(command.looks):
        raise RefusedError(GONE)
    changed = replace(phase, rotation=True, after=tuple(dict.fromkeys(command.looks)))
    phases = (changed if each is phase else each for each in play.phases)
    return replace(play, phases=tuple(phases))


def may_follow(play: Play, phase: Phase) -> tuple[Look, ...]:
    """The looks that a phase can be kept for: two or more bring the ball in before it.

    Only what comes last can be: a phase of all looks stands in front of those of some.
    """
    index = play.phases.index(phase)
    if play.thrower is None or CueGraph(play).throw_in is not None:
        return ()
    if not all(each.rotation for each in play.phases[index + 1 :]):
        return ()
    before = (each for each in play.phases[:index] if not each.rotation)
    known = {action.id for each in before for action in each.actions}
    found = tuple(look for look in bringing_in(play) if look.action in known)
    return found if len(found) > 1 else ()
