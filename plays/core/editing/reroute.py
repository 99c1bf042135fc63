"""The way of an action: a waypoint goes elsewhere, or a new one comes in."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.commands import Bend
from plays.core.editing.phases import swapped
from plays.core.play import Action, Counter, Cue, Moment, Play


def bent(play: Play, command: Bend) -> Play:
    """The play with a new waypoint; who waits for a point of the path waits at the same place."""
    action = next(each for each in play.actions() if each.id == command.action)
    at = command.point
    path = (*action.path[:at], command.at, *action.path[at:])
    return _cues_shifted(swapped(play, replace(action, path=path)), action.id, at)


def _cues_shifted(play: Play, action: str, at: int) -> Play:
    def cue(each: Cue) -> Cue:
        mine = each.on is Moment.PASSES and each.action == action
        later = mine and each.point is not None and each.point >= at
        return replace(each, point=(each.point or 0) + 1) if later else each

    def follow(each: Action) -> Action:
        return replace(each, cues=tuple(cue(found) for found in each.cues))

    def answer(each: Counter) -> Counter:
        if action in {swap.id for swap in each.replace}:
            return each  # it has a path of its own there
        swaps = tuple(follow(swap) for swap in each.replace)
        return replace(each, replace=swaps, add=tuple(follow(new) for new in each.add))

    followed = swapped(play, *(follow(each) for each in play.actions()))
    return replace(followed, counters=tuple(answer(each) for each in play.counters))
