"""What the pages of opponents show."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from plays.core.defence.words import TACTICS
from plays.models import Situation
from practice.core.learning.tendencies import (
    DefenceShare,
    Tendencies,
    Tendency,
    share_text,
    usual_text,
)
from practice.models import Game, Opponent
from practice.opponents.shares import tendencies_by_opponent
from roster.models import Team
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class OpponentLine:
    """One line of the list: the next game against them, else the last one."""

    opponent: Opponent
    game: Game | None
    is_ahead: bool
    total: int
    usual: str


@dataclass(frozen=True, slots=True)
class ShareLine:
    """A defence, what is said of it, and its bar from 0 to 100: share and range."""

    defence: str
    said: str
    at: int
    low: int
    wide: int
    is_told: bool


@dataclass(frozen=True, slots=True)
class SituationPart:
    """What was seen in one situation."""

    title: str
    total: int
    last: date | None
    lines: Sequence[ShareLine]


def opponent_lines(team: Team, today: date, language: Language) -> list[OpponentLine]:
    """The team's opponents: those met next first, then the others by name. Three queries."""
    seen = tendencies_by_opponent(team)
    games: dict[int, list[Game]] = {}
    for game in team.games.filter(met__isnull=False, cancelled=False).order_by("date", "start"):
        games.setdefault(game.met_id or 0, []).append(game)
    lines = [
        _line(one, games.get(one.pk, []), seen.get(one.pk), today, language)
        for one in team.opponents.all()
    ]
    ahead = [line for line in lines if line.is_ahead]
    return sorted(ahead, key=_day) + [line for line in lines if not line.is_ahead]


def situation_parts(found: Tendencies, language: Language) -> list[SituationPart]:
    """What was seen, situation by situation."""
    return [_part(each, language) for each in found.by_situation]


def _line(
    opponent: Opponent,
    games: Sequence[Game],
    found: Tendencies | None,
    today: date,
    language: Language,
) -> OpponentLine:
    ahead = next((game for game in games if game.date >= today), None)
    game = ahead or (games[-1] if games else None)
    total = found.overall.total if found else 0
    usual = usual_text(found.overall, language) if found else ""
    return OpponentLine(opponent, game, ahead is not None, total, usual)


def _day(line: OpponentLine) -> date:
    assert line.game is not None  # asked of those that are ahead
    day: date = line.game.date
    return day


def _part(tendency: Tendency, language: Language) -> SituationPart:
    assert tendency.situation is not None  # of those by situation
    title = str(Situation(tendency.situation.value).label)
    return SituationPart(
        title, tendency.total, tendency.last, list(_share_lines(tendency.shares, language))
    )


def _share_lines(shares: Iterable[DefenceShare], language: Language) -> Iterable[ShareLine]:
    for share in shares:
        low, high = round(100 * share.inside.low), round(100 * share.inside.high)
        yield ShareLine(
            language.say(TACTICS[share.defence]),
            share_text(share, language),
            round(100 * share.share),
            low,
            high - low,
            share.is_told,
        )
