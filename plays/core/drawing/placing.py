"""Gives each label of a picture one of its places, so that none stands in another's way.

First everybody asks for the place that they like best; where two clash, or where somebody has no
place, those in each other's way look further and what costs least in all is chosen. Letters never
shrink. A label that finds no room is left out, and its text goes into the picture's description:
nothing is ever covered.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, combinations, pairwise
from typing import Final

from plays.core.drawing.labels import Label, Placed
from plays.core.drawing.places import Edges, Places, Reach
from shared.core.drawing.choosing import bits, least
from shared.core.drawing.curves import XY
from shared.core.drawing.room import Rect, Room

CLEAR: Final = 1.5
"""Points kept free between two labels."""

LEFT_OUT: Final = 4000.0
"""What it costs to leave out a name; a look or the number of a moment costs four times that.

More than the places of thirty labels cost together, the dearest being about 130: as few as may be
are left out, and only then is what is left chosen by its cost."""


def placed(
    labels: Sequence[Label], room: Room, people: Sequence[XY], edges: Edges | None = None
) -> tuple[tuple[Placed, ...], tuple[Label, ...]]:
    """The labels that found room, and those that did not.

    ``room`` is what everything drawn leaves, ``people`` are the middles of all circles,
    ``edges`` where the lines run on which a label had better not stand: where that would
    leave one out, they stand there after all.
    """
    found = _placed(labels, room, people, edges)
    if edges is not None and len(found) < len(labels):
        found = max(found, _placed(labels, room, people, None), key=_kept)
    there = {id(spot.label) for spot in found}
    return tuple(found), tuple(label for label in labels if id(label) not in there)


def _placed(
    labels: Sequence[Label], room: Room, people: Sequence[XY], edges: Edges | None
) -> list[Placed]:
    places = [
        Places(label, room, [at for at in people if at != label.center], edges) for label in labels
    ]
    first = [spot for each in places for spot in each.within(Reach.FIRST)]
    agreed = len(first) == len(labels) and not any(clash(a, b) for a, b in combinations(first, 2))
    return first if agreed else _chosen(places)


def clash(one: Placed, other: Placed) -> bool:
    """Whether two labels or their leader lines get in each other's way."""
    a, b = one.rect, other.rect
    if _meet(a, b):
        return True
    if one.leader is not None and _runs_into(one.leader, b):
        return True
    if other.leader is None:
        return False
    return _runs_into(other.leader, a) or (
        one.leader is not None and _cross(*one.leader, *other.leader)
    )


def _chosen(places: Sequence[Places]) -> list[Placed]:
    """The cheapest choice; who is left out looks further, and so do those in the way."""
    reach = [Reach.FIRST] * len(places)
    while True:
        lists = [each.within(far) for each, far in zip(places, reach, strict=True)]
        clashes = _clashes(lists)
        costs = [
            [*(spot.cost for spot in each), _left_out(place.label)]
            for each, place in zip(lists, places, strict=True)
        ]
        picked = least(costs, clashes)
        lost = [n for n, k in enumerate(picked) if k == len(lists[n])]
        further = _in_the_way(lost, lists, clashes)
        more = [n for n in further if reach[n] < Reach.SHORT]
        if not more:
            return [lists[n][k] for n, k in enumerate(picked) if k < len(lists[n])]
        for n in more:
            reach[n] = Reach(reach[n] + 1)


def _kept(found: Iterable[Placed]) -> float:
    """What it would cost to leave out all that is there."""
    return sum(_left_out(spot.label) for spot in found)


def _left_out(label: Label) -> float:
    return LEFT_OUT if label.center is not None and not label.framed else 4 * LEFT_OUT


def _clashes(lists: Sequence[Sequence[Placed]]) -> list[int]:
    """For each place the mask of those that it excludes; each list has one entry more."""
    starts = _starts(lists)
    found = [0] * starts[-1]
    bounds = [_bounds(each) for each in lists]
    for a, b in combinations(range(len(lists)), 2):
        one_room, other_room = bounds[a], bounds[b]
        if one_room is None or other_room is None or not _meet(one_room, other_room):
            continue
        for k, one in enumerate(lists[a], start=starts[a]):
            for m, other in enumerate(lists[b], start=starts[b]):
                if clash(one, other):
                    found[k] |= 1 << m
                    found[m] |= 1 << k
    return found


def _in_the_way(
    lost: Sequence[int], lists: Sequence[Sequence[Placed]], clashes: Sequence[int]
) -> set[int]:
    """The lists that are lost, and those that have a place in the way of one of theirs."""
    starts = _starts(lists)
    found = set(lost)
    for n in lost:
        theirs = 0
        for entry in range(starts[n], starts[n + 1]):
            theirs |= clashes[entry]
        taken = set(bits(theirs))
        found |= {m for m, (a, b) in enumerate(pairwise(starts)) if taken & set(range(a, b))}
    return found


def _bounds(spots: Sequence[Placed]) -> Rect | None:
    """What holds all places and their leader lines."""
    xs = [x for s in spots for x in (s.rect.left, s.rect.left + s.rect.width)]
    ys = [y for s in spots for y in (s.rect.top, s.rect.top + s.rect.height)]
    for spot in spots:
        if spot.leader is not None:
            xs.append(spot.leader[0][0])
            ys.append(spot.leader[0][1])
    return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)) if spots else None


def _starts(lists: Sequence[Sequence[Placed]]) -> list[int]:
    """The number of each list's first entry through all lists, and of the one after the last."""
    return list(accumulate((len(each) + 1 for each in lists), initial=0))


def _meet(a: Rect, b: Rect) -> bool:
    """Whether two rectangles come nearer to each other than labels may."""
    return (
        a.left < b.left + b.width + CLEAR
        and b.left < a.left + a.width + CLEAR
        and a.top < b.top + b.height + CLEAR
        and b.top < a.top + a.height + CLEAR
    )


def _runs_into(line: tuple[XY, XY], rect: Rect) -> bool:
    """Whether a straight line comes as near to a rectangle as another label may not."""
    (x, y), (to_x, to_y) = line
    begin, end = 0.0, 1.0
    for at, by, low, high in (
        (x, to_x - x, rect.left - CLEAR, rect.left + rect.width + CLEAR),
        (y, to_y - y, rect.top - CLEAR, rect.top + rect.height + CLEAR),
    ):
        if abs(by) < 1e-9:
            if not low < at < high:
                return False
            continue
        near, far = sorted(((low - at) / by, (high - at) / by))
        begin, end = max(begin, near), min(end, far)
    return begin < end


def _cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0


def _side(a: XY, b: XY, at: XY) -> float:
    return (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
