"""How fast an age group moves, throws and reacts: every constant of the clock in one table.

Metres, seconds, metres per second. Each constant carries where it comes from:

- PUBLISHED: read in a source, which is named;
- DERIVED: reckoned from published numbers, by a way that is named;
- OURS: a choice of ours, sensible and editable, measured by nobody we could read.

A team can change any of them: a Pace is a value, ``dataclasses.replace`` makes another. All
rows are ordered: an older group is nowhere slower than a younger one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields, replace
from enum import StrEnum
from types import MappingProxyType
from typing import Any, Final

from plays.core.motion.flight import drag_constant
from plays.core.motion.sprint import BEHIND_GATE, Split, fit
from plays.core.play import AgeGroup, PassKind
from shared.core.language import N_

EFFORT: Final = 0.9  # share of the top speed in a game; 0.75 to 0.9 is sensible
REACH_PER_HEIGHT: Final = 1.33  # standing reach / height: Gryko et al. 2022, girls U13 to U15
REACHES_SHARE: Final = 0.95  # of the standing reach, for a raised hand while moving


@dataclass(frozen=True, slots=True)
class Pace:
    """The constants for one age group, or for one player of it. See ``MEANING``."""

    top_speed: float
    time_constant: float
    effort: float
    easy: float
    braking: float
    arrive_speed: float
    turn_180: float
    dribble: float
    reaction: float
    read: float
    choose: float
    settle: float
    hold: float
    signal: float
    release: float
    handle: float
    glance: float
    direct_speed: float
    bounce_speed: float
    overhead_speed: float
    arm_speed: float
    lead: float
    longest_pass: float
    ball_drag: float
    height: float
    jump: float
    side_reach: float
    screened: float

    def to_json(self) -> dict[str, float]:
        return asdict(self)

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Pace:
        """Raises ValueError for a missing, unknown or non-numeric constant, and for one <= 0."""
        names = {field.name for field in fields(cls)}
        if set(data) != names:
            odd = ", ".join(sorted(set(data) ^ names))
            raise ValueError(f"these constants of a pace are missing or unknown: {odd}")
        for name, value in data.items():
            if isinstance(value, bool) or not isinstance(value, int | float) or not value >= 0:
                raise ValueError(f"{name} must be a number, 0 or more")
        pace = cls(**{name: float(value) for name, value in data.items()})
        if min(pace.top_speed, pace.time_constant, pace.effort, pace.braking) <= 0:
            raise ValueError("top_speed, time_constant, effort and braking must be above 0")
        return pace

    @property
    def game_speed(self) -> float:
        """The top speed at the effort of a game."""
        return self.top_speed * self.effort

    @property
    def reach(self) -> float:
        """How high a raised hand of this height is on the move, feet on the floor."""
        return REACH_PER_HEIGHT * REACHES_SHARE * self.height

    @property
    def jump_reach(self) -> float:
        return self.reach + self.jump

    def pass_speed(self, kind: PassKind) -> float:
        """Speed out of the hand. A lob has none of its own: its arc gives it."""
        return {
            PassKind.DIRECT: self.direct_speed,
            PassKind.BOUNCE: self.bounce_speed,
            PassKind.OVERHEAD: self.overhead_speed,
            PassKind.LOB: self.arm_speed,
        }[kind]

    def with_splits(self, splits: Sequence[Split], behind: float = BEHIND_GATE) -> Pace:
        """The pace of someone with these gate times. T is held with fewer than four splits."""
        top, constant = fit(splits, constant=self.time_constant, behind=behind)
        return replace(self, top_speed=top, time_constant=constant)


class Basis(StrEnum):
    """What a constant rests on."""

    PUBLISHED = "published"
    DERIVED = "derived"
    OURS = "our choice"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a constant is, in which unit, and where it comes from."""

    says: str
    unit: str
    basis: Basis
    source: str


