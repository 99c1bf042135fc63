"""Checks of rotations that are kept for some looks: each follows a look from the throw-in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.document.walk import Fault, Place
from plays.core.play import Phase, Play
from plays.core.sequence.after_look import bringing_in, named
from plays.core.sequence.cues import CueGraph
from shared.core.language import N_, Slot

NO_LOOK: Final = N_("Phase {n} is run after look “{id}”, and the play has no such look.")
LOOK_TWICE: Final = N_("Phase {n} names the same look twice. Once is enough.")
NO_ROTATION: Final = N_("Phase {n} is run after a look, so it has to be a rotation.")
NO_ENTRY: Final = N_(
    "Phase {n} is run after look “{id}”, and that look does not bring the ball in."
)
TOO_LATE: Final = N_("Phase {n} is run after look “{id}”, which comes in a rotation itself.")
NEVER: Final = N_("Phase {n} is never run: every look that brings the ball in has another one.")


def afters(play: Play) -> Iterator[Fault]:
    """What is wrong with the looks that phases are kept for."""
    for index, phase in enumerate(play.phases):
        place: Place = ("phases", index)
        if phase.after and not phase.rotation:
            yield Fault((*place, "rotation"), "after_rotation", NO_ROTATION, {"n": index + 1})
        yield from _looks(play, phase, index)
        if phase.rotation and not phase.after and _is_idle(play):
            yield Fault(place, "after_never", NEVER, {"n": index + 1})


def _looks(play: Play, phase: Phase, index: int) -> Iterator[Fault]:
    known = {look.id: look for look in play.looks}
    entries = {look.id for look in bringing_in(play)} if _comes_by_look(play) else set()
    late = {action.id for each in play.phases if each.rotation for action in each.actions}
    for n, id_ in enumerate(phase.after):
        place: Place = ("phases", index, "after", n)
        slots: dict[str, Slot] = {"n": index + 1, "id": id_}
        if id_ in phase.after[:n]:
            yield Fault(place, "after_twice", LOOK_TWICE, slots)
        elif id_ not in known:
            yield Fault(place, "after_no_look", NO_LOOK, slots)
        elif id_ not in entries:
            yield Fault(place, "after_no_entry", NO_ENTRY, slots)
        elif known[id_].action in late:
            yield Fault(place, "after_late", TOO_LATE, slots)


def _comes_by_look(play: Play) -> bool:
    """Whether a look brings the ball in: there is a throw-in, and no pass of it is written."""
    return play.thrower is not None and CueGraph(play).throw_in is None


def _is_idle(play: Play) -> bool:
    """Whether every look from the throw-in has phases of its own."""
    taken = named(play)
    return bool(taken) and all(look.id in taken for look in bringing_in(play))
