"""How fast an age group moves, throws and reacts: every constant of the clock in one table.

Metres, seconds, metres per second; ``meaning`` says of each constant where it comes from. A
team can change any of them: a Pace is a value, ``dataclasses.replace`` makes another. All
rows are ordered: an older group is nowhere slower than a younger one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields, replace
from types import MappingProxyType
from typing import Any, Final

from plays.core.motion.flight import drag_constant
from plays.core.motion.sprint import BEHIND_GATE, Split, fit
from plays.core.play import AgeGroup, PassKind

EFFORT: Final = 0.75  # share of the top speed in a game; 0.6 to 0.9 is sensible
REACH_PER_HEIGHT: Final = 1.33  # standing reach / height: Gryko et al. 2022, girls U13 to U15
REACHES_SHARE: Final = 0.95  # of the standing reach, for a raised hand while moving


def professional_speed(length: float) -> float:
    """The median speed in flight at which adult professionals pass over a length."""
    return min(1.8 * length, 6.0 + 0.7 * length)


@dataclass(frozen=True, slots=True)
class Pace:
    """The constants for one age group, or for one player of it. See ``meaning``."""

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
    follow: float
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

    def pass_speed(self, kind: PassKind, length: float) -> float:
        """Mean speed of a pass between two people so far apart, as far as the arm can throw it.

        Short passes are soft and long ones hard: professionals throw at about 6 m/s and 0.7 for
        each metre, and nearer than five metres at 1.8 m/s for each. A lob has no speed of its
        own: its arc gives it.
        """
        over_six = {
            PassKind.DIRECT: self.direct_speed,
            PassKind.BOUNCE: self.bounce_speed,
            PassKind.OVERHEAD: self.overhead_speed,
            PassKind.LOB: self.overhead_speed,
        }[kind]
        return over_six * professional_speed(length) / professional_speed(6.0)

    def with_splits(self, splits: Sequence[Split], behind: float = BEHIND_GATE) -> Pace:
        """The pace of someone with these gate times. T is held with fewer than four splits."""
        top, constant = fit(splits, constant=self.time_constant, behind=behind)
        return replace(self, top_speed=top, time_constant=constant)


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
        "arrive_speed": (1.9, 2.1, 2.5, 2.7, 2.9, 3.1),
        "turn_180": (0.45, 0.45, 0.40, 0.35, 0.35, 0.35),
        "dribble": (0.65, 0.70, 0.78, 0.82, 0.85, 0.88),
        "reaction": (0.34, 0.31, 0.28, 0.26, 0.25, 0.25),
        "read": (0.35, 0.30, 0.25, 0.21, 0.18, 0.15),
        "follow": (0.45, 0.42, 0.39, 0.36, 0.34, 0.33),
        "choose": (0.50, 0.45, 0.40, 0.38, 0.36, 0.35),
        "settle": (0.20, 0.20, 0.18, 0.16, 0.15, 0.15),
        "hold": (0.5,) * 6,
        "signal": (0.4,) * 6,
        "release": (0.40, 0.35, 0.30, 0.28, 0.25, 0.25),
        "handle": (0.90, 0.80, 0.65, 0.60, 0.55, 0.50),
        "glance": (0.60, 0.55, 0.45, 0.40, 0.38, 0.35),
        "direct_speed": (5.6, 6.6, 8.2, 9.2, 9.7, 10.2),
        "bounce_speed": (4.5, 5.3, 6.6, 7.4, 7.8, 8.2),
        "overhead_speed": (5.1, 6.0, 7.4, 8.3, 8.7, 9.2),
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