_MEMORY: Final = "Range from memory, no source read; measure your own."
MEANING: Final[Mapping[str, Meaning]] = MappingProxyType(
    {
        "top_speed": Meaning(
            N_("Top speed of a sprint, V"),
            "m/s",
            Basis.OURS,
            "Set between the rows that have data.",
        ),
        "time_constant": Meaning(
            N_("How long getting there takes, T"),
            "s",
            Basis.DERIVED,
            "Near 1 s across sports (Clark and Ryan 2022, quoted by the shorts package).",
        ),
        "effort": Meaning(
            N_("Share of the top speed that is run in a game"), "", Basis.OURS, "0.75 to 0.9."
        ),
        "easy": Meaning(N_("Share of that for a jog to set up"), "", Basis.OURS, ""),
        "braking": Meaning(N_("How hard one brakes"), "m/s2", Basis.OURS, "3 to 6. " + _MEMORY),
        "arrive_speed": Meaning(
            N_("Speed kept at the end of a cut that is caught on the run"), "m/s", Basis.OURS, ""
        ),
        "turn_180": Meaning(
            N_("Plant and turn about at top speed"),
            "s",
            Basis.OURS,
            "0.2 to 0.7 by how the 505 test is timed (Nimphius et al. 2016); use a stop-watch.",
        ),
        "dribble": Meaning(N_("Share of the speed that is left with the ball"), "", Basis.OURS, ""),
        "reaction": Meaning(
            N_("From the signal to the first push"),
            "s",
            Basis.DERIVED,
            "Adults react in 0.231 s (Woods et al. 2015, n = 1469); the younger rows are ours.",
        ),
        "read": Meaning(
            N_("From a team-mate's cue, seen coming, to the first push"), "s", Basis.OURS, _MEMORY
        ),
        "choose": Meaning(
            N_("A defender's choice to go for a pass, from its release to the first push"),
            "s",
            Basis.OURS,
            "Choice reactions take 0.35 to 0.45 s. " + _MEMORY,
        ),
        "settle": Meaning(N_("From arriving to standing still in a screen"), "s", Basis.OURS, ""),
        "hold": Meaning(
            N_("How long a screener stays after the cutter has run past the shoulder"),
            "s",
            Basis.OURS,
            "",
        ),
        "signal": Meaning(N_("From the ball in hand to the signal"), "s", Basis.OURS, ""),
        "release": Meaning(
            N_("From the decision to the ball leaving the hand"), "s", Basis.OURS, _MEMORY
        ),
        "handle": Meaning(N_("From a catch to the next throw"), "s", Basis.OURS, ""),
        "glance": Meaning(
            N_("To see that a look is not there and turn to the next"), "s", Basis.OURS, ""
        ),
        "direct_speed": Meaning(N_("Chest or push pass"), "m/s", Basis.OURS, _MEMORY),
        "bounce_speed": Meaning(N_("Bounce pass"), "m/s", Basis.OURS, _MEMORY),
        "overhead_speed": Meaning(N_("Two-hand overhead pass"), "m/s", Basis.OURS, _MEMORY),
        "arm_speed": Meaning(
            N_("Hardest throw at which a lob is still aimed"), "m/s", Basis.OURS, ""
        ),
        "lead": Meaning(
            N_("How early a runner is thrown to, for each metre of the pass"),
            "s/m",
            Basis.OURS,
            "An adult's pass needs about this; a weaker arm does not throw earlier, but late.",
        ),
        "longest_pass": Meaning(N_("Longest pass that is safe to plan"), "m", Basis.OURS, ""),
        "ball_drag": Meaning(
            N_("Air drag k of the group's ball"),
            "1/m",
            Basis.DERIVED,
            "Sphere, Cd 0.5, from mass and girth: size 7 as in older FIBA text, others from memory",
        ),
        "height": Meaning(
            N_("Mean height"), "m", Basis.OURS, "Set between the rows that have data."
        ),
        "jump": Meaning(N_("What a late jump adds to the reach"), "m", Basis.OURS, ""),
        "side_reach": Meaning(
            N_("How far to the side a hand with one step reaches"), "m", Basis.OURS, "0.8 to 1.2"
        ),
        "screened": Meaning(
            N_("What a set screen in the way costs a defender"), "s", Basis.OURS, ""
        ),
    }
)

