"""How ready players are for their roles, asked of whoever logs the reps.

The roster stands below the practices and imports nothing of theirs. The app that keeps them
says here, when it is loaded, how to ask it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from roster.core.cast import Lesson
from roster.models import Team

Asked = Callable[[Team], Mapping[Lesson, float]]

_known: list[Asked] = []


def answer_with(asked: Asked) -> None:
    """Have this function asked for readiness, 0 to 1; the latest one said is asked."""
    if asked not in _known:
        _known.append(asked)


def is_known() -> bool:
    """Whether anybody can be asked."""
    return bool(_known)


def readiness_of(team: Team) -> Mapping[Lesson, float] | None:
    """Readiness by (player, entry of the package, role); None where nobody can be asked."""
    return _known[-1](team) if _known else None
