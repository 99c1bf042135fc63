"""The courts of the rule books, as numbers.

Units and axes as in ``play``: metres, x across the court and 0 on the line through the
basket, y up the court from the inner edge of the baseline. A court is symmetric, so widths
are given from the middle outwards.

Beside each number stand the book, the article and a flag:

- V: read in a copy or a translation of the book,
- C: arithmetic on V numbers, redone in the tests,
- M: from memory, not checked against a book.

Books: FIBA Official Basketball Rules 2022; NFHS Basketball Rules Book 2025-26; NCAA court
diagram of 17 June 2019; NBA Official Rules in a copy of August 2025. No current WNBA book
was read. Rule books change every year, so a court names its edition, and the number in the
local book comes first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from types import MappingProxyType
from typing import Final, Literal

from plays.core.play import Point, RuleSet, Spot

INCH: Final = Fraction(254, 10000)  # exact since the international yard of 1959
BEHIND_LINE: Final = 0.3  # how far out of bounds a thrower is drawn; ours, no rule


def feet(whole: int, inches: Fraction | int = 0) -> float:
    """Feet and inches in metres, rounded once only: ``feet(19, 9)`` is 6.0198."""
    return float((12 * whole + inches) * INCH)


BESIDE_LANE: Final = feet(3)  # usual baseline throw-in, where a book names no place; ours


@dataclass(frozen=True, slots=True)
class Court:
    """One half of a court, and its length. All lengths are metres.

    Lines of the lane, circles and arc are measured to their outer edge, the restricted arc
    to its inner edge, the boundary lines to their inner edge.
    """

    rule_set: RuleSet
    edition: str
    length: float
    half_width: float
    basket: Point
    board_y: float
    board_half_width: float
    ring_radius: float
    ring_height: float
    lane_half_width: float
    free_throw_y: float
    circle_radius: float
    centre_circle_radius: float
    arc_radius: float
    corner_x: float  # |x| of the straight part of the three-point line
    restricted_radius: float | None
    restricted_from_y: float | None  # where the short straight parts of that arc begin
    throw_in_y: float  # mark on the sideline
    throw_in_mark: tuple[float, float]  # that mark as drawn: |x| from, |x| to
    end_line_spot_x: float | None  # |x| of the throw-in place on the baseline, if the book has one
    end_line_mark: float | None  # length of the stroke painted there, inwards from the line
    block: tuple[float, float]  # y from, y to, outside the lane line
    lane_marks: tuple[float, ...]  # y of the short strokes outside the lane line
    line_width: float

    @property
    def arc_join_y(self) -> float:
        """Where the straight part of the three-point line meets the arc."""
        return self.basket.y + sqrt(max(0.0, self.arc_radius**2 - self.corner_x**2))

    @property
    def arc_top_y(self) -> float:
        return self.basket.y + self.arc_radius

    @property
    def half_y(self) -> float:
        """The centre line."""
        return self.length / 2

    @property
    def baseline_spot_x(self) -> float:
        """|x| of the usual throw-in place on the baseline: the book's, or 3 ft off the lane."""
        if self.end_line_spot_x is not None:
            return self.end_line_spot_x
        return self.lane_half_width + BESIDE_LANE

    def contains(self, point: Point, margin: float = 0.0) -> bool:
        """Whether a place lies inside the boundary lines by at least ``margin``."""
        return (
            abs(point.x) <= self.half_width - margin and margin <= point.y <= self.length - margin
        )

    def in_lane(self, point: Point) -> bool:
        """Whether a place lies in the lane, its lines included."""
        return abs(point.x) <= self.lane_half_width and 0 <= point.y <= self.free_throw_y

    def spot_place(self, spot: Spot) -> Point:
        """Where the thrower stands: out of bounds, just behind the line."""
        if spot.edge == "baseline":
            y = self.length + BEHIND_LINE if spot.far else -BEHIND_LINE
            return Point(side_sign(spot.side) * spot.along, y)
        return Point(side_sign(spot.side) * (self.half_width + BEHIND_LINE), spot.along)


def side_sign(side: Literal["left", "right"]) -> float:
    """-1 for left and +1 for right, facing the basket from half court."""
    return -1.0 if side == "left" else 1.0


def court(rule_set: RuleSet) -> Court:
    """The court of a rule set."""
    return COURTS[rule_set]


