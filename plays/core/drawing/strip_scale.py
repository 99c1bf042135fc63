"""Where things stand in the count strip: seconds across, a row for each role, all in points."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.drawing.strip import LookBar, Row, Strip
from plays.core.play import Role

HEAD: Final = 34.0
DISC: Final = 9.5
BAR: Final = 13.0
BAR_LANE: Final = 25.0
LOOK_BAR: Final = 13.0
LOOK_LANE: Final = 17.0
PAD: Final = 4.0
RIGHT: Final = 13.0  # points: the number of a look that ends with the strip stands in them
NARROWEST: Final = 4.0  # points: a window of no time is still seen
NUMBER_ROOM: Final = 9.0
PAST_COUNT: Final = 0.4  # seconds shown beyond the count at least
PAST_LOOK: Final = 0.3  # and from the beginning of the last look, which may open as all ends


@dataclass(frozen=True, slots=True)
class Scale:
    """``left`` is where time zero stands, ``unit`` how many points a second is."""

    left: float
    unit: float
    until: float
    tops: Mapping[Role, float]
    heights: Mapping[Role, float]
    bottom: float

    def x(self, seconds: float) -> float:
        return self.left + self.unit * min(max(seconds, 0.0), self.until)

    def bar_y(self, role: Role) -> float:
        """The middle of a role's bars."""
        return self.tops[role] + PAD + BAR_LANE / 2

    def look_y(self, role: Role, lane: int) -> float:
        """The upper edge of a role's look windows in one lane."""
        return self.tops[role] + PAD + BAR_LANE + lane * LOOK_LANE


def scale_of(strip: Strip, width: float, left: float) -> Scale:
    """A scale on which the whole strip fits into ``width``."""
    opening = max((look.start for row in strip.rows for look in row.looks), default=0.0)
    until = max(strip.until, (strip.count or 0.0) + PAST_COUNT, opening + PAST_LOOK)
    unit = (width - left - RIGHT) / until
    tops, heights, y = dict[Role, float](), dict[Role, float](), HEAD
    for row in strip.rows:
        tops[row.role] = y
        heights[row.role] = _height(row, unit)
        y += heights[row.role]
    return Scale(left, unit, until, tops, heights, y)


def _height(row: Row, unit: float) -> float:
    lanes = 1 + max(lanes_of(row.looks, unit), default=-1)
    return 2 * PAD + BAR_LANE + lanes * LOOK_LANE


def lanes_of(looks: Sequence[LookBar], unit: float) -> tuple[int, ...]:
    """A lane for each look, so that no two in one lane overlap."""
    free: list[float] = []
    lanes = []
    for look in looks:
        begin, end = look.start * unit, look.end * unit + NUMBER_ROOM + NARROWEST
        lane = next((k for k, until in enumerate(free) if until <= begin), len(free))
        free[lane : lane + 1] = [end]
        lanes.append(lane)
    return tuple(lanes)
