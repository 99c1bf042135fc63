"""What the roster asks of whoever keeps practices: how ready players are, and what comes next.

The roster stands below the practices and imports nothing of theirs. The app that keeps them
says here, when it is loaded, how to ask it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, time

from roster.core.cast import Lesson
from roster.models import Team


@dataclass(frozen=True, slots=True)
class ReadyNow:
    """Readiness from 0 to 1 by (player, entry of the package, role), and from where it is ready."""

    values: Mapping[Lesson, float]
    bar: float


Asked = Callable[[Team], ReadyNow]


@dataclass(frozen=True, slots=True)
class Coming:
    """The next practice or game: ``what`` names it, where the day does not say enough."""

    is_game: bool
    what: str
    day: date
    start: time | None
    place: str


Calendar = Callable[[Team], tuple[Coming, ...]]

_known: list[Asked] = []
_calendars: list[Calendar] = []


def answer_with(asked: Asked) -> None:
    """Have this function asked for readiness; the latest one said is asked."""
    if asked not in _known:
        _known.append(asked)


def is_known() -> bool:
    """Whether anybody can be asked."""
    return bool(_known)


def readiness_of(team: Team) -> ReadyNow | None:
    """How ready everybody is, by the club's own bar; None where nobody can be asked."""
    return _known[-1](team) if _known else None


def dates_with(calendar: Calendar) -> None:
    """Have this function asked for what comes next; the latest one said is asked."""
    if calendar not in _calendars:
        _calendars.append(calendar)


def coming(team: Team) -> tuple[Coming, ...]:
    """The team's next practice and next game, the nearer first; none where nobody knows."""
    return _calendars[-1](team) if _calendars else ()
