"""Places in words: by the nearest named place, and the steps from there.

The words of the names are in ``spot_names``, where the places are in ``spots``.
"""

from __future__ import annotations

from typing import Final, Literal

from plays.core.court.courts import Court
from plays.core.court.spot_names import (
    ALSO,
    BEFORE_BASKET,
    BEFORE_HALFWAY,
    BEFORE_STEPS,
    BETWEEN,
    MIDDLE_NAMES,
    ON_THE_FLOOR,
    OUT_MIDDLE_NAMES,
    OUT_SIDE_NAMES,
    OUT_STEPS,
    SIDE_NAMES,
    STEPS,
    SideNames,
    Word,
)
from plays.core.court.spots import Side, nearest, pair, plainer
from plays.core.play import Point
from shared.core.language import Language, Phrase, met

Viewer = Literal["facing basket", "back to basket"]

UNDER_BASKET: Final = ("basket", "back_basket")  # one stands under it, not at it


def describe(
    court: Court,
    point: Point,
    language: Language,
    *,
    ball_side: Side | None = None,
    viewer: Viewer = "facing basket",
    exact: bool = True,
) -> str:
    """A noun phrase for a place: "the left elbow", "two steps above the near block".

    Not ``exact`` leaves out the shorter of two ways from the named place.
    With ``ball_side`` places are near or far from the ball; else they are left or right as
    the viewer sees them. Fits after "at", "to" and "from".
    """
    near = nearest(court, point)
    inside = court.contains(point)
    between = pair(court, point) if inside and near.is_far else None
    if between is not None:
        one, other = (spot_name(key, language, ball_side, viewer) for key in between)
        said = language.say(BETWEEN, one=one, other=other)
        return Phrase(said, BEFORE_HALFWAY.get(language.code, ()))
    if inside and near.is_far:
        near = plainer(court, point, near)
    place = spot_name(near.key, language, ball_side, viewer)
    if near.offsets:
        place = str(place)  # the steps come first
    for count, offset in enumerate(near.offsets if exact else near.offsets[:1]):
        way = offset.toward
        if way in ("left", "right"):
            way = _word("left" if way == "left" else "right", ball_side, viewer)
        table = OUT_STEPS if not inside else ALSO if count else STEPS
        steps = offset.steps
        place = language.say_n(*table[way], steps, n=language.count(steps), spot=place)
        if table is STEPS:
            said = met(place, ON_THE_FLOOR.get(language.code, ()))
            place = Phrase(said, BEFORE_STEPS.get(language.code, ()))
    return place


def spot_name(
    key: str,
    language: Language,
    ball_side: Side | None = None,
    viewer: Viewer = "facing basket",
) -> str:
    """The noun phrase of a key of ``named_spots`` or ``out_spots``. Raises KeyError."""
    middle = MIDDLE_NAMES.get(key) or OUT_MIDDLE_NAMES.get(key)
    if middle is not None:
        under = BEFORE_BASKET.get(language.code, ()) if key in UNDER_BASKET else ()
        said = language.say(middle)
        return Phrase(said, under) if under else said
    side, _, name = key.partition("_")
    if side not in ("left", "right"):
        raise KeyError(key)
    names: SideNames | None = SIDE_NAMES.get(name) or OUT_SIDE_NAMES.get(name)
    if names is None:
        raise KeyError(key)
    return language.say(
        names.named(_word("left" if side == "left" else "right", ball_side, viewer))
    )


def _word(side: Side, ball_side: Side | None, viewer: Viewer) -> Word:
    if ball_side is not None:
        return "near" if side == ball_side else "far"
    if viewer == "facing basket":
        return side
    return "right" if side == "left" else "left"
