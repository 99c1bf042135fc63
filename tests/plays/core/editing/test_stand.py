"""The five put into a formation give the same play as one that began with that formation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.editing.apply import applied
from plays.core.editing.commands import Act, Stand
from plays.core.editing.refused import RefusedError
from plays.core.play import ActionKind, Formation, Point
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import PLACES, Edge, Side, skeleton

EDGES: tuple[Edge, ...] = ("sideline", "baseline", "none")
SIDES: tuple[Side, ...] = ("left", "right")


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("formation", PLACES)
def test_a_formation_by_hand_is_that_of_the_start(
    edge: Edge, side: Side, formation: Formation
) -> None:
    wanted = read(skeleton(formation, edge, side)).play
    here = Point(0.0, 9.0)
    apart = tuple(each if each.role == "1" else replace(each, at=here) for each in wanted.starts)
    begun = replace(wanted, starts=apart, formation=Formation.OTHER)
    stood = applied(begun, Stand(formation))
    if edge != "none" or side == "right":  # without a throw-in nothing says which side is meant
        assert stood == wanted


def test_once_somebody_does_something_the_five_stay() -> None:
    play = read(skeleton(Formation.BOX, "sideline", "right")).play
    drawn = applied(play, Act(play.phases[0].id, "2", ActionKind.CUT, Point(0.0, 8.5)))
    with pytest.raises(RefusedError):
        applied(drawn, Stand(Formation.STACK))
    with pytest.raises(RefusedError):
        applied(play, Stand(Formation.OTHER))
