"""The parameters of readiness: every one visible, editable per club, and labelled.

The form of the model is the base-level learning of ACT-R (Anderson and Schooler 1991, Psychol
Sci 2:396; Anderson and Lebiere 1998) with its published decay; what a rep is worth, the
discount for reps massed in one practice, and the spread are our choice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from typing import Final, Literal

from practice.core.reps.rep import Id, Mode
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language


@dataclass(frozen=True, slots=True)
class Assumptions:
    """Ages are in days; what a rep is worth is measured in clean live reps."""

    decay: float = 0.5
    massing: float = 0.5
    walk_through: float = 0.3
    half_speed: float = 0.6
    live: float = 1.0
    game: float = 1.0
    error: float = 0.5
    spread: float = 0.45
    threshold: float = 0.0
    youngest: float = 0.25
    carried: float = 0.0
    ready: float = 0.6

    def worth(self, mode: Mode, *, clean: bool) -> float:
        """What one rep adds, before the discount for massing."""
        return float(getattr(self, mode.value)) * (1.0 if clean else self.error)


@dataclass(frozen=True, slots=True)
class ParameterOrigin:
    """Where a parameter's default comes from, what it does, and what it may be set to."""

    kind: Literal["published", "our choice"]
    says: str
    low: float
    high: float
    source: str = ""


_ACT_R: Final = "ACT-R: Anderson and Schooler 1991; Anderson and Lebiere 1998"
ORIGINS: Final[Mapping[str, ParameterOrigin]] = {
    "decay": ParameterOrigin(
        "published", N_("How fast a practice fades with age"), 0.05, 1.5, _ACT_R
    ),
    "massing": ParameterOrigin(
        "our choice",
        N_("Below 1, many reps in one practice count less than the same spread"),
        0.1,
        1.0,
    ),
    "walk_through": ParameterOrigin("our choice", N_("Worth of a walk-through rep"), 0.0, 2.0),
    "half_speed": ParameterOrigin("our choice", N_("Worth of a half-speed rep"), 0.0, 2.0),
    "live": ParameterOrigin("our choice", N_("Worth of a live rep"), 0.1, 2.0),
    "game": ParameterOrigin("our choice", N_("Worth of a rep in a game"), 0.0, 2.0),
    "error": ParameterOrigin("our choice", N_("What a rep with an error still teaches"), 0.0, 1.0),
    "spread": ParameterOrigin(
        "our choice", N_("How gradually readiness rises; smaller is steeper"), 0.05, 2.0
    ),
    "threshold": ParameterOrigin(
        "our choice", N_("Strength at 50 % readiness, on the model's own scale"), -5.0, 3.0
    ),
    "youngest": ParameterOrigin(
        "our choice", N_("A practice counts as at least this many days old"), 0.001, 2.0
    ),
    "carried": ParameterOrigin("our choice", N_("Strength that everybody brings along"), 0.0, 2.0),
    "ready": ParameterOrigin(
        "our choice", N_("Readiness from which a player counts as ready"), 0.05, 0.99
    ),
}

OUT_OF_RANGE: Final = N_("“{name}” must lie between {low} and {high}.")
MODES_ORDER: Final = N_("A walk-through rep is worth more than a live one: is that meant?")


def check_assumptions(assumptions: Assumptions, language: Language) -> tuple[Finding, ...]:
    """Every parameter that lies outside its range, and one note about the order of modes."""
    found = []
    for name, value in asdict(assumptions).items():
        origin = ORIGINS[name]
        if not (math.isfinite(value) and origin.low <= value <= origin.high):
            sentence = language.say(
                OUT_OF_RANGE,
                name=language.say(origin.says),
                low=language.number(origin.low, 3),
                high=language.number(origin.high, 3),
            )
            found.append(Finding("out_of_range", Severity.SERIOUS, f"/{name}", sentence))
    if assumptions.walk_through > assumptions.live:
        found.append(
            Finding("modes_order", Severity.NOTE, "/walk_through", language.say(MODES_ORDER))
        )
    return tuple(found)


def to_json(assumptions: Assumptions) -> dict[str, float]:
    """All parameters by name."""
    return asdict(assumptions)


def from_json(document: Mapping[str, object]) -> Assumptions:
    """The inverse of ``to_json``; what is missing keeps its default.

    Raises ValueError for a name that is no parameter, TypeError for a value that is no number.
    """
    names = {one.name for one in fields(Assumptions)}
    values: dict[str, float] = {}
    for name, value in document.items():
        if name not in names:
            raise ValueError(f"{name!r} is no parameter of readiness")
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise TypeError(f"{name!r} must be a number")
        values[name] = float(value)
    return Assumptions(**values)


@dataclass(frozen=True, slots=True)
class Offsets:
    """How much harder than usual it is for a player, or in a play: added to the threshold."""

    players: Mapping[Id, float] = field(default_factory=dict)
    plays: Mapping[Id, float] = field(default_factory=dict)

    def of(self, player: Id, play: Id) -> float:
        return self.players.get(player, 0.0) + self.plays.get(play, 0.0)


NO_OFFSETS: Final = Offsets()
