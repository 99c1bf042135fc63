"""One player to another team of the club: a row of their own there, their history where it was.

The row of the old team stays with its reps and attendance, marked as left; the new one begins
with name, height, positions, ratings and availability. What the record says of the move is
what takes it back, as long as nothing has come to hang on the new row.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import transaction
from django.utils.translation import gettext as _

from practice.privacy.held import tables_about_players
from roster.cast.changes import CastChangedError, change_cast, step_changes
from roster.models import CastStep, Player, PlayerLink, Team
from roster.squad.leaving import leave
from shared.models import Change, User
from shared.record import note_change
from shared.rows import again

VERB: Final = "moved player"


class MoveStandsError(Exception):
    """A move that cannot be taken back; its text says why."""


@dataclass(frozen=True, slots=True)
class PlayerMove:
    """A move as the record has it: who they were before, and whether they left that team."""

    at: datetime
    was: Player
    left: bool
    step: int | None  # of the old team's cast, in which their places fell open


@transaction.atomic
def move_player(player: Player, team: Team, number: str, user: User, *, stays: bool) -> Player:
    """The player's row in ``team``; with ``stays`` they play for the old one, too."""
    made = again(player, team=team, number=number, left_on=None)
    made.save()
    step = None
    if not stays:
        leave(player, user)
        step = player.team.cast_steps.filter(kind=CastStep.Kind.LEFT).first()
    was = {"player": player.pk, "left": not stays, "step": step.pk if step else None}
    note_change(user, VERB, made, team=team.pk, before=was, after={"player": made.pk})
    return made


def move_of(player: Player) -> PlayerMove | None:
    """The move that brought a player here, or None."""
    rows = Change.objects.filter(verb=VERB, team=player.team_id, after__player=player.pk)
    found = rows.order_by("-pk").first()
    if found is None or found.before is None:
        return None
    kept = found.before
    was = Player.objects.select_related("team").filter(pk=kept["player"]).first()
    return PlayerMove(found.at, was, bool(kept["left"]), kept["step"]) if was else None


@transaction.atomic
def take_back(player: Player, move: PlayerMove, user: User) -> Player:
    """Back to the old team, with the places of its cast that are still open.

    Raises MoveStandsError, having changed nothing.
    """
    _refuse_what_has_happened(player, move.was)
    note_change(user, "took back the move of", player, team=player.team_id)
    player.delete()
    if move.left:
        move.was.left_on = None
        move.was.save(update_fields=["left_on"])
        _cast_again(move, user)
    return move.was


def _refuse_what_has_happened(player: Player, was: Player) -> None:
    for model, field in tables_about_players():
        if model is not PlayerLink and model._default_manager.filter(**{field: player}).exists():
            raise MoveStandsError(
                _(
                    "%(name)s has been cast, practised or been noted here since. "
                    "Move them to the other team as they are now."
                )
                % {"name": player}
            )
    others = was.team.players.present().exclude(pk=was.pk)
    if was.left_on is not None and others.filter(number=was.number).exists():
        raise MoveStandsError(
            _("Somebody else of %(team)s wears %(number)s now: give them another number first.")
            % {"team": was.team, "number": was.number}
        )


def _cast_again(move: PlayerMove, user: User) -> None:
    """Each place that the leaving opened, unless somebody has filled it or the play is gone."""
    step = CastStep.objects.filter(pk=move.step or 0).first()
    for change in step_changes(step) if step else ():
        if change.before != move.was.pk:
            continue
        back = type(change)(change.slot, None, change.before)
        try:
            change_cast(move.was.team, [back], user, CastStep.Kind.UNDONE)
        except (CastChangedError, ValueError):
            continue
