"""Where a place has just been said, so that "there" is enough.

A pass goes to where its receiver was waited for, and a ball is caught where the run before it
ends. The place must be the last one said, else "there" could be another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import dist
from typing import Final

from plays.core.play import ActionKind, Moment, Point
from plays.core.sequence.course import BALL_MOVERS
from plays.core.words.facts import Awaits, Does, Event, Fact

SAME: Final = 0.3  # metres: two places nearer than this are one to a player; ours
GOES: Final = (ActionKind.CUT, ActionKind.DRIBBLE)


def says_where(facts: Sequence[Fact], does: Does) -> Does:
    """The deed as it is told after these: "there", where the last wait says where a pass goes."""
    waits = [fact for fact in facts if isinstance(fact, Awaits)]
    if does.action.kind not in BALL_MOVERS or not waits:
        return does
    event = waits[-1].events[-1]
    return replace(does, there=_says_where(event) and _of_receiver(event, does))


def meets(does: Does, caught: Point) -> bool:
    """Whether the ball is caught where the deed before it ends or stays."""
    said = does.action.kind in (*GOES, ActionKind.HOLD)
    return said and dist(does.at, caught) < SAME


def _says_where(event: Event) -> bool:
    """Whether its clause ends in a place that somebody is on the way to, or stands at."""
    if event.action is None:
        return False
    if event.action.kind is ActionKind.HOLD:
        return event.moment is Moment.START
    told = event.moment is Moment.END or (event.moment is Moment.START and not event.heads)
    return told and event.action.kind in GOES


def _of_receiver(event: Event, does: Does) -> bool:
    action, at = event.action, event.at
    return (
        action is not None
        and at is not None
        and action.role == does.action.to
        and dist(at, does.at) < SAME
    )
