"""Where a label may stand on a picture, the best place first.

It covers nothing that is drawn. A name stands nearer to its own circle than to any other, so that
nobody is taken for somebody else; where it stands off, its leader line keeps clear of everything.
Words along a stroke stand on a line that bounds the court only where nothing else is as near.
Whole names come before short ones, places beside a circle before those further off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import islice
from typing import Final

from plays.core.drawing.labels import HALF_LINE, Label, Placed, short_forms, size_of, whole_forms
from plays.core.drawing.screens import BAR
from plays.core.drawing.strokes import Stroke, Style, midway
from shared.core.drawing.curves import XY, direction, distance
from shared.core.drawing.room import CELL, Rect, Room, about, beside, stepped

SHARES: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
ANCHORS: Final = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Shares of a stroke at which a label stands beside it, or a leader line ends."""

SHORT: Final = 18.0
"""Points: along a stroke shorter than this there is no room; a label stands by its end."""

NEARER: Final = 0.5
CLEARLY: Final = 6.0
"""Points by which a name is nearer to its own circle than to another: at least, and at ease."""

GAPS: Final = (11.0, 16.0, 22.0, 30.0, 40.0, 52.0, 66.0, 84.0, 104.0)
"""Points between a circle or a stroke and a label that stands off."""

WAYS: Final = 24
"""Directions in which a label may stand off."""

BESIDE: Final = 8
OFF: Final = 12
AT_DISTANCE: Final = 3
"""So many places of a kind are compared, and of one distance."""

SECOND_LINE: Final = 5.0
UNEASY: Final = 3.0
LATER: Final = 24  # a place on a line of the lane waits for so many others
STANDS_OFF: Final = 12.0
IN_SHORT: Final = 50.0
BY_NUMBER: Final = 90.0


class Reach(IntEnum):
    """How far one looks for a place: the best one beside, all beside, further off, in short."""

    FIRST = 0
    BESIDE = 1
    OFF = 2
    SHORT = 3


@dataclass(frozen=True, slots=True)
class Edges:
    """Where the lines that bound the court run in the picture, in points: across and down it;
    and the lanes, whose lines weigh less."""

    across: tuple[float, ...] = ()
    down: tuple[float, ...] = ()
    lanes: tuple[Rect, ...] = ()

    def cut(self, rect: Rect) -> bool:
        """Whether one of them runs through a rectangle."""
        return any(0 < y - rect.top < rect.height for y in self.across) or any(
            0 < x - rect.left < rect.width for x in self.down
        )

    def leaves_lane(self, rect: Rect) -> bool:
        """Whether a rectangle lies partly in a lane and partly outside."""
        return any(_partly(rect, lane) for lane in self.lanes)


