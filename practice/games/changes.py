"""What a game's pages write: a possession put right, one entered by hand, the squad."""

from __future__ import annotations

import uuid
from collections.abc import Mapping

from django.db import transaction
from django.utils import timezone

from practice.core.reps.called import CalledPlay as CalledPlayValue
from practice.core.reps.called import worth
from practice.core.reps.rep import Undo
from practice.models import CalledPlay, CalledRole, Game, SquadMark
from practice.reps.rows import BatchSurroundings, known_ids, sum_up, write
from practice.reps.store import store
from practice.reps.sums import remake_games
from shared.models import User
from shared.record import note_change


@transaction.atomic
def put_right(row: CalledPlay, now: CalledPlayValue, before: str, after: str, user: User) -> None:
    """Let a possession say what it was; the sums of its game follow. It keeps its id and time."""
    row.defence = now.defence.value if now.defence else ""
    row.taken, row.look = now.taken.value, now.look or ""
    row.result, row.points = now.result.value, worth(now.result, now.points)
    row.erred, row.period, row.clock = now.erred or "", now.period, now.clock
    names = ("defence", "taken", "look", "result", "points", "erred", "period", "clock")
    row.save(update_fields=names)
    row.roles.all().delete()
    CalledRole.objects.bulk_create(
        CalledRole(called=row, role=role, player_id=int(who)) for role, who in now.cast
    )
    remake_games([row.game_id], [row.entry_id])
    note_change(
        user,
        "changed a possession",
        row.game,
        team=row.game.team_id,
        before=before,
        after=after,
    )


@transaction.atomic
def add_by_hand(called: CalledPlayValue, where: BatchSurroundings, user: User) -> bool:
    """Store a possession that the form has checked. False where it is there already."""
    if known_ids([uuid.UUID(called.id)]):
        return False
    write([called], where, user)
    sum_up([called])
    return True


def take_back(row: CalledPlay, user: User) -> None:
    """Take a possession back, as the log's undo does; pressed twice it is one undo."""
    undo = Undo(f"by hand {row.pk}", str(row.pk), timezone.now())
    store([undo], row.game.team, user)


@transaction.atomic
def set_squad(game: Game, out: Mapping[int, bool], user: User) -> None:
    """Mark who is in the squad and who is out: one row a player, however often it is sent."""
    Game.objects.select_for_update().get(pk=game.pk)  # of two, one after the other
    SquadMark.objects.bulk_create(
        [SquadMark(game=game, player_id=who, is_out=is_out) for who, is_out in out.items()],
        update_conflicts=True,
        update_fields=["is_out"],
        unique_fields=["game", "player"],
    )
    n = sum(not is_out for is_out in out.values())
    note_change(user, "set the squad", game, team=game.team_id, after=n)
