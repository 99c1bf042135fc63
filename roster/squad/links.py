"""Personal links: how a player opens their own pages on one phone, and nothing else."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from hashlib import sha256

import segno
from django.db import transaction
from django.db.models import Q, QuerySet
from django.urls import reverse
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.safestring import SafeString, mark_safe

from roster.models import Player, PlayerLink, Team
from shared.links import new_nonce, token_of

PURPOSE = "player"
LASTS = timedelta(days=300)  # a season whose last day nobody has written


@dataclass(frozen=True, slots=True)
class LinkSlip:
    """A link to hand over; without ``address`` it was made with another secret key.

    ``code`` is the address as a QR code, where a phone can open it.
    """

    link: PlayerLink
    until: date
    address: str | None
    code: SafeString | None


def qr_code(address: str) -> SafeString:
    """An address as a QR code (ISO/IEC 18004) in SVG, as large as the page lets it be."""
    drawn = segno.make(address, error="m").svg_inline(omitsize=True, border=4, lineclass=None)
    return mark_safe(drawn)  # noqa: S308 - segno's own drawing, with nothing of the address in it


def link_for(player: Player, now: datetime, *, guardians: bool = False) -> PlayerLink:
    """The player's open link, or the guardian's copy; a new one where there is none."""
    rows = player.links.filter(withdrawn_at=None, opens_until__gt=now, is_guardians=guardians)
    found = rows.order_by("-made_at").first()
    if found is not None:
        return found
    with transaction.atomic():  # of two who ask at once, the second finds what the first has made
        _hold(player)
        return rows.order_by("-made_at").first() or _new(player, now, guardians)


def _hold(player: Player) -> None:
    Player.objects.select_for_update().get(pk=player.pk)


def _new(player: Player, now: datetime, guardians: bool) -> PlayerLink:
    nonce = new_nonce()
    return PlayerLink.objects.create(
        player=player,
        nonce=nonce,
        digest=_digest(token_of(nonce, PURPOSE)),
        is_guardians=guardians,
        opens_until=now + LASTS,
    )


@transaction.atomic
def renew_link(player: Player, now: datetime, *, guardians: bool = False) -> PlayerLink:
    """Withdraw the player's link, or the guardian's copy, and make another."""
    _hold(player)
    withdraw_links(player.links.filter(is_guardians=guardians), now)
    return _new(player, now, guardians)


def withdraw_links(links: QuerySet[PlayerLink], now: datetime) -> int:
    """Close these links at once; how many were open."""
    return links.filter(withdrawn_at=None).update(withdrawn_at=now)


def open_links(now: datetime) -> QuerySet[PlayerLink]:
    """Links that open something: not withdrawn, not ended with the season, of who is there."""
    ends = Q(player__team__season_ends=None) | Q(
        player__team__season_ends__gte=timezone.localdate(now)
    )
    return PlayerLink.objects.select_related("player__team").filter(
        ends, withdrawn_at=None, opens_until__gt=now, player__left_on=None
    )


def last_day(link: PlayerLink, team: Team) -> date:
    """The last day on which the link opens."""
    until = timezone.localdate(link.opens_until)
    return min(until, team.season_ends) if team.season_ends else until


def token_of_link(link: PlayerLink) -> str | None:
    """The token, made again; None where it was made with another secret key."""
    token = token_of(link.nonce, PURPOSE)
    return token if constant_time_compare(_digest(token), link.digest) else None


def path_of_player(link: PlayerLink) -> str:
    """The address of the player's page, without scheme and host, of a link that can be shown."""
    return reverse("my-plays", args=[token_of_link(link)])


def link_behind(token: str, now: datetime) -> PlayerLink | None:
    """The open link of a token."""
    return open_links(now).filter(digest=_digest(token)).first()


def new_phone() -> str:
    """What a phone is known by: 128 bits for a cookie."""
    return secrets.token_urlsafe(16)


def is_of(link: PlayerLink, phone: str) -> bool:
    """Whether the link was opened on this phone."""
    return bool(link.phone) and constant_time_compare(link.phone, _mark(link, phone))


def bind(link: PlayerLink, phone: str, now: datetime) -> bool:
    """Give the link to the phone that opens it first; of several at once one gets True."""
    free = PlayerLink.objects.filter(pk=link.pk, phone="")
    return bool(free.update(phone=_mark(link, phone), opened_at=now)) or is_of(link, phone)


def _mark(link: PlayerLink, phone: str) -> str:
    """Salted by the link, so that rows do not tell which players share a phone."""
    return _digest(f"{link.pk}.{phone}")


def _digest(secret: str) -> str:
    return sha256(secret.encode()).hexdigest()