_FIBA: Final = Court(
    rule_set=RuleSet.FIBA,
    edition="FIBA Official Basketball Rules 2022, with the changes of October 2024",
    length=28.0,  # 2.1 V
    half_width=7.5,  # 2.1 V: 15 m wide
    basket=Point(0.0, 1.575),  # 2.5.4 V
    board_y=1.2,  # 2.5.7 V
    board_half_width=0.9,  # M: backboard 1.80 m wide
    ring_radius=0.225,  # V, secondary: 0.45 m inside diameter
    ring_height=3.05,  # V, secondary
    lane_half_width=2.45,  # 2.5.3 V
    free_throw_y=5.8,  # 2.5.3 V
    circle_radius=1.8,  # 2.5.3 V
    centre_circle_radius=1.8,  # 2.5.2 V (article number M)
    arc_radius=6.75,  # 2.5.4 V
    corner_x=6.6,  # 2.5.4 C: 0.90 m from the sideline
    restricted_radius=1.25,  # 2.5.7 V
    restricted_from_y=1.2,  # 2.5.7 V
    throw_in_y=8.325,  # 2.5.6 V; on both sidelines since October 2024
    throw_in_mark=(7.55, 7.7),  # 2.5.6 V: 0.15 m, outside the court, drawn from the line outwards
    end_line_spot_x=None,  # V by absence
    end_line_mark=None,
    block=(2.6, 3.0),  # 1.75 + 0.85, 0.40 wide: V, secondary (2.5.3 figure)
    lane_marks=(1.75, 3.85, 4.7),  # 1.75 V, secondary; then 0.85 m apart M
    line_width=0.05,  # 2.5 V
)

_NFHS_BOOK: Final = "NFHS Basketball Rules Book 2025-26"


def _nfhs(rule_set: RuleSet, length: float) -> Court:
    return Court(
        rule_set=rule_set,
        edition=_NFHS_BOOK,
        length=length,
        half_width=feet(25),  # 1-1 V: 50 ft wide; to the inside of the lines M
        basket=Point(0.0, feet(5, 3)),  # 1-4 V: 63 in
        board_y=feet(4),  # 1-8-1 V
        board_half_width=feet(3),  # M: rectangular backboard 72 in wide
        ring_radius=feet(0, 9),  # 1-11 M: 18 in inside diameter
        ring_height=feet(10),  # 1-11 V
        lane_half_width=feet(6),  # 1-5 V: 12 ft to the outside
        free_throw_y=feet(19),  # 1-6 C: 15 ft from the face of the board
        circle_radius=feet(6),  # 1-6 V
        centre_circle_radius=feet(6),  # 1-3 V
        arc_radius=feet(19, 9),  # 1-4 V
        corner_x=feet(19, 9),  # 1-4 V: the straight part is tangent to the arc, 5 ft 3 in C
        restricted_radius=None,  # V by absence
        restricted_from_y=None,
        throw_in_y=feet(28),  # 7-5-3 V
        throw_in_mark=(feet(25, 2), feet(26, 2)),  # no length read; ours, outside the line
        end_line_spot_x=feet(9),  # 7-5-3 V: 3 ft outside the lane line
        end_line_mark=None,
        block=(feet(7), feet(8)),  # M: 12 in by 8 in
        lane_marks=(feet(11), feet(14, 2)),  # M: 3 ft spaces, marks 2 in wide
        line_width=feet(0, 2),  # 1-2, 1-4, 1-6 V
    )


_NCAA: Final = Court(
    rule_set=RuleSet.NCAA,
    edition="NCAA court diagram, 17 June 2019",
    length=feet(94),  # V
    half_width=feet(25),  # V: 50 ft inside the sidelines
    basket=Point(0.0, feet(5, 3)),  # V: 63 in
    board_y=feet(4),  # M
    board_half_width=feet(3),  # M: 72 in wide
    ring_radius=feet(0, 9),  # V: 18 in
    ring_height=feet(10),  # V
    lane_half_width=feet(6),  # V: 12 ft to the outside
    free_throw_y=feet(19),  # V
    circle_radius=feet(6),  # V
    centre_circle_radius=feet(6),  # V
    arc_radius=feet(22, Fraction(7, 4)),  # V: 22 ft 1 3/4 in
    corner_x=feet(21, Fraction(63, 8)),  # V: 21 ft 7 7/8 in, 40 1/8 in from the sideline
    restricted_radius=feet(4),  # V: to the inner edge
    restricted_from_y=feet(4),  # M: to the face of the board
    throw_in_y=feet(28),  # V
    throw_in_mark=(feet(25, 2), feet(26, 2)),  # no length read; ours, outside the line
    end_line_spot_x=feet(9),  # V (proposal text of 2017): 3 ft outside the lane line
    end_line_mark=None,
    block=(feet(7), feet(8)),  # M
    lane_marks=(feet(11), feet(14, 2)),  # M
    line_width=feet(0, 2),  # V
)

