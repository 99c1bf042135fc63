"""Who stands close to whom at the start: a place in a line, between whom, who is right beside.

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
from plays.core.play import Play, Point, Role, Start
from plays.core.words.directions import toward
from plays.core.words.facts import Edge, InLine, Keeps, StandsBeside, StandsBetween, Toward

TIGHT: Final = 1.2  # metres: nearer than this one stands right beside somebody
LINE_GAP: Final = 1.8  # from one to the next in a line
LINE_WIDTH: Final = 0.5  # how far one of them may stand out of it
EDGE_NEAR: Final = 2.0  # metres: an edge of the court this near is what one stands by


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


def between(play: Play, role: Role) -> tuple[Role, Role | Edge] | None:
    """Whom a role stands between, or whom and the edge of the court behind it.

    In a line those are the next in it; else people right beside, if the role stands in the
    middle of them. None where nobody is on one side, and for who throws the ball in.
    """
    if role == play.thrower:
        return None
    row, _ = line_of(play)
    if role in row:
        at = row.index(role)
        mates = [row[n] for n in (at - 1, at + 1) if 0 <= n < len(row)]
    else:
        mates = [mate for mate, _ in beside(play, role)]
    here = play.start_of(role)
    for one, other in combinations(mates, 2):
        if _on_the_way(play.start_of(one), play.start_of(other), here):
            return one, other
    edges = ((mate, _edge_behind(play, here, play.start_of(mate))) for mate in mates)
    return next(((mate, edge) for mate, edge in edges if edge), None)


def company(play: Play, role: Role) -> Iterator[InLine | StandsBeside | StandsBetween | Keeps]:
    """A place in the line or who is right beside, between whom, from whom to keep what distance.

    Where "between" tells the side on which somebody stands, "right beside" leaves it out.
    """
    row, side = line_of(play)
    pair = between(play, role)
    if role in row:
        yield InLine(role, row.index(role) + 1, len(row), side, pair)
    else:
        for mate, way in beside(play, role):
            yield StandsBeside(role, mate, "" if pair and mate in pair else way)
        if pair is not None:
            yield StandsBetween(role, *pair)
    for each in play.spacing:
        if role in (each.one, each.other):
            other = each.other if role == each.one else each.one
            yield Keeps(role, other, each.low, each.high)


def _on_the_way(one: Point, other: Point, here: Point) -> bool:
    """Whether a place lies between two others, no farther off their line than a line is wide."""
    whole, way = complex(*other) - complex(*one), complex(*here) - complex(*one)
    if not whole:
        return False
    share = way / whole
    return 0 < share.real < 1 and abs(share.imag * whole) <= LINE_WIDTH


def _edge_behind(play: Play, here: Point, mate: Point) -> Edge | None:
    """The edge of the court close behind somebody, as seen from a team-mate."""
    floor = court(play.court)
    off = abs(here.y - mate.y), abs(here.x - mate.x)
    if not floor.contains(here) or min(off) > LINE_WIDTH:
        return None
    if off[0] < off[1]:
        outward = here.x * (here.x - mate.x) > 0
        return "sideline" if outward and floor.half_width - abs(here.x) <= EDGE_NEAR else None
    if here.y < mate.y:
        return "baseline" if here.y <= EDGE_NEAR else None
    return "own" if floor.length - here.y <= EDGE_NEAR else None


def _along(start: Start, *, up: bool) -> float:
    return start.at.y if up else start.at.x


def _is_line(row: Sequence[Start], *, up: bool) -> bool:
    off = [_along(start, up=not up) for start in row]
    gaps = [_along(b, up=up) - _along(a, up=up) for a, b in pairwise(row)]
    return max(off) - min(off) <= LINE_WIDTH and all(0 < gap <= LINE_GAP for gap in gaps)
