"""Texts to begin a play with: a throw-in, a formation of the trade, and room for the first phase.

Where the people of a formation stand is common practice, no source: near the ball first.
"""

from __future__ import annotations

from typing import Final, Literal

from plays.core.court.courts import court
from plays.core.play import AgeGroup, Formation, RuleSet, Situation
from plays.core.shorthand.places import number

Side = Literal["left", "right"]
Edge = Literal["sideline", "baseline", "none"]

# Four places for the roles 2 to 5; "near" and "far" are seen from the ball.
PLACES: Final = {
    Formation.BOX: ("near elbow", "far elbow", "near block", "far block"),
    Formation.STACK: ("near elbow", "near mid post", "near block", "top"),
    Formation.DIAMOND: ("nail", "near mid post", "far mid post", "basket"),
    Formation.LINE_ACROSS: ("near wing", "near elbow", "nail", "far elbow"),
    Formation.LINE_ALONG: ("near slot", "near elbow", "near mid post", "near block"),
    Formation.FOUR_ACROSS: ("near wing", "near elbow", "far elbow", "far wing"),
    Formation.SPREAD: ("near corner", "near wing", "far wing", "far corner"),
}
_SITUATIONS: Final = {
    "sideline": Situation.SIDELINE,
    "baseline": Situation.BASELINE,
    "none": Situation.HALF_COURT,
}


def skeleton(
    formation: Formation,
    edge: Edge,
    side: Side,
    rule_set: RuleSet = RuleSet.FIBA,
    *,
    name: str = "",
    situation: Situation | None = None,
    level: AgeGroup = AgeGroup.U14,
) -> str:
    """A text with five starts and an empty first phase; no formation leaves places to fill in."""
    other = "left" if side == "right" else "right"
    named = PLACES.get(formation, ("", "", "", ""))
    places = [place.replace("near", side).replace("far", other) for place in named]
    floor = court(rule_set)
    along = floor.throw_in_y if edge == "sideline" else floor.baseline_spot_x
    begin = [
        f"play: {name}",
        f"situation: {(situation or _SITUATIONS[edge]).value.replace('_', ' ')}",
        f"formation: {formation.value.replace('_', ' ')}",
        f"court: {rule_set.value.replace('_', ' ')}",
        f"level: {level.value}",
        "ball: 1" if edge == "none" else f"throw-in: 1, {side} {edge} at {number(along)}",
    ]
    starts = ["starts:"]
    if edge == "none":
        starts.append(f"  1 at a step above the {side} slot")
    starts += [f"  {role} at the {place}" for role, place in enumerate(places, start=2)]
    return "\n\n".join("\n".join(part) for part in (begin, starts, ["phase: Entry", ""]))
