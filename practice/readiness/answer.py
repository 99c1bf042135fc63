"""How ready everybody is for every role: the answer to the roster's question who knows what."""

from __future__ import annotations

from datetime import datetime

from django.utils import timezone

from plays.core.play import ROLES
from practice.core.readiness.grid import grid, ledger
from practice.parameters import in_force, settings_row
from practice.reps.sums import touches_of
from roster.core.cast import Lesson
from roster.models import Team
from roster.ports import ReadyNow


def readiness_now(team: Team) -> ReadyNow:
    """Readiness from 0 to 1 of everybody present in every role carried: five queries."""
    return readiness_at(team, timezone.now())


def readiness_at(team: Team, when: datetime) -> ReadyNow:
    """The same at another moment, if nothing more is run until then."""
    players = [player.pk for player in team.players.present()]
    plays = list(team.package.all().carried().values_list("pk", flat=True))
    assumptions, offsets = in_force(settings_row())
    if not players or not plays:
        return ReadyNow({}, assumptions.ready)
    book = ledger(touches_of(team), players, plays, assumptions, offsets)
    values = grid(book, when).value
    found = {
        Lesson(player, play, role): float(values[row, column, index])
        for row, player in enumerate(players)
        for column, play in enumerate(plays)
        for index, role in enumerate(ROLES)
    }
    return ReadyNow(found, assumptions.ready)
