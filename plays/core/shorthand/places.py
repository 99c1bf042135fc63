"""Places in the shorthand: a name where the place has one, else the nearest name and metres.

``near the right corner (6.95 1.8)`` is read by its metres; the name before them is for people.
A coach may also write ``2 steps above the left elbow`` or ``between the nail and the top``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType
from typing import Final

from plays.core.court.courts import Court
from plays.core.court.spots import STEP, named_spots, nearest, out_spots
from plays.core.play import Point

_METRES: Final = re.compile(
    r"(?:near [a-z ]+)?\(\s*(-?\d{1,3}(?:\.\d{1,3})?)[ ,]\s*(-?\d{1,3}(?:\.\d{1,3})?)\s*\)"
)
_STEPS: Final = re.compile(
    r"(a|half a|\d{1,2}(?:\.\d)?) steps? "
    r"(above|below|in front of|ahead of|behind|outside|inside|left of|right of) ([a-z ]+)"
)
_BETWEEN: Final = re.compile(r"(?:halfway )?between ([a-z ]+)")
_COUNTS: Final = {"a": 1.0, "half a": 0.5}
# Other names that the trade has for a place (common practice, no source).
_ALSO: Final[Mapping[str, str]] = MappingProxyType(
    {
        "rim": "basket",
        "hoop": "basket",
        "ring": "basket",
        "foul line": "nail",
        "free throw line": "nail",
        "free-throw line": "nail",
        "top of key": "top",
        "point": "top",
        "half court": "centre",
        "center": "centre",
    }
)


class UnknownPlaceError(ValueError):
    """No place has this name; ``nearby`` holds names that look like it."""

    def __init__(self, name: str, nearby: tuple[str, ...]) -> None:
        super().__init__(name)
        self.name = name
        self.nearby = nearby


def names(court: Court) -> Mapping[str, Point]:
    """Every place that has a name in the shorthand, inside the lines and on them."""
    spots = {**named_spots(court), **out_spots(court)}
    return {key.replace("_", " "): point for key, point in spots.items()}


def place_text(court: Court, point: Point) -> str:
    """A place as the shorthand writes it; ``place_of`` reads the same point back."""
    name = nearest(court, point).key.replace("_", " ")
    if names(court)[name] == point:
        return name
    return f"near {name} ({number(point.x)} {number(point.y)})"


def place_of(court: Court, text: str) -> Point:
    """The point that a text names. Raises UnknownPlaceError."""
    text = text.strip().lower().replace("the ", "")
    if found := _METRES.fullmatch(text):
        return Point(float(found[1]) + 0.0, float(found[2]) + 0.0)
    if found := _STEPS.fullmatch(text):
        steps = _COUNTS.get(found[1]) or float(found[1])
        return _stepped(court, _named(court, found[3]), found[2], steps)
    found = _BETWEEN.fullmatch(text)
    one, both, other = found[1].rpartition(" and ") if found else ("", "", "")
    if both and one:
        here, there = _named(court, one), _named(court, other)
        return _millimetres((here.x + there.x) / 2, (here.y + there.y) / 2)
    return _named(court, text)


def number(value: float) -> str:
    """A number to the thousandth without idle zeros: "1.8", "0"."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _named(court: Court, name: str) -> Point:
    known = names(court)
    found = known.get(_ALSO.get(name.strip(), name.strip()))
    if found is None:
        raise UnknownPlaceError(
            name.strip(), tuple(get_close_matches(name.strip(), [*known, *_ALSO], n=2))
        )
    return found


def _stepped(court: Court, spot: Point, toward: str, steps: float) -> Point:
    away = steps * STEP
    outward = 1 if spot.x >= 0 else -1
    across = {"left of": -away, "right of": away, "outside": outward * away}
    ahead = away if spot.y <= court.half_y else -away  # toward half court, from either basket
    up = {"above": away, "below": -away, "behind": -ahead}
    up |= dict.fromkeys(("in front of", "ahead of"), ahead)
    dx = -outward * away if toward == "inside" else across.get(toward, 0.0)
    return _millimetres(spot.x + dx, spot.y + up.get(toward, 0.0))


def _millimetres(x: float, y: float) -> Point:
    return Point(round(x, 3) + 0.0, round(y, 3) + 0.0)
