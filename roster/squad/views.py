"""The roster: the squad at a glance, one player, availability, leaving."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from roster.access import coached_player_for, coached_team_for, may_coach, player_for, team_for
from roster.models import Availability, Player, Team
from roster.squad.forms import RATING_LABELS, PlayerForm, UnitForm
from roster.squad.leaving import leave
from roster.squad.records import follow_name
from shared.access import user_of
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change


@require_safe
def roster(request: HttpRequest, pk: int) -> HttpResponse:
    """The squad, one line each."""
    user = user_of(request)
    team = team_for(user, pk)
    players = list(team.players.present())
    rated = any(player.is_rated for player in players)
    context = {
        "team": team,
        "section": "roster",
        "players": players,
        "may_coach": may_coach(user, team),
        "availabilities": Availability.choices,
        "rating_labels": RATING_LABELS.items() if rated else (),
    }
    return page(request, "roster/roster.html", context)


@require_http_methods(["GET", "POST"])
@once
def new_player(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    return _player_form(request, user, coached_team_for(user, pk), None)


@require_http_methods(["GET", "POST"])
@once
def edit_player(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    player = coached_player_for(user, pk)
    return _player_form(request, user, player.team, player)


def _player_form(
    request: HttpRequest, user: User, team: Team, player: Player | None
) -> HttpResponse:
    called = player.call_name if player else None
    form = PlayerForm(request.POST or None, instance=player, team=team)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            saved = form.save()
            if called:
                follow_name(saved, called)
            verb = "saved player" if called else "added player"
            note_change(user, verb, saved, team=team.pk, after=form.changed_data)
        messages.success(request, _("%(name)s is saved.") % {"name": saved.name})
        return redirect("roster", team.pk)
    context = {"form": form, "team": team, "section": "roster", "player": player}
    return page(request, "roster/player_form.html", context, status=status_of(form))


@require_POST
def set_availability(request: HttpRequest, pk: int) -> HttpResponse:
    """Available, limited, or out until cleared. Any coach of the team may say so."""
    user = user_of(request)
    player = player_for(user, pk)
    wanted = request.POST.get("availability", "")
    if wanted in Availability.values and wanted != player.availability:
        with transaction.atomic():
            note_change(
                user,
                "set availability",
                player,
                team=player.team_id,
                before=player.availability,
                after=wanted,
            )
            player.availability = wanted
            player.save(update_fields=["availability"])
        words = {"name": str(player), "state": player.get_availability_display()}
        messages.success(request, _("%(name)s: %(state)s.") % words)
    return redirect("roster", player.team_id)


@require_http_methods(["GET", "POST"])
def leave_team(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a player off the squad. What they did stays; their places in the cast fall open."""
    user = user_of(request)
    player = coached_player_for(user, pk)
    if request.method == "POST":
        leave(player, user)
        messages.success(request, _("%(name)s has left the team.") % {"name": str(player)})
        return redirect("roster", player.team_id)
    context = {"player": player, "team": player.team, "section": "roster"}
    return page(request, "roster/leave_team.html", context)


@require_http_methods(["GET", "POST"])
@once
def edit_unit(request: HttpRequest, pk: int, unit: int | None = None) -> HttpResponse:
    """Make or change a unit, or dissolve it."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    found = get_object_or_404(team.units, pk=unit) if unit else None
    if found and request.method == "POST" and "dissolve" in request.POST:
        note_change(user, "dissolved unit", found, team=team.pk)
        found.delete()
        return redirect("team", team.pk)
    form = UnitForm(request.POST or None, instance=found, team=team)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            saved = form.save()
            note_change(user, "saved unit", saved, team=team.pk)
        return redirect("team", team.pk)
    context = {"form": form, "team": team, "section": "team", "unit": found}
    return page(request, "roster/unit_form.html", context, status=status_of(form))
