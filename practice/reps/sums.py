"""The sums that readiness is made of, kept in step with the reps that they are sums of.

Whoever writes or takes back a rep, or moves a practice, calls ``remake`` in the transaction
that does it. ``manage.py sum_reps`` makes all of them anew.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final

from django.db import transaction
from django.db.models import Count
from django.utils import timezone

from plays.core.play import ROLES, Role, role_of
from practice.bridge import moment
from practice.core.reps.rep import Mode, Rep, Slip, Touch, as_cast, summed, touches
from practice.models import Practice, RepQuerySet, RepRole, RepSum
from practice.models import Rep as RepRow
from roster.models import PackagePlay, Player, Team

AT_ONCE: Final = 500  # rows in one statement
_ROLES: Final[Mapping[str, Role]] = {role: role for role in ROLES}
_MODES: Final[Mapping[str, Mode]] = {mode.value: mode for mode in Mode}


def touches_of(
    team: Team, *, player: Player | None = None, entry: PackagePlay | None = None
) -> tuple[Touch, ...]:
    """What a team has run, oldest first, as sums: one query, whatever was logged.

    With a player or an entry only what is theirs.
    """
    rows = RepSum.objects.filter(practice__team=team)
    if player is not None:
        rows = rows.filter(player=player)
    if entry is not None:
        rows = rows.filter(entry=entry)
    values = rows.order_by("first_at", "pk").values_list(
        "player_id", "entry_id", "role", "practice_id", "first_at", "mode", "is_clean", "count"
    )
    return tuple(
        Touch(who, play, _ROLES[role], practice, at, _MODES[mode], clean, count)
        for who, play, role, practice, at, mode, clean, count in values.iterator(AT_ONCE)
    )


def touches_of_cell(player: int, entry: int, role: Role) -> tuple[Touch, ...]:
    """Every single touch of one player in one role of one play, oldest first."""
    rows = RepRow.objects.counted().filter(entry=entry, roles__player=player, roles__role=role)
    rows = rows.select_related("practice").order_by("at", "pk")
    return touches(_value(row, {role: player}) for row in rows)


def reps_by_call(player: Player, entry: PackagePlay, role: Role) -> list[tuple[str, int]]:
    """How often a player ran a role on each of the play's calls, most often first.

    Reps of which nobody said the call are left out here; readiness counts them all.
    """
    rows = RepRow.objects.counted().filter(entry=entry, roles__player=player, roles__role=role)
    said = rows.exclude(call=None).order_by().values_list("call")
    return [(call, n) for call, n in said.annotate(n=Count("pk")).order_by("-n", "call")]


@transaction.atomic
def remake(practices: Collection[int], entries: Collection[int] | None = None) -> None:
    """Make the sums of these practices anew, or only those of some of their plays."""
    # Two who log in one practice wait for each other here: neither may sum without the other.
    list(Practice.objects.select_for_update().filter(pk__in=practices).order_by("pk"))
    old = RepSum.objects.filter(practice__in=practices)
    reps = RepRow.objects.counted().filter(practice__in=practices)
    if entries is not None:
        old, reps = old.filter(entry__in=entries), reps.filter(entry__in=entries)
    old.delete()
    sums = summed(touches(values_of(reps.order_by("at", "pk"))))
    RepSum.objects.bulk_create([_row(touch) for touch in sums], batch_size=AT_ONCE)


def values_of(reps: RepQuerySet) -> list[Rep]:
    """Reps with their fives.

    One that was logged on another day than its practice counts on the practice's day.
    """
    fives: dict[object, dict[str, int]] = {}
    roles = RepRole.objects.filter(rep__in=reps.order_by().values("pk"))
    for rep, role, player in roles.values_list("rep", "role", "player"):
        fives.setdefault(rep, {})[role] = player
    rows = reps.select_related("practice")
    return [_value(row, fives.get(row.pk, {})) for row in rows]


def _value(row: RepRow, five: dict[str, int]) -> Rep:
    on_the_day = timezone.localdate(row.at) == row.practice.date
    return Rep(
        id=str(row.pk),
        practice=row.practice_id,
        play=row.entry_id,
        mode=Mode(row.mode),
        at=row.at if on_the_day else moment(row.practice.date, row.practice.start),
        cast=as_cast({role: five[role] for role in ROLES if role in five}),
        clean=row.is_clean,
        erred=role_of(row.erred),
        slip=Slip(row.slip) if row.slip else None,
        call=row.call,
    )


def _row(touch: Touch) -> RepSum:
    return RepSum(
        practice_id=touch.practice,
        entry_id=touch.play,
        player_id=touch.player,
        role=touch.role,
        mode=touch.mode.value,
        is_clean=touch.clean,
        count=touch.count,
        first_at=touch.at,
    )
