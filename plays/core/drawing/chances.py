"""The looks of each phase, as lines on the floor.

From the play's own places, in metres as in ``play``; no clock, so a look is drawn where the
document says it is, and not where the check finds it open.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from plays.core.play import Look, Play, Point
from plays.core.sequence.course import BALL_MOVERS, Scene


@dataclass(frozen=True, slots=True)
class Chance:
    """A look: its place among the play's looks, from 1, and the pass from where to where."""

    look: Look
    order: int
    start: Point
    end: Point


def chances(play: Play, floor: Sequence[Scene]) -> Mapping[str, tuple[Chance, ...]]:
    """The looks by the phase in which they come; a look at no action of the play is left out.

    Places are those at the end of the look's action, as in ``course.lane``.
    """
    places = {start.role: start.at for start in play.starts}
    found: defaultdict[str, list[Chance]] = defaultdict(list)
    for scene in floor:
        for leg in scene.legs:
            if leg.action.kind not in BALL_MOVERS:
                places[leg.action.role] = leg.end
            for order, look in enumerate(play.looks, start=1):
                if look.action == leg.action.id:
                    end = look.at or places[look.receiver]
                    found[scene.phase.id].append(Chance(look, order, places[look.passer], end))
    return {phase: tuple(sorted(here, key=lambda one: one.order)) for phase, here in found.items()}
