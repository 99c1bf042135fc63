"""Actions that wait for one another, in whatever way a play runs."""

from __future__ import annotations

from plays.core.play import Play
from plays.core.sequence.after_look import ways
from plays.core.sequence.cues import CueGraph


def circles(play: Play) -> tuple[tuple[str, ...], ...]:
    """The circles of every way the play runs, as ``CueGraph.cycles`` finds them."""
    found = (circle for way in ways(play) for circle in CueGraph(way).cycles())
    return tuple(dict.fromkeys(found))
