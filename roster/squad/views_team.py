"""Teams: making one, who belongs to it, its settings."""

from __future__ import annotations

from typing import TypedDict

from django.contrib import messages
from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from roster.access import coached_team_for
from roster.models import Duty, Player, Staff, Team, Unit
from roster.squad.forms import TeamForm
from shared.access import require, user_of
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change


@require_http_methods(["GET", "POST"])
@once
def new_team(request: HttpRequest) -> HttpResponse:
    """Make a team; who makes it is its head coach."""
    user = user_of(request)
    require(user.runs_club)
    form = TeamForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            team = form.save()
            Staff.objects.create(team=team, user=user, duty=Duty.HEAD)
            note_change(user, "made team", team, team=team.pk)
        return redirect("roster", team.pk)
    return page(request, "roster/team_form.html", {"form": form}, status=status_of(form))


class TeamFacts(TypedDict):
    squad: list[Player]
    carried: int
    staff: QuerySet[Staff]
    units: QuerySet[Unit]


def team_facts(team: Team) -> TeamFacts:
    """Who belongs to a team and how much it carries."""
    return {
        "squad": list(team.players.present()),
        "carried": team.package.carried().count(),
        "staff": team.staff_places.select_related("user"),
        "units": team.units.prefetch_related("members"),
    }


@require_http_methods(["GET", "POST"])
@once
def edit_team(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    found = coached_team_for(user, pk)
    form = TeamForm(request.POST or None, instance=found)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            form.save()
            note_change(user, "changed team", found, team=found.pk, after=form.changed_data)
        messages.success(request, _("Saved."))
        return redirect("team", found.pk)
    context = {"form": form, "team": found, "section": "team"}
    return page(request, "roster/team_form.html", context, status=status_of(form))