_U14: Final = "Girls U13 to U15, 5/10/20 m, n = 904 (Gryko et al. 2022), gate times less 0.3 s"
_EXCEPTIONS: Final[Mapping[tuple[AgeGroup, str], tuple[Basis, str]]] = MappingProxyType(
    {
        (AgeGroup.U14, "top_speed"): (Basis.DERIVED, _U14),
        (AgeGroup.U14, "time_constant"): (Basis.DERIVED, _U14),
        (AgeGroup.U14, "height"): (
            Basis.DERIVED,
            "Girls U13 to U15: 1.653, 1.677, 1.678 m (Gryko et al. 2022)",
        ),
        (AgeGroup.U16, "top_speed"): (
            Basis.OURS,
            "Boys at peak height velocity: 20 m 3.34 s (Front Sports Act Living 2021, 629453)",
        ),
        (AgeGroup.ADULT, "reaction"): (
            Basis.DERIVED,
            "0.231 s for a button (Woods et al. 2015, n = 1469), rounded up for a step",
        ),
    }
)


def meaning(age: AgeGroup, constant: str) -> Meaning:
    """What a constant is for this age group. Raises KeyError for an unknown constant."""
    general = MEANING[constant]
    basis, source = _EXCEPTIONS.get((age, constant), (general.basis, general.source))
    return replace(general, basis=basis, source=source)


_SIZE_5: Final = drag_constant(0.485, 0.692)
_SIZE_6: Final = drag_constant(0.530, 0.722)
_SIZE_7: Final = drag_constant(0.600, 0.760)

_COLUMNS: Final[Mapping[str, tuple[float, float, float, float, float, float]]] = MappingProxyType(
    {  #                 U10    U12    U14    U16    U18    adult
        "top_speed": (6.2, 6.6, 7.05, 7.5, 7.8, 8.2),
        "time_constant": (1.05, 1.05, 1.04, 1.07, 1.08, 1.10),
        "effort": (EFFORT,) * 6,
        "easy": (0.55,) * 6,
        "braking": (4.0, 4.3, 4.8, 5.2, 5.5, 5.8),
        "arrive_speed": (1.8, 2.0, 2.3, 2.5, 2.6, 2.8),
        "turn_180": (0.45, 0.45, 0.40, 0.35, 0.35, 0.35),
        "dribble": (0.65, 0.70, 0.78, 0.82, 0.85, 0.88),
        "reaction": (0.34, 0.31, 0.28, 0.26, 0.25, 0.25),
        "read": (0.35, 0.30, 0.25, 0.21, 0.18, 0.15),
        "choose": (0.50, 0.45, 0.40, 0.38, 0.36, 0.35),
        "settle": (0.20, 0.20, 0.18, 0.16, 0.15, 0.15),
        "hold": (0.5,) * 6,
        "signal": (0.4,) * 6,
        "release": (0.40, 0.35, 0.30, 0.28, 0.25, 0.25),
        "handle": (0.90, 0.80, 0.65, 0.60, 0.55, 0.50),
        "glance": (0.60, 0.55, 0.45, 0.40, 0.38, 0.35),
        "direct_speed": (5.5, 6.5, 8.0, 9.0, 9.5, 10.0),
        "bounce_speed": (4.5, 5.2, 6.5, 7.2, 7.6, 8.0),
        "overhead_speed": (5.0, 6.0, 7.3, 8.2, 8.6, 9.0),
        "arm_speed": (8.0, 9.5, 11.5, 13.0, 14.5, 16.0),
        "lead": (0.10,) * 6,
        "longest_pass": (6.5, 8.0, 10.5, 12.5, 15.0, 18.0),
        "ball_drag": (_SIZE_5, _SIZE_5, _SIZE_6, _SIZE_6, _SIZE_7, _SIZE_7),
        "height": (1.38, 1.50, 1.67, 1.74, 1.80, 1.88),
        "jump": (0.15, 0.20, 0.25, 0.30, 0.35, 0.40),
        "side_reach": (0.65, 0.70, 0.78, 0.82, 0.86, 0.90),
        "screened": (0.5,) * 6,
    }
)

PACES: Final[Mapping[AgeGroup, Pace]] = MappingProxyType(
    {
        age: Pace(**{name: column[index] for name, column in _COLUMNS.items()})
        for index, age in enumerate(AgeGroup)
    }
)


def pace_of(age: AgeGroup, effort: float = EFFORT) -> Pace:
    """The table's row for an age group, run at a share ``effort`` of the top speed.

    Raises ValueError for an effort outside 0.1 to 1.
    """
    if not 0.1 <= effort <= 1.0:
        raise ValueError("effort is a share of the top speed, from 0.1 to 1")
    return replace(PACES[age], effort=effort)
