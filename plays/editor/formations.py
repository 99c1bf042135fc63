"""Formations to put the five into, before anybody does anything."""

from __future__ import annotations

from plays.core.play import Play
from plays.core.shorthand.skeleton import PLACES
from plays.editor.cues import Choice, sent
from plays.models import Formation


def formation_choices(play: Play) -> tuple[Choice, ...]:
    """A tap puts everybody but who has the ball into the formation."""
    return tuple(
        Choice(
            str(Formation(each.value).label),
            sent("stand", formation=each.value),
            each == play.formation,
        )
        for each in PLACES
    )
