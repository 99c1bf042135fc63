"""Personal links: how a player opens their own sheet, and nothing else."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction
from django.urls import reverse

from roster.models import Player, PlayerLink
from shared.links import new_nonce, nonce_of, token_of

PURPOSE = "player"
LASTS = timedelta(days=300)  # a season


def link_for(player: Player, now: datetime) -> PlayerLink:
    """The player's open link; a new one where there is none."""
    link = player.links.filter(withdrawn_at=None, opens_until__gt=now).order_by("-made_at").first()
    return link or PlayerLink.objects.create(
        player=player, nonce=new_nonce(), opens_until=now + LASTS
    )


@transaction.atomic
def renew_link(player: Player, now: datetime) -> PlayerLink:
    """Withdraw every link of the player and make another."""
    player.links.filter(withdrawn_at=None).update(withdrawn_at=now)
    return link_for(player, now)


def path_of_player(link: PlayerLink) -> str:
    """The address of the player's page, without scheme and host."""
    return reverse("my-sheet", args=[token_of(link.nonce, PURPOSE)])


def player_behind(token: str, now: datetime) -> Player | None:
    """The player whose page a token opens: genuine, not withdrawn, not ended, still in the team."""
    nonce = nonce_of(token, PURPOSE)
    links = PlayerLink.objects.select_related("player__team").filter(
        nonce=nonce or "", withdrawn_at=None, opens_until__gt=now, player__left_on=None
    )
    link = links.first()
    return link.player if link else None
