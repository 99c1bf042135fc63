"""A player who leaves the squad: what they did stays, their places and links do not."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from roster.cast.changes import clear_player
from roster.models import Player
from roster.squad.links import withdraw_links
from shared.models import User
from shared.record import note_change


@transaction.atomic
def leave(player: Player, user: User) -> None:
    """Take a player off the squad: the row stays, their places in the cast fall open."""
    clear_player(player, user)
    player.left_on = timezone.localdate()
    player.save(update_fields=["left_on"])
    withdraw_links(player.links.all(), timezone.now())
    note_change(user, "left the team", player, team=player.team_id)
