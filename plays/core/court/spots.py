"""Named places on a court, and the words for any place by the nearest of them.

Units and axes as in ``play``. Places come from the landmarks of the ``Court``: the block,
elbow, wing (free-throw line extended) and slot (lane line extended) stand where the lines
put them, and whoever shoots a three stands clear of the line. How far a step is, is ours.

Steps are counted up the court and across it, each to the nearest step. So what one phrase
covers is never wider than 1.14 m, the diagonal of a step: two places 1.2 m apart have two phrases.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from math import hypot, sqrt
from types import MappingProxyType
from typing import Final, Literal

from plays.core.court.courts import Court
from plays.core.play import Point

Side = Literal["left", "right"]

CLEAR_OF_LINE: Final = 0.4  # a three-point shooter's middle outside the line
STEP: Final = 0.8  # common practice, no source
AT: Final = 0.45  # nearer than this is "at" the place
FEW_STEPS: Final = 2  # so many one way are told from one place, more or two ways between two
HALFWAY: Final = 0.5  # as near as this to the middle of two places is between them
NEIGHBOURS: Final = 5.5  # places farther apart than this have no "between"
PLAINER: Final = (
    0.5  # a place with one way to tell may be this much farther than one with two; ours
)


@dataclass(frozen=True, slots=True)
class Offset:
    """So many steps one way; left and right as seen facing the basket.

    ``toward`` is a key of ``STEPS``, for a place out of bounds of ``OUT_STEPS``.
    """

    steps: int
    toward: str


@dataclass(frozen=True, slots=True)
class Near:
    """A named place, and how one gets from there to the point: no offset is at the place."""

    key: str
    offsets: tuple[Offset, ...] = ()  # at most one up or down and one across, the longer first

    @property
    def steps(self) -> int:
        """The steps of the longer way."""
        return max((offset.steps for offset in self.offsets), default=0)

    @property
    def is_far(self) -> bool:
        """Whether the trade would rather say which two places it lies between, where it does."""
        return self.steps > FEW_STEPS or (self.steps == FEW_STEPS and len(self.offsets) > 1)


@cache
def named_spots(court: Court) -> Mapping[str, Point]:
    """Every named place inside the lines, to the millimetre; left has a negative x."""
    spots = {f"left_{name}": Point(-x, y) for name, (x, y) in _side_spots(court).items()}
    spots |= {f"right_{name}": Point(x, y) for name, (x, y) in _side_spots(court).items()}
    spots |= {name: Point(0.0, y) for name, y in _middle_spots(court).items()}
    return MappingProxyType({key: _millimetres(point) for key, point in spots.items()})


@cache
def out_spots(court: Court) -> Mapping[str, Point]:
    """The places out of bounds that have a name, on the lines themselves."""
    sides = _out_side_spots(court)
    spots = {f"left_{name}": Point(-x, y) for name, (x, y) in sides.items()}
    spots |= {f"right_{name}": Point(x, y) for name, (x, y) in sides.items()}
    spots["baseline_middle"] = Point(0.0, 0.0)
    spots["back_baseline_middle"] = Point(0.0, court.length)
    return MappingProxyType({key: _millimetres(point) for key, point in spots.items()})


@lru_cache(maxsize=2048)
def nearest(court: Court, point: Point) -> Near:
    """The named place nearest to a point; a point out of bounds is named by its line."""
    if court.contains(point):
        key = _closest(named_spots(court), point)[0]
        return Near(key, _offsets(key, named_spots(court)[key], point))
    key = _closest(out_spots(court), point)[0]
    return Near(key, _out_offsets(court, key, point))


def _side_spots(court: Court) -> dict[str, tuple[float, float]]:
    lane, basket = court.lane_half_width, court.basket.y
    shooter = court.arc_radius + CLEAR_OF_LINE
    block = sum(court.block) / 2
    corner = court.corner_x + CLEAR_OF_LINE
    wing = sqrt(shooter**2 - (court.free_throw_y - basket) ** 2)
    beside = court.half_width - 0.5
    spots = {
        "block": (lane, block),
        "mid_post": (lane, (block + court.free_throw_y) / 2),
        "elbow": (lane, court.free_throw_y),
        "dunker": (lane + 0.6, 1.0),
        "short_corner": ((lane + court.corner_x) / 2, 1.0),
        "corner": (corner, 1.2),
        "wing": (wing, court.free_throw_y),
        "slot": (lane, basket + sqrt(shooter**2 - lane**2)),
        "hash": (beside, court.throw_in_y),
        "half": (beside, court.half_y),
    }
    back = ("block", "elbow", "corner", "wing", "hash")
    return spots | {
        f"back_{name}": (spots[name][0], court.length - spots[name][1]) for name in back
    }


def _middle_spots(court: Court) -> dict[str, float]:
    spots = {
        "basket": court.basket.y,
        "lane_middle": (court.basket.y + court.free_throw_y) / 2,
        "nail": court.free_throw_y,
        "top": court.arc_top_y + CLEAR_OF_LINE,
        "centre": court.half_y,
    }
    back = ("basket", "nail", "top")
    return spots | {f"back_{name}": court.length - spots[name] for name in back}


def _out_side_spots(court: Court) -> dict[str, tuple[float, float]]:
    line = court.half_width
    beside_lane = court.baseline_spot_x
    return {
        "sideline_corner": (line, 1.2),
        "sideline_free_throw": (line, court.free_throw_y),
        "sideline_hash": (line, court.throw_in_y),
        "sideline_half": (line, court.half_y),
        "sideline_back": (line, court.length - court.throw_in_y),
        "baseline_lane": (beside_lane, 0.0),
        "baseline_corner": (court.corner_x, 0.0),
        "back_baseline_lane": (beside_lane, court.length),
        "back_baseline_corner": (court.corner_x, court.length),
    }


def _millimetres(point: Point) -> Point:
    return Point(round(point.x, 3), round(point.y, 3))


def _distance(one: Point, other: Point) -> float:
    return hypot(one.x - other.x, one.y - other.y)


def _closest(spots: Mapping[str, Point], point: Point) -> list[str]:
    """Keys from near to far; of two as near, the one named first."""
    return sorted(spots, key=lambda key: round(_distance(spots[key], point), 6))


def _offsets(key: str, spot: Point, point: Point) -> tuple[Offset, ...]:
    """None within AT; else the way up or down and the way across, to the step."""
    across, up = point.x - spot.x, point.y - spot.y
    if hypot(across, up) < AT:
        return ()
    if "back_" in key:
        along = "from_half" if up > 0 else "toward_half"
    else:
        along = "above" if up > 0 else "below"
    if spot.x == 0:
        aside = "left" if across < 0 else "right"
    else:
        aside = "outside" if across * spot.x > 0 else "inside"
    return _in_steps((up, along), (across, aside))


def _out_offsets(court: Court, key: str, point: Point) -> tuple[Offset, ...]:
    """The way along the line, and how far behind it."""
    spot = out_spots(court)[key]
    across, up = point.x - spot.x, point.y - spot.y
    if "sideline" in key:
        outward = up < 0 if spot.y <= court.half_y else up > 0
        if spot.y == court.half_y and up > 0:
            return _in_steps((up, "backcourt"), (across, "behind"))
        away = "baseline" if spot.y <= court.half_y else "own_baseline"
        return _in_steps((up, away if outward else "half"), (across, "behind"))
    if spot.x == 0:
        return _in_steps((across, "left" if across < 0 else "right"), (up, "behind"))
    return _in_steps((across, "corner" if across * spot.x > 0 else "middle"), (up, "behind"))


def _in_steps(*ways: tuple[float, str]) -> tuple[Offset, ...]:
    counted = [Offset(round(abs(metres) / STEP), toward) for metres, toward in ways]
    told = [offset for offset in counted if offset.steps]
    return tuple(sorted(told, key=lambda offset: -offset.steps))


@lru_cache(maxsize=2048)
def plainer(court: Court, point: Point, near: Near) -> Near:
    """Far from all places: one that is hardly farther, if a single way leads from it."""
    spots = named_spots(court)
    most = _distance(spots[near.key], point) + PLAINER
    others = [key for key in _closest(spots, point)[1:4] if _distance(spots[key], point) <= most]
    found = [near, *(Near(key, _offsets(key, spots[key], point)) for key in others)]
    return min(found, key=lambda each: len(each.offsets))


@lru_cache(maxsize=2048)
def pair(court: Court, point: Point) -> tuple[str, str] | None:
    """Two places that the point lies in the middle of, the nearer first; None without any."""
    spots = named_spots(court)
    first, *others = _closest(spots, point)[:8]
    offs = {
        other: round(_distance(_middle(spots[first], spots[other]), point), 6)
        for other in others
        if _distance(spots[first], spots[other]) <= NEIGHBOURS
    }
    other = min(offs, key=lambda key: offs[key], default=None)
    return (first, other) if other is not None and offs[other] <= HALFWAY else None


def _middle(one: Point, other: Point) -> Point:
    return Point((one.x + other.x) / 2, (one.y + other.y) / 2)
