"""How fast a team moves: the age group's row with what the team has measured itself.

A team may time its group over 10 and 20 m, put its own numbers in place of constants, and time
single players: a role then moves as fast as the person cast in it. Metres and seconds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from plays.core.motion.pace import EFFORT, PACES, Pace, pace_of
from plays.core.motion.sprint import BEHIND_GATE, Split
from plays.core.play import AgeGroup, Role

EDITABLE: Final = tuple(name for name in PACES[AgeGroup.U14].to_json() if name != "effort")
"""The constants that a team may set; the effort is chosen with each check."""

SPREAD: Final = 3.0  # a constant lies within a third of the least and three times the greatest row


@dataclass(frozen=True, slots=True)
class Timed:
    """Gate times over 10 and 20 m, either or both; ``gate`` metres from the toes to the gate."""

    ten: float | None = None
    twenty: float | None = None
    gate: float = BEHIND_GATE

    @property
    def splits(self) -> tuple[Split, ...]:
        pairs = ((10.0, self.ten), (20.0, self.twenty))
        return tuple(Split(metres, seconds) for metres, seconds in pairs if seconds is not None)

    def to_json(self) -> dict[str, Any]:
        return {"ten": self.ten, "twenty": self.twenty, "gate": self.gate}

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Timed:
        return cls(data.get("ten"), data.get("twenty"), float(data.get("gate", BEHIND_GATE)))


@dataclass(frozen=True, slots=True)
class TeamPace:
    """What a team knows of its own pace; all of it may be missing.

    ``constants`` stand in place of the age group's, ``timed`` gives the group's top speed, and
    ``people`` the times of whoever is cast in a role.
    """

    constants: Mapping[str, float] = field(default_factory=dict)
    timed: Timed = field(default_factory=Timed)
    people: Mapping[Role, Timed] = field(default_factory=dict)

    @property
    def is_own(self) -> bool:
        """Whether the team has anything of its own."""
        return bool(self.constants or self.timed.splits) or any(
            timed.splits for timed in self.people.values()
        )

    def base(self, age: AgeGroup, effort: float = EFFORT) -> Pace:
        """The pace of everybody who was not timed."""
        pace = replace(pace_of(age, effort), **self.constants)
        if self.timed.splits and "top_speed" not in self.constants:
            pace = pace.with_splits(self.timed.splits, self.timed.gate)
        return pace

    def paces(self, age: AgeGroup, effort: float = EFFORT) -> dict[Role, Pace]:
        """The pace of each role whose person was timed."""
        base = self.base(age, effort)
        return {
            role: base.with_splits(timed.splits, timed.gate)
            for role, timed in self.people.items()
            if timed.splits
        }

    def to_json(self) -> dict[str, Any]:
        """What a team keeps; the people are kept with the people."""
        return {"constants": dict(self.constants), "timed": self.timed.to_json()}

    @classmethod
    def from_json(cls, data: Mapping[str, Any], people: Mapping[Role, Timed]) -> TeamPace:
        """The inverse; constants that are known no more are left out."""
        known = {k: float(v) for k, v in data.get("constants", {}).items() if k in EDITABLE}
        return cls(known, Timed.from_json(data.get("timed", {})), people)


def bounds(constant: str) -> tuple[float, float]:
    """Between what a constant may lie: wide, to catch slips of the pen. Raises KeyError."""
    values = [getattr(row, constant) for row in PACES.values()] if constant in EDITABLE else []
    if not values:
        raise KeyError(constant)
    return min(values) / SPREAD, max(values) * SPREAD
