"""The sums that readiness is made of, kept in step with the reps that they are sums of.

Whoever writes or takes back a rep, or moves a practice, calls ``remake`` in the transaction
that does it. ``manage.py sum_reps`` makes all of them anew. A play called in a game is a rep in
game mode for the five in it: it is counted from its one row, and ``remake_games`` sums it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from datetime import datetime
from typing import Final

from django.db import transaction
from django.db.models import Count, QuerySet
from django.utils import timezone

from plays.core.defence.stance import Tactic
from plays.core.play import ROLES, Role, role_of
from practice.bridge import moment
from practice.core.reps.called import CalledPlay as CalledPlayValue
from practice.core.reps.called import (
    CallResult,
    Take,
    as_game_rep,
    game_key,
    game_of,
)
from practice.core.reps.rep import Id, Mode, Rep, Slip, Touch, as_cast, summed, touches
from practice.models import (
    CalledPlay,
    CalledPlayQuerySet,
    CalledRole,
    Game,
    Practice,
    RepQuerySet,
    RepRole,
    RepSum,
)
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
    rows = RepSum.objects.filter(entry__team=team)
    if player is not None:
        rows = rows.filter(player=player)
    if entry is not None:
        rows = rows.filter(entry=entry)
    columns = ("player_id", "entry_id", "role", "practice_id", "game_id")
    values = rows.order_by("first_at", "pk").values_list(
        *columns, "first_at", "mode", "is_clean", "count"
    )
    return tuple(
        Touch(who, play, _ROLES[role], practice or game_key(game), at, _MODES[mode], clean, count)
        for who, play, role, practice, game, at, mode, clean, count in values.iterator(AT_ONCE)
    )


def touches_of_cell(player: int, entry: int, role: Role) -> tuple[Touch, ...]:
    """Every single touch of one player in one role of one play, oldest first."""
    rows = RepRow.objects.counted().filter(entry=entry, roles__player=player, roles__role=role)
    rows = rows.select_related("practice").order_by("at", "pk")
    called = CalledPlay.objects.counted().filter(
        entry=entry, roles__player=player, roles__role=role
    )
    reps = [_value(row, {role: player}) for row in rows]
    mine = called.select_related("game")
    reps += [as_game_rep(called_value(row, {role: player})) for row in mine]
    return touches(sorted(reps, key=lambda rep: (rep.at, rep.id)))


def reps_by_call(player: Player, entry: PackagePlay, role: Role) -> list[tuple[str, int]]:
    """How often a player ran a role on each of the play's calls, most often first.

    Reps of which nobody said the call are left out here; readiness counts them all.
    """
    counts: Counter[str] = Counter()
    for rows in (RepRow.objects.counted(), CalledPlay.objects.counted()):
        mine = rows.filter(entry=entry, roles__player=player, roles__role=role)
        said = mine.exclude(call=None).order_by().values_list("call")
        counts.update(dict(said.annotate(n=Count("pk"))))
    return sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))


@transaction.atomic
def remake(practices: Collection[int], entries: Collection[int] | None = None) -> None:
    """Make the sums of these practices anew, or only those of some of their plays."""
    # Two who log in one practice wait for each other here: neither may sum without the other.
    list(Practice.objects.select_for_update().filter(pk__in=practices).order_by("pk"))
    reps = RepRow.objects.counted().filter(practice__in=practices)
    old = RepSum.objects.filter(practice__in=practices)
    if entries is not None:
        old, reps = old.filter(entry__in=entries), reps.filter(entry__in=entries)
    _replace(old, values_of(reps.order_by("at", "pk")))


@transaction.atomic
def remake_games(games: Collection[int], entries: Collection[int] | None = None) -> None:
    """The same for games, from the plays called in them."""
    list(Game.objects.select_for_update().filter(pk__in=games).order_by("pk"))
    called = CalledPlay.objects.counted().filter(game__in=games)
    old = RepSum.objects.filter(game__in=games)
    if entries is not None:
        old, called = old.filter(entry__in=entries), called.filter(entry__in=entries)
    _replace(old, game_reps_of(called.order_by("at", "pk")))


def _replace(old: QuerySet[RepSum], reps: Iterable[Rep]) -> None:
    old.delete()
    RepSum.objects.bulk_create([_row(each) for each in summed(touches(reps))], batch_size=AT_ONCE)


def values_of(reps: RepQuerySet) -> list[Rep]:
    """Reps with their fives.

    One that was logged on another day than its practice counts on the practice's day.
    """
    roles = RepRole.objects.filter(rep__in=reps.order_by().values("pk"))
    fives = _fives(roles.values_list("rep", "role", "player"))
    rows = reps.select_related("practice")
    return [_value(row, fives.get(row.pk, {})) for row in rows]


def game_reps_of(called: CalledPlayQuerySet) -> list[Rep]:
    """Called plays as the reps that they are, dated as those of a practice are."""
    return [as_game_rep(each) for each in called_values_of(called)]


def called_values_of(called: CalledPlayQuerySet) -> list[CalledPlayValue]:
    """Called plays with their fives, in the order of the rows: two queries."""
    roles = CalledRole.objects.filter(called__in=called.order_by().values("pk"))
    fives = _fives(roles.values_list("called", "role", "player"))
    return [called_value(row, fives.get(row.pk, {})) for row in called.select_related("game")]


def _fives(roles: Iterable[tuple[object, str, int]]) -> dict[object, dict[str, int]]:
    fives: dict[object, dict[str, int]] = {}
    for row, role, player in roles:
        fives.setdefault(row, {})[role] = player
    return fives


def _value(row: RepRow, five: Mapping[str, int]) -> Rep:
    return Rep(
        id=str(row.pk),
        practice=row.practice_id,
        play=row.entry_id,
        mode=Mode(row.mode),
        at=_on_its_day(row.at, row.practice),
        cast=_cast(five),
        clean=row.is_clean,
        erred=role_of(row.erred),
        slip=Slip(row.slip) if row.slip else None,
        call=row.call,
    )


def called_value(row: CalledPlay, five: Mapping[str, int]) -> CalledPlayValue:
    """The called play that a row keeps; its game should be read with it."""
    return CalledPlayValue(
        id=str(row.pk),
        game=row.game_id,
        play=row.entry_id,
        at=_on_its_day(row.at, row.game),
        taken=Take(row.taken),
        result=CallResult(row.result),
        defence=Tactic(row.defence) if row.defence else None,
        look=row.look or None,
        points=row.points,
        cast=_cast(five),
        erred=role_of(row.erred),
        period=row.period,
        clock=row.clock,
        revision=row.revision_id,
        call=row.call,
    )


def _on_its_day(at: datetime, row: Practice | Game) -> datetime:
    return at if timezone.localdate(at) == row.date else moment(row.date, row.start)


def _cast(five: Mapping[str, int]) -> tuple[tuple[Role, Id], ...]:
    return as_cast({role: five[role] for role in ROLES if role in five})


def _row(touch: Touch) -> RepSum:
    game = game_of(touch.practice)
    return RepSum(
        practice_id=touch.practice if game is None else None,
        game_id=game,
        entry_id=touch.play,
        player_id=touch.player,
        role=touch.role,
        mode=touch.mode.value,
        is_clean=touch.clean,
        count=touch.count,
        first_at=touch.at,
    )
