"""Cases of the geometry that browser and server both compute, answered by the server's code.

    python -m tests.plays.editor.floor_cases

writes them to ``tests/data/floor.json``, which ``tests/js/floor_cases.test.js`` holds the browser
to. Metres; the same cases every time.
"""

from __future__ import annotations

import json
import random
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

from shapely import LineString
from shapely import Point as ShapelyPoint

from plays.core.court.courts import court
from plays.core.court.spoken import describe
from plays.core.court.spots import AT, named_spots, nearest
from plays.core.drawing.frame import frame
from plays.core.drawing.options import WIDTH
from plays.core.editing.guess import nearest_role
from plays.core.play import ROLES, Point, RuleSet
from plays.editor.ground import ground
from shared.core.language import ENGLISH

FILE: Final = Path(__file__).parents[2] / "data" / "floor.json"
GROUND_FILE: Final = FILE.with_name("ground.json")
EACH: Final = 12  # cases of a kind on a court


def cases() -> dict[str, Any]:
    """What goes in and what has to come out, by kind; JSON values only."""
    dice = random.Random(11)
    found = [_on(rules, dice) for rules in RuleSet]
    return {"courts": found, "arrows": [_arrow(dice) for _ in range(EACH)]}


def text() -> str:
    return json.dumps(cases(), indent=1) + "\n"


def ground_text() -> str:
    """The same for the court in words, where one of metres and one of feet are enough."""
    dice = random.Random(7)
    return json.dumps([_spoken(each, dice) for each in (RuleSet.FIBA, RuleSet.NFHS)]) + "\n"


def _on(rules: RuleSet, dice: random.Random) -> dict[str, Any]:
    floor = court(rules)
    window = frame(floor, (), "half", WIDTH)
    spots = named_spots(floor)
    seen = {key: at for key, at in spots.items() if at.y <= floor.half_y}
    drops = [_off(dice, dice.choice(list(seen.values()))) for _ in range(EACH)]
    return {
        "rules": rules.value,
        "frame": dict(window.marks()),
        "spots": [[key, *at] for key, at in spots.items()],
        "snaps": [[[*at], [*_snapped(rules, at)]] for at in drops],
        "shown": [[[*at], [round(each, 3) for each in window.to(at)]] for at in drops],
        "people": [_people(dice) for _ in range(EACH)],
        "lines": [_line(dice) for _ in range(EACH)],
    }


def _spoken(rules: RuleSet, dice: random.Random) -> dict[str, Any]:
    """The court in words, and middles of its cells, a quarter of a metre wide, in the same."""
    floor, last = court(rules), int(court(rules).half_y * 4)
    places = [Point(dice.randint(-29, 29) / 4, dice.randint(0, last) / 4) for _ in range(EACH)]
    named = [[each, describe(floor, each, ENGLISH)] for each in places]
    return {"rules": rules.value, "ground": ground(rules, ENGLISH), "named": named}


def _off(dice: random.Random, spot: Point) -> Point:
    """A drop beside a spot, as often within its reach as not."""
    return Point(*(round(each + dice.uniform(-0.6, 0.6), 3) for each in spot))


def _snapped(rules: RuleSet, at: Point) -> Point:
    """A drop is taken by the nearest named place where it is "at" that place; else it stays."""
    floor = court(rules)
    spots = named_spots(floor)
    key = nearest(floor, at).key if floor.contains(at) else ""
    spot = spots[key] if key else min(spots.values(), key=lambda each: _away(each, at))
    return spot if _away(spot, at) < AT else at


def _away(one: Point, other: Point) -> float:
    return float(ShapelyPoint(*one).distance(ShapelyPoint(*other)))


def _people(dice: random.Random) -> dict[str, Any]:
    """Who stands nearest to a place, of all but one."""
    stand = {role: Point(*_place(dice)) for role in ROLES}
    at, moving = Point(*_place(dice)), dice.choice(ROLES)
    nearest_ = nearest_role(stand, at, moving)
    return {"at": [*at], "stand": stand, "moving": moving, "nearest": nearest_}


def _line(dice: random.Random) -> dict[str, Any]:
    """On which stretch of a line a press is, and how far off it."""
    path = [_place(dice) for _ in range(dice.randint(2, 4))]
    press = ShapelyPoint(*_place(dice))
    away = [LineString(pair).distance(press) for pair in pairwise(path)]
    point = min(range(len(away)), key=away.__getitem__)
    if sum(each - away[point] < 1e-6 for each in away) > 1:
        return _line(dice)  # at a corner, where either stretch is right
    return {"at": [press.x, press.y], "path": path, "point": point, "away": round(away[point], 6)}


def _arrow(dice: random.Random) -> dict[str, Any]:
    """One press of an arrow key, in decimals: a quarter of a metre, with Shift a twentieth."""
    ways = {"ArrowLeft": (-1, 0), "ArrowRight": (1, 0), "ArrowUp": (0, -1), "ArrowDown": (0, 1)}
    at, fine = _place(dice), dice.random() < 0.5
    key = dice.choice(sorted(ways))
    step = Decimal("0.05") if fine else Decimal("0.25")
    to = [float(Decimal(str(a)) + way * step) for a, way in zip(at, ways[key], strict=True)]
    return {"at": at, "key": key, "fine": fine, "to": to}


def _place(dice: random.Random) -> list[float]:
    return [round(dice.uniform(-7, 7), 3), round(dice.uniform(0.2, 13), 3)]


if __name__ == "__main__":
    FILE.write_text(text(), "utf-8", newline="\n")
    GROUND_FILE.write_text(ground_text(), "utf-8", newline="\n")
