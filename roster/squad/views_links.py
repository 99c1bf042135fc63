"""Personal links as the staff hands them out: slips, new ones, and closing them."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from roster.access import coached_player_for, coached_team_for
from roster.models import Player, PlayerLink, Team
from roster.squad.links import (
    LinkSlip,
    last_day,
    link_for,
    open_links,
    path_of_player,
    qr_code,
    renew_link,
    token_of_link,
    withdraw_links,
)
from shared.access import user_of
from shared.pages import page
from shared.phones import phone_address
from shared.record import note_change
from shared.sure import asks_password


@dataclass(frozen=True, slots=True)
class Handout:
    """A player with the slip of their link and that of the guardian's copy, where there is one."""

    player: Player
    own: LinkSlip | None
    guardians: LinkSlip | None


@asks_password("GET")
@require_safe
def link_cards(request: HttpRequest, pk: int) -> HttpResponse:
    """A slip for each player, to cut out, copy or share."""
    team = coached_team_for(user_of(request), pk)
    base = phone_address(request)
    found = open_links(timezone.now()).filter(player__team=team).order_by("made_at")
    slips = {(link.player_id, link.is_guardians): _slip(link, team, base) for link in found}
    handouts = [
        Handout(player, slips.get((player.pk, False)), slips.get((player.pk, True)))
        for player in team.players.present()
    ]
    context = {
        "team": team,
        "section": "links",
        "may_coach": True,
        "handouts": handouts,
        "any": bool(slips),
        "missing": sum(1 for each in handouts if each.own is None),
        "base_address": base,
        "ended": _has_ended(team),
    }
    return page(request, "roster/link_cards.html", context, secret=True)


def _slip(link: PlayerLink, team: Team, base: str | None) -> LinkSlip:
    shown = base is not None and token_of_link(link) is not None
    address = f"{base}{path_of_player(link)}" if shown else None
    return LinkSlip(link, last_day(link, team), address, qr_code(address) if address else None)


@asks_password("POST")
@require_POST
def make_links(request: HttpRequest, pk: int) -> HttpResponse:
    """A personal link for everybody who has none."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    if _has_ended(team):
        messages.error(request, _("The season is over: set its last day in the team's settings."))
        return redirect("edit-team", pk)
    with transaction.atomic():
        held = open_links(timezone.now()).filter(player__team=team, is_guardians=False)
        without = team.players.present().exclude(pk__in=held.values("player"))
        names = [str(link_for(player, timezone.now()).player) for player in without]
        if names:
            note_change(user, "made personal links", team, team=pk, after=names)
    return redirect("link-cards", pk)


@asks_password("POST")
@require_POST
def new_link(request: HttpRequest, pk: int) -> HttpResponse:
    """Withdraw a player's link, or the guardian's copy, and make another."""
    user = user_of(request)
    player = coached_player_for(user, pk)
    guardians = "guardians" in request.POST
    with transaction.atomic():
        renew_link(player, timezone.now(), guardians=guardians)
        verb = "made a guardian's copy" if guardians else "made a personal link"
        note_change(user, verb, player, team=player.team_id)
    messages.success(request, _("%(name)s: a new link.") % {"name": str(player)})
    return redirect("link-cards", player.team_id)


@require_POST
def withdraw_link(request: HttpRequest, pk: int) -> HttpResponse:
    """Close a player's link, or the guardian's copy, at once."""
    user = user_of(request)
    player = coached_player_for(user, pk)
    guardians = "guardians" in request.POST
    with transaction.atomic():
        withdraw_links(player.links.filter(is_guardians=guardians), timezone.now())
        verb = "withdrew the guardian's copy" if guardians else "withdrew the personal link"
        note_change(user, verb, player, team=player.team_id)
    messages.success(request, _("%(name)s: the link is closed.") % {"name": str(player)})
    return redirect("link-cards", player.team_id)


@require_POST
def withdraw_all_links(request: HttpRequest, pk: int) -> HttpResponse:
    """Close all links of the team at once, guardians' copies too."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    with transaction.atomic():
        links = PlayerLink.objects.filter(player__team=team)
        n = withdraw_links(links, timezone.now())
        note_change(user, "withdrew all personal links", team, team=pk, after=n)
    said = ngettext("%(n)d link is closed.", "%(n)d links are closed.", n)
    messages.success(request, said % {"n": n})
    return redirect("link-cards", pk)


def _has_ended(team: Team) -> bool:
    return team.season_ends is not None and team.season_ends < timezone.localdate()
