"""Who stands close to whom at the start: a place in a line, the people right beside, room to keep.

Places are metres as in ``play``. Two people who stand as close as the words for a place are
wide are told apart by this, so no two of a play ever start with the same words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import combinations, pairwise
from math import dist
from typing import Final

from plays.core.court.courts import court
from plays.core.play import Play, Role, Start
from plays.core.words.directions import toward
from plays.core.words.facts import InLine, Keeps, StandsBeside, Toward

TIGHT: Final = 1.2  # metres: nearer than this one stands right beside somebody
LINE_GAP: Final = 1.5  # from one to the next in a line
LINE_WIDTH: Final = 0.5  # how far one of them may stand out of it


def line_of(play: Play) -> tuple[tuple[Role, ...], Toward]:
    """The longest line of three or more, in order, and the side from which it is counted.

    A line up the court is counted from the baseline, one across it from the left.
    """
    standing = [start for start in play.starts if start.role != play.thrower]
    for size in range(len(standing), 2, -1):
        for group in combinations(standing, size):
            for up in (True, False):
                row = sorted(group, key=partial(_along, up=up))
                if _is_line(row, up=up):
                    return tuple(start.role for start in row), "baseline" if up else "left"
    return (), ""


def beside(play: Play, role: Role) -> tuple[tuple[Role, Toward], ...]:
    """Who stands right beside a role, and on which side, the nearest first."""
    here = play.start_of(role)
    near = [(dist(here, s.at), s) for s in play.starts if s.role != role]
    close = sorted((gap, start.role, start.at) for gap, start in near if gap < TIGHT)
    half = court(play.court).half_y
    return tuple((other, toward(here, at, half)) for _, other, at in close)


def company(play: Play, role: Role) -> Iterator[InLine | StandsBeside | Keeps]:
    """A place in the line or else everybody right beside, then from whom to keep what distance."""
    row, side = line_of(play)
    if role in row:
        yield InLine(role, row.index(role) + 1, len(row), side)
    else:
        for mate, way in beside(play, role):
            yield StandsBeside(role, mate, way)
    for each in play.spacing:
        if role in (each.one, each.other):
            other = each.other if role == each.one else each.one
            yield Keeps(role, other, each.low, each.high)


def _along(start: Start, *, up: bool) -> float:
    return start.at.y if up else start.at.x


def _is_line(row: Sequence[Start], *, up: bool) -> bool:
    off = [_along(start, up=not up) for start in row]
    gaps = [_along(b, up=up) - _along(a, up=up) for a, b in pairwise(row)]
    return max(off) - min(off) <= LINE_WIDTH and all(0 < gap <= LINE_GAP for gap in gaps)
