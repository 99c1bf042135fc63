"""Days off: a series leaves them out, and practices that stand in them can be cancelled."""

from __future__ import annotations

from django.db import transaction

from practice.dates.series import cancel
from practice.models import DaysOff, Practice
from roster.models import Team
from shared.models import User
from shared.record import note_change


@transaction.atomic
def begin_days_off(off: DaysOff, user: User, *, cancelling: bool) -> list[Practice]:
    """Save days off. Returns the practices that are cancelled for them."""
    off.save()
    note_change(user, "noted days off", off, team=off.team_id)
    if not cancelling:
        return []
    held = Practice.objects.filter(team=off.team_id, cancelled=False)
    rows = list(held.filter(date__gte=off.first, date__lte=off.last))
    for row in rows:
        cancel(row, cancelled=True, following=False)
    return rows


def end_days_off(team: Team, pk: int, user: User) -> int:
    """Take days off out, if they are there.

    Returns how many practices in them stay cancelled: each is brought back by itself, since nobody
    noted which of them were cancelled for these days, and which for another reason.
    """
    off = team.days_off.filter(pk=pk).first()
    if off is None:
        return 0
    note_change(user, "took out days off", off, team=team.pk)
    off.delete()
    days = (off.first, off.last)
    return team.practices.filter(cancelled=True, date__range=days).count()
