"""Taking out a practice or a game that was entered by mistake: only what nothing was noted in."""

from __future__ import annotations

from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet

from practice.models import Attendance, CalledPlay, Game, Practice, Rep


def is_untouched(practice: Practice) -> bool:
    """Whether neither a rep nor an attendance is noted: what is may only be cancelled.

    A rep that somebody took back is none.
    """
    return _untouched(Practice.objects.filter(pk=practice.pk)).exists()


def take_out(practice: Practice, *, following: bool) -> int:
    """Delete a practice, with ``following`` those after it in its series; how many there were.

    What something was noted in stays.
    """
    rows = Practice.objects.filter(pk=practice.pk)
    if following and practice.series_id:
        rows = Practice.objects.filter(series=practice.series_id, date__gte=practice.date)
    with transaction.atomic():
        gone = list(_untouched(rows.select_for_update()))
        Practice.objects.filter(pk__in=[row.pk for row in gone]).delete()
    return len(gone)


def is_unplayed(game: Game) -> bool:
    """Whether nothing counts as called in a game: what was played may only be cancelled."""
    return not CalledPlay.objects.filter(game=game).counted().exists()


def take_game_out(game: Game) -> bool:
    """Delete a game that was not played; whether it is gone."""
    with transaction.atomic():
        Game.objects.select_for_update().filter(pk=game.pk).first()  # nothing is logged meanwhile
        if not is_unplayed(game):
            return False
        Game.objects.filter(pk=game.pk).delete()
    return True


def _untouched(rows: QuerySet[Practice]) -> QuerySet[Practice]:
    reps = Rep.objects.counted().filter(practice=OuterRef("pk"))
    attendance = Attendance.objects.filter(practice=OuterRef("pk"))
    return rows.filter(~Exists(reps), ~Exists(attendance))
