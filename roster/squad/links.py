"""Personal links: how a player opens their own sheet, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

import segno
from django.db import transaction
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from roster.models import Player, PlayerLink
from shared.links import new_nonce, nonce_of, token_of

PURPOSE = "player"


@dataclass(frozen=True, slots=True)
class LinkCard:
    """A player, the address of their page, and the same as a QR code."""

    player: Player
    address: str
    code: SafeString


def qr_code(address: str) -> SafeString:
    """An address as a QR code (ISO/IEC 18004) in SVG, as large as the page lets it be."""
    drawn = segno.make(address, error="m").svg_inline(omitsize=True, border=2, lineclass=None)
    return mark_safe(drawn)  # noqa: S308 - segno's own drawing, with nothing of the address in it


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
    return reverse("my-plays", args=[token_of(link.nonce, PURPOSE)])


def player_behind(token: str, now: datetime) -> Player | None:
    """The player whose page a token opens: genuine, not withdrawn, not ended, still in the team."""
    nonce = nonce_of(token, PURPOSE)
    links = PlayerLink.objects.select_related("player__team").filter(
        nonce=nonce or "", withdrawn_at=None, opens_until__gt=now, player__left_on=None
    )
    link = links.first()
    return link.player if link else None
