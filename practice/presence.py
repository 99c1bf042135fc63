"""Who is expected at a practice or a game: what was marked, else what was known in advance."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from django.db.models import F, QuerySet

from practice.core.reps.rep_rules import Present
from practice.models import Absence, Attendance, Game, Practice, Presence, SquadMark
from roster.models import Availability, Player


def away_by_practice(practices: Iterable[Practice]) -> dict[int, frozenset[int]]:
    """Who is away from each practice, by primary keys: two queries, however many practices.

    Attendance that was taken has the last word over an absence announced before.
    """
    days = {practice.pk: practice.date for practice in practices}
    taken = Attendance.objects.filter(practice__in=days)
    marks = (
        (pk, player, presence == Presence.ABSENT)
        for pk, player, presence in taken.values_list("practice", "player", "presence")
    )
    return _missing(days, marks, Absence.objects.filter(player__team__practices__in=days))


def away_from(practice: Practice) -> frozenset[int]:
    """Who is away from one practice."""
    return away_by_practice([practice])[practice.pk]


def out_by_game(games: Iterable[Game]) -> dict[int, frozenset[int]]:
    """Who is not in each game's squad, by primary keys: two queries, however many games.

    A mark for the game has the last word over an absence announced before.
    """
    days = {game.pk: game.date for game in games}
    marks = SquadMark.objects.filter(game__in=days).values_list("game", "player", "is_out")
    return _missing(days, marks, Absence.objects.filter(player__team__games__in=days))


def _missing(
    days: Mapping[int, date], marks: Iterable[tuple[int, int, bool]], absences: QuerySet[Absence]
) -> dict[int, frozenset[int]]:
    """Who is missing on each day: ``marks`` of a day's key and a player go before an absence."""
    marked: dict[int, dict[int, bool]] = {pk: {} for pk in days}
    for pk, player, is_missing in marks:
        marked[pk][player] = is_missing
    announced = list(absences.distinct().values_list("player", "first", "last"))
    return {
        pk: frozenset(
            {
                who
                for who, first, last in announced
                if first <= day <= last and who not in marked[pk]
            }
            | {who for who, is_missing in marked[pk].items() if is_missing}
        )
        for pk, day in days.items()
    }


def present_value(
    players: Iterable[Player], away: frozenset[int], *, is_game: bool = False
) -> Present:
    """Who is there and what may be asked of them, as the check of a rep reads it."""
    squad = list(players)
    return Present(
        names={player.pk: str(player) for player in squad},
        absent=frozenset(away),
        limited=frozenset(p.pk for p in squad if p.availability == Availability.LIMITED),
        out=frozenset(p.pk for p in squad if p.availability == Availability.OUT),
        is_game=is_game,
    )


def absences_of(team: int) -> list[Absence]:
    """Announced absences of a team's present players, the next one first."""
    rows = Absence.objects.filter(player__team=team, player__left_on=None)
    return list(rows.select_related("player").order_by(F("first").asc(), "player__name"))