class Places:
    """The places of one label; ``others`` are the middles of the circles of other people."""

    def __init__(
        self, label: Label, room: Room, others: Sequence[XY], edges: Edges | None = None
    ) -> None:
        self.label, self.room, self.others = label, room, others
        self.edges = edges if edges and label.stroke is not None else Edges()
        self._found: dict[Reach, list[Placed]] = {}

    def within(self, reach: Reach) -> list[Placed]:
        """All places as far as ``reach``, the best first."""
        if reach is Reach.FIRST:
            return self._of(reach)
        found = [spot for each in Reach if Reach.FIRST < each <= reach for spot in self._of(each)]
        return sorted(found, key=lambda spot: spot.cost)

    def _of(self, reach: Reach) -> list[Placed]:
        if reach not in self._found:
            self._found[reach] = list(self._look(reach))
        return self._found[reach]

    def _look(self, reach: Reach) -> Iterator[Placed]:
        whole = whole_forms(self.label)
        if reach is Reach.FIRST:
            yield from islice(self._beside(whole), 1)
        elif reach is Reach.BESIDE:
            for written in whole:
                yield from islice(self._beside((written,)), BESIDE)
        elif reach is Reach.OFF:
            for written in whole:
                yield from self._off(written, 0.0)
        else:
            for short in short_forms(self.label):
                dear = BY_NUMBER if short == self.label.role else IN_SHORT
                yield from islice(self._beside(((short,),), dear), BESIDE)
                yield from self._off((short,), dear)

    def _beside(self, forms: Iterable[tuple[str, ...]], dear: float = 0.0) -> Iterator[Placed]:
        for written in forms:
            cost = dear + SECOND_LINE * (len(written) - 1)
            uneasy, waiting = [], list[tuple[int, Rect]]()
            for rank, rect in enumerate(_close(self.label, size_of(self.label, written))):
                if not self.room.free(rect):
                    continue
                spare = self._spare(rect)
                if spare >= CLEARLY and not self.edges.cut(rect):
                    if self.edges.leaves_lane(rect):
                        waiting.append((rank + LATER, rect))
                        continue
                    while waiting and waiting[0][0] <= rank:
                        late, over = waiting.pop(0)
                        yield Placed(self.label, over, written, cost=cost + 0.02 * late)
                    yield Placed(self.label, rect, written, cost=cost + 0.02 * rank)
                elif spare >= NEARER:
                    uneasy.append((rank, rect))
            for late, rect in waiting:
                yield Placed(self.label, rect, written, cost=cost + 0.02 * late)
            for rank, rect in uneasy:
                yield Placed(self.label, rect, written, cost=cost + 0.02 * rank + UNEASY)

    def _off(self, written: tuple[str, ...], dear: float) -> Iterator[Placed]:
        """Places further and further off, a few at each distance."""
        size = size_of(self.label, written)
        dear += STANDS_OFF + SECOND_LINE * (len(written) - 1)
        left = OFF
        for gap in GAPS:
            for anchor, radius in _anchors(self.label):
                spots = self._at(anchor, radius, size, gap)
                for rect, leader in islice(spots, AT_DISTANCE):
                    long = distance(*leader) / 25
                    cost = dear + long * long + UNEASY * self.edges.cut(rect)
                    yield Placed(self.label, rect, written, leader, cost)
                    left -= 1
            if left <= 0:
                return

    def _at(
        self, anchor: XY, radius: float, size: XY, gap: float
    ) -> Iterator[tuple[Rect, tuple[XY, XY]]]:
        for rect in self.room.free_about(anchor, radius + gap, size, WAYS):
            if self._spare(rect) >= NEARER:
                leader = _leader(anchor, radius, rect)
                if self._is_clear(leader, anchor, radius):
                    yield rect, leader

    def _spare(self, rect: Rect) -> float:
        """Points by which a name would be nearer to its own circle than to the next."""
        center = self.label.center
        if center is None or self.label.framed or not self.others:
            return CLEARLY
        return min([rect.off(other) for other in self.others]) - rect.off(center)

    def _is_clear(self, leader: tuple[XY, XY], anchor: XY, radius: float) -> bool:
        """Whether a leader line leaves everything free but whom it comes from."""
        own = (radius or HALF_LINE) + 2.5 * CELL
        return all(
            distance(at, anchor) < own or self.room.free(Rect(at[0] - 0.5, at[1] - 0.5, 1, 1))
            for at in stepped(*leader, 2.0)
        )


def _partly(rect: Rect, lane: Rect) -> bool:
    right, bottom = rect.left + rect.width, rect.top + rect.height
    far, deep = lane.left + lane.width, lane.top + lane.height
    apart = right <= lane.left or far <= rect.left or bottom <= lane.top or deep <= rect.top
    within = lane.left <= rect.left and right <= far and lane.top <= rect.top and bottom <= deep
    return not apart and not within


def _close(label: Label, size: XY) -> Iterator[Rect]:
    if label.center is not None:
        yield from beside(label.center, label.radius, size, (1.5, 4.0, 7.0))
        for gap in (2.5, 5.5):
            yield from about(label.center, label.radius + gap, size, WAYS)
    elif label.stroke is not None:
        if label.stroke.curve.length >= SHORT:
            yield from _along(label.stroke, size)
        yield from beside(label.stroke.curve.end, BAR / 2, size, (1.5, 4.0, 7.0, 10.0))


def _along(stroke: Stroke, size: XY) -> Iterator[Rect]:
    """Places on both sides of a stroke, from its middle outwards."""
    width, height = size
    half = 5.0 if stroke.style is Style.DRIBBLE else HALF_LINE
    for gap in (0.6, 3.0, 6.0):
        for share in SHARES:
            (x, y), (nx, ny) = midway(stroke, share)
            reach = half + gap + (abs(nx) * width + abs(ny) * height) / 2
            for side in (1, -1):
                cx, cy = x + side * reach * nx, y + side * reach * ny
                yield Rect(cx - width / 2, cy - height / 2, width, height)


def _anchors(label: Label) -> Iterator[tuple[XY, float]]:
    """Where a leader line may end: at the circle, or along the stroke from its middle outwards."""
    if label.center is not None:
        yield label.center, label.radius
    elif label.stroke is not None:
        yield from ((midway(label.stroke, share)[0], 0.0) for share in ANCHORS)


def _leader(anchor: XY, radius: float, rect: Rect) -> tuple[XY, XY]:
    end = rect.nearest(anchor)
    way = direction(anchor, end)
    clear = min(radius + 2.5 if radius else 0.0, distance(anchor, end))
    return (anchor[0] + clear * way[0], anchor[1] + clear * way[1]), end
