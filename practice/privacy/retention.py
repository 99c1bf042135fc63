"""How long personal data is kept after a season, and what goes then."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from django.utils import timezone

from practice.dates.feeds import withdraw_all
from practice.privacy.erase import erase, is_erased
from roster.models import Player, Team
from shared.models import User

KEPT_FOR: Final = timedelta(days=180)
"""Our own choice: long enough to plan the next season by, and over before it is."""


@dataclass(frozen=True, slots=True)
class Expiry:
    """A team whose season has a last day: on ``day`` the data of these people goes."""

    team: Team
    day: date
    players: tuple[Player, ...]

    def is_due(self, today: date) -> bool:
        return today >= self.day


def expiry_of(team: Team, kept_for: timedelta = KEPT_FOR) -> Expiry | None:
    """What goes and when; None where nobody has written the last day of the season."""
    if team.season_ends is None:
        return None
    players = tuple(player for player in team.players.all() if not is_erased(player))
    return Expiry(team, team.season_ends + kept_for, players)


def expire(expiry: Expiry, user: User | None) -> int:
    """Erase everybody of a team that is due; how many there were."""
    if not expiry.is_due(timezone.localdate()):
        return 0
    erase(expiry.players, user, typed=True)
    withdraw_all(expiry.team)
    return len(expiry.players)
