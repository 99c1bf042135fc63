"""Today for a team: the next practice with its plan, who is away, the next game, last time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from practice.bridge import plan_value
from practice.core.plan.plan import running_clock
from practice.core.reps.happened import Week
from practice.models import Block, Game, InstallPlan, Practice
from practice.plan.page import rows_of
from practice.presence import away_from
from practice.readiness.page import FiveLine, before, coming_games, team_readiness
from practice.reps.after import Happened, happened, last_practice, missed_of, weeks_of
from roster.models import Availability, Player, Team
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class NextPractice:
    """The practice of today, else the next one, with its blocks in time and who is expected."""

    practice: Practice
    is_today: bool
    lines: tuple[tuple[datetime, Block], ...]
    away: tuple[Player, ...]
    out: tuple[Player, ...]
    limited: tuple[Player, ...]
    expected: int
    missed: tuple[str, ...]  # the last times that their plays were run


@dataclass(frozen=True, slots=True)
class NextGame:
    """The next game: days until it, practices before it, and the plays by readiness."""

    game: Game
    days: int
    practices: int
    fives: tuple[FiveLine, ...]
    plan_waits: bool  # an install plan was made, or made anew, and is not accepted

    @property
    def ready(self) -> int:
        return len(self.fives) - len(self.lacking)

    @property
    def lacking(self) -> tuple[FiveLine, ...]:
        """Plays whose first five is not whole, has no reps, or will need some."""
        return tuple(each for each in self.fives if not each.is_ready)


@dataclass(frozen=True, slots=True)
class LastTime:
    practice: Practice
    happened: Happened


@dataclass(frozen=True, slots=True)
class Today:
    practice: NextPractice | None
    game: NextGame | None
    last: LastTime | None
    weeks: tuple[Week, ...]


def today_of(team: Team, squad: list[Player], now: datetime, language: Language) -> Today:
    """Everything for a team's first page: a constant number of queries."""
    return Today(
        _next_practice(team, squad, now, language),
        _next_game(team, now),
        _last_time(team, now.date(), language),
        weeks_of(team, now.date()),
    )


def _next_practice(
    team: Team, squad: list[Player], now: datetime, language: Language
) -> NextPractice | None:
    row = _nearest(team, now)
    if row is None:
        return None
    plan, blocks, away = plan_value(row), rows_of(row), away_from(row)
    here = [who for who in squad if who.pk not in away]
    out = tuple(who for who in here if who.availability == Availability.OUT)
    expected = [who for who in here if who not in out]
    return NextPractice(
        practice=row,
        is_today=row.date == now.date(),
        lines=tuple((line.starts, blocks[int(line.block.id)]) for line in running_clock(plan)),
        away=tuple(who for who in squad if who.pk in away),
        out=out,
        limited=tuple(who for who in here if who.availability == Availability.LIMITED),
        expected=len(expected),
        missed=missed_of(team, expected, row.date, language),
    )


def _nearest(team: Team, now: datetime) -> Practice | None:
    """Today's practice that is not over; after the last of today, that one until midnight."""
    rows = Practice.objects.filter(team=team).ahead(now.date()).select_related("team")
    coming = list(rows.prefetch_related("blocks")[:3])
    today = [row for row in coming if row.date == now.date()]
    running = (row for row in today if plan_value(row).ends > now)
    return next(running, today[-1] if today else next(iter(coming), None))


def _next_game(team: Team, now: datetime) -> NextGame | None:
    game = next(iter(coming_games(team, now)), None)
    if game is None:
        return None
    when = before(game, now)
    left = sum(now <= at < when.game for at in when.practices)
    fives = tuple(team_readiness(team).fives(when))
    waits = InstallPlan.objects.filter(game=game, accepted_at=None).exclude(entries=[])
    return NextGame(game, (game.date - now.date()).days, left, fives, waits.exists())


def _last_time(team: Team, today: date, language: Language) -> LastTime | None:
    practice = last_practice(team, today)
    told = happened(practice, language) if practice else None
    return LastTime(practice, told) if practice and told else None