_NBA: Final = Court(
    rule_set=RuleSet.NBA,
    edition="NBA Official Rules, copy of August 2025",
    length=feet(94),  # Rule 1 V
    half_width=feet(25),  # Rule 1 V
    basket=Point(0.0, feet(5, 3)),  # C: 4 ft + 6 in + 9 in
    board_y=feet(4),  # M
    board_half_width=feet(3),  # M: 72 in wide
    ring_radius=feet(0, 9),  # Rule 1 V: 18 in inside
    ring_height=feet(10),  # Rule 1 V
    lane_half_width=feet(8),  # Rule 10-VII V: 16-foot lane
    free_throw_y=feet(19),  # Rule 1 C: 15 ft from the face of the board
    circle_radius=feet(6),  # M
    centre_circle_radius=feet(6),  # M
    arc_radius=feet(23, 9),  # Rule 1 V (edge not stated)
    corner_x=feet(22),  # Rule 1 C: 3 ft from the sideline
    restricted_radius=feet(4),  # Rule 1 V
    restricted_from_y=feet(4),  # Rule 1 V: parallels to the face of the board
    throw_in_y=feet(28),  # Rule 1 V: hash marks
    throw_in_mark=(feet(22), feet(25)),  # Rule 1 V: 3 ft onto the court
    end_line_spot_x=feet(11),  # Rule 1 V: baseline marks 3 ft from the lane line
    end_line_mark=feet(0, 6),  # M: 6 in
    block=(feet(7), feet(8)),  # M
    lane_marks=(feet(11), feet(14, 2)),  # M
    line_width=feet(0, 2),  # Rule 1 V
)

_WNBA: Final = Court(
    rule_set=RuleSet.WNBA,
    edition="WNBA, secondary sources and memory; no book of a season was read",
    length=feet(94),  # M
    half_width=feet(25),  # M
    basket=Point(0.0, feet(5, 3)),  # C on M
    board_y=feet(4),  # M
    board_half_width=feet(3),  # M
    ring_radius=feet(0, 9),  # M
    ring_height=feet(10),  # M
    lane_half_width=feet(8),  # V, secondary: league announcement of 17 December 2003, 16 ft
    free_throw_y=feet(19),  # V: an older Rule 1, 15 ft from the face of the board
    circle_radius=feet(6),  # M
    centre_circle_radius=feet(6),  # M
    arc_radius=feet(22, Fraction(7, 4)),  # V, secondary: 22 ft 1 3/4 in
    corner_x=feet(22),  # V, secondary: 3 ft from the sideline; some pages print 21 ft 8 in
    restricted_radius=feet(4),  # M
    restricted_from_y=feet(4),  # M
    throw_in_y=feet(28),  # V: an older Rule 1
    throw_in_mark=(feet(22), feet(25)),  # V: an older Rule 1, 3 ft
    end_line_spot_x=feet(11),  # M
    end_line_mark=feet(0, 6),  # M
    block=(feet(7), feet(8)),  # M
    lane_marks=(feet(11), feet(14, 2)),  # M
    line_width=feet(0, 2),  # M
)

COURTS: Final[Mapping[RuleSet, Court]] = MappingProxyType(
    {
        RuleSet.FIBA: _FIBA,
        RuleSet.NFHS: _nfhs(RuleSet.NFHS, feet(84)),  # 1-1 V: ideal for high schools
        RuleSet.NFHS_94: _nfhs(RuleSet.NFHS_94, feet(94)),  # 1-1 V: the largest allowed
        RuleSet.NCAA: _NCAA,
        RuleSet.NBA: _NBA,
        RuleSet.WNBA: _WNBA,
    }
)
