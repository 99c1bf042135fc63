"""Checks of places: five starts on the court, the thrower behind the line, paths inside.

Metres as in ``play``; the lines are those of the play's own court.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations
from math import dist
from typing import Final

from plays.core.court.courts import Court, court
from plays.core.document.walk import Fault, Place, all_actions, all_looks
from plays.core.play import ROLES, Play, Point, Role, Situation, Start
from shared.core.language import N_

NO_START: Final = N_("The {role} has no start.")
TWO_STARTS: Final = N_("The {role} starts in two places. Keep one.")
SAME_PLACE: Final = N_("The {role} and the {other} start in the same place.")
START_OFF: Final = N_("The {role} starts off the court.")
THROWER_IN: Final = N_("The {role} throws in but starts inside the lines.")
THROWER_FAR: Final = N_("The {role} throws in but starts {metres} m away from the throw-in spot.")
SPACING_SELF: Final = N_("The {role} cannot keep a distance from the {role}.")
SPACING_TWICE: Final = N_("The distance of the {role} and the {other} is written twice. Keep one.")
SPACING_RANGE: Final = N_("The distance of the {role} and the {other} needs a range: less to more.")
SPOT_OFF: Final = N_("The throw-in spot lies beyond the end of its line.")
NO_THROWER: Final = N_("There is a throw-in spot but nobody throws in.")
NO_SPOT: Final = N_("The {role} throws in, but the play has no throw-in spot.")
SIDELINE: Final = N_("A sideline inbound needs a throw-in spot on a sideline.")
BASELINE: Final = N_("A baseline inbound needs a throw-in spot on the baseline.")
OWN_BASELINE: Final = N_(
    "A baseline inbound is thrown in beside the basket that is attacked; from behind your own"
    " baseline it is a press break."
)
FAR_SIDELINE: Final = N_("Only a baseline has a far one: a sideline reaches the whole court.")
PATH_OFF: Final = N_("In “{id}” the {role} runs off the court.")
LOOK_OFF: Final = N_("Look “{id}” is caught off the court.")
DEFENDER_OFF: Final = N_("The defender of the {role} stands off the court.")
TWO_GUARDS: Final = N_("The {role} is guarded twice. Keep one defender.")
NO_STANCE: Final = N_("The defender of the {role} has neither a place nor a stance.")

ARM: Final = 0.3  # two people cannot stand nearer than this; ours
SPOT_REACH: Final = 1.5  # how far from the spot a thrower may be drawn; ours
APRON: Final = 2.0  # clear floor around the court that a thrower may use; FIBA 2022 Art. 2.2


def places(play: Play) -> Iterator[Fault]:
    """What is wrong with starts, spot, paths and drawn defenders."""
    floor = court(play.court)
    yield from _starts(play)
    yield from _spacing(play)
    yield from _on_court(play, floor)
    yield from _throw_in(play, floor)
    yield from _paths(play, floor)
    yield from _defenders(play, floor)


def _starts(play: Play) -> Iterator[Fault]:
    counts = Counter(start.role for start in play.starts)
    for role in ROLES:
        if counts[role] == 0:
            yield Fault(("starts",), "no_start", NO_START, {"role": role})
    seen: set[Role] = set()
    for index, start in enumerate(play.starts):
        if start.role in seen:
            yield Fault(("starts", index, "role"), "two_starts", TWO_STARTS, {"role": start.role})
        seen.add(start.role)
    for (_, one), (index, two) in combinations(enumerate(play.starts), 2):
        if one.role != two.role and dist(one.at, two.at) < ARM:
            slots = {"role": one.role, "other": two.role}
            yield Fault(("starts", index, "at"), "same_place", SAME_PLACE, slots)


def _spacing(play: Play) -> Iterator[Fault]:
    seen: set[frozenset[Role]] = set()
    for index, each in enumerate(play.spacing):
        place, slots = ("spacing", index), {"role": each.one, "other": each.other}
        if each.one == each.other:
            yield Fault(place, "spacing_self", SPACING_SELF, slots)
        elif frozenset((each.one, each.other)) in seen:
            yield Fault(place, "spacing_twice", SPACING_TWICE, slots)
        elif each.low >= each.high:
            yield Fault((*place, "low"), "spacing_range", SPACING_RANGE, slots)
        seen.add(frozenset((each.one, each.other)))


def _on_court(play: Play, floor: Court) -> Iterator[Fault]:
    for index, start in enumerate(play.starts):
        if start.role == play.thrower:
            inside = floor.contains(start.at, -APRON)
        else:
            inside = floor.contains(start.at) or _behind_baseline(play, start, floor)
        if not inside:
            yield Fault(("starts", index, "at"), "start_off", START_OFF, {"role": start.role})


def _behind_baseline(play: Play, start: Start, floor: Court) -> bool:
    """After a goal a team-mate of the thrower may stand behind the same line: their own."""
    allowed = play.spot is not None and play.spot.far and play.thrower is not None
    return allowed and start.at.y > floor.length and floor.contains(start.at, -APRON)


def _throw_in(play: Play, floor: Court) -> Iterator[Fault]:
    yield from _situation(play)
    if play.spot is None:
        if play.thrower is not None:
            yield Fault(("thrower",), "no_spot", NO_SPOT, {"role": play.thrower})
        return
    end = floor.half_width if play.spot.edge == "baseline" else floor.length
    if not 0 <= play.spot.along <= end:
        yield Fault(("spot", "along"), "spot_off", SPOT_OFF)
    if play.spot.far and play.spot.edge == "sideline":
        yield Fault(("spot", "far"), "far_sideline", FAR_SIDELINE)
    if play.thrower is None:
        yield Fault(("spot",), "no_thrower", NO_THROWER)
    for index, start in enumerate(play.starts):
        if start.role == play.thrower:
            place = ("starts", index, "at")
            yield from _thrower(start, floor.spot_place(play.spot), floor, place)


def _thrower(start: Start, spot: Point, floor: Court, place: Place) -> Iterator[Fault]:
    """On the line is out of bounds (FIBA 2022 Art. 23.1; from memory), so only inside is wrong."""
    inside = abs(start.at.x) < floor.half_width and 0 < start.at.y < floor.length
    if inside:
        yield Fault(place, "thrower_in", THROWER_IN, {"role": start.role})
    elif dist(start.at, spot) > SPOT_REACH:
        slots = {"role": start.role, "metres": f"{dist(start.at, spot):.1f}"}
        yield Fault(place, "thrower_far", THROWER_FAR, slots)


def _situation(play: Play) -> Iterator[Fault]:
    edge = play.spot.edge if play.spot is not None else None
    if play.situation is Situation.SIDELINE and edge != "sideline":
        yield Fault(("situation",), "situation_spot", SIDELINE)
    if play.situation is Situation.BASELINE and edge != "baseline":
        yield Fault(("situation",), "situation_spot", BASELINE)
    elif play.situation is Situation.BASELINE and play.spot is not None and play.spot.far:
        yield Fault(("situation",), "situation_spot", OWN_BASELINE)


def _paths(play: Play, floor: Court) -> Iterator[Fault]:
    for place, action in all_actions(play):
        apron = -APRON if action.role == play.thrower else 0.0
        for index, point in enumerate(action.path):
            if not floor.contains(point, apron):
                slots = {"id": action.id, "role": action.role}
                yield Fault((*place, "path", index), "path_off", PATH_OFF, slots)
                break
    for place, look in all_looks(play):
        if look.at is not None and not floor.contains(look.at):
            yield Fault((*place, "at"), "look_off", LOOK_OFF, {"id": look.id})


def _defenders(play: Play, floor: Court) -> Iterator[Fault]:
    seen: set[Role] = set()
    for index, defender in enumerate(play.defenders):
        place, slots = ("defenders", index), {"role": defender.guards}
        if defender.guards in seen:
            yield Fault((*place, "guards"), "two_guards", TWO_GUARDS, slots)
        seen.add(defender.guards)
        if defender.at is None and defender.stance is None:
            yield Fault(place, "no_stance", NO_STANCE, slots)
        if defender.at is not None and not floor.contains(defender.at):
            yield Fault((*place, "at"), "defender_off", DEFENDER_OFF, slots)
