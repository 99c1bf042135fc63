"""The staff of one team, for its head coach: who is who, and who goes."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from coachbook.accounts import staff as changes
from coachbook.accounts.forms import DutyForm
from roster.access import coached_team_for
from roster.models import Staff, Team
from shared.access import one_of, require, user_of
from shared.models import User
from shared.pages import page
from shared.sure import asks_password


@require_safe
def team_staff(request: HttpRequest, pk: int) -> HttpResponse:
    """Everybody with a place in the team."""
    host = user_of(request)
    team = coached_team_for(host, pk)
    places = team.staff_places.select_related("user").order_by("-duty", "user__name")
    rows = [
        (place, DutyForm.for_place(place) if changes.may_change(host, place) else None)
        for place in places
    ]
    context = {"team": team, "section": "team", "rows": rows}
    return page(request, "coachbook/team_staff.html", context)


@asks_password("POST")
@require_POST
def change_duty(request: HttpRequest, pk: int, person: int) -> HttpResponse:
    """Another duty in the same team."""
    host, team, place = _place_for(request, pk, person)
    form = DutyForm(request.POST)
    if form.is_valid():
        changes.give_place(host, place.user, team, form.cleaned_data["duty"])
        messages.success(request, _("Saved."))
    else:
        messages.error(request, _("Choose a duty."))
    return redirect("team-staff", team.pk)


@asks_password("POST")
@require_http_methods(["GET", "POST"])
def leave(request: HttpRequest, pk: int, person: int) -> HttpResponse:
    """Ask once, then take somebody out of the team."""
    host, team, place = _place_for(request, pk, person)
    if request.method == "POST":
        changes.end_place(host, place)
        told = _("%(name)s is no longer on the staff of %(team)s.")
        messages.success(request, told % {"name": place.user, "team": team})
        return redirect("team-staff", team.pk)
    return page(request, "coachbook/leave_staff.html", {"team": team, "place": place})


def _place_for(request: HttpRequest, pk: int, person: int) -> tuple[User, Team, Staff]:
    """Who asks, the team, and the place that they may change. Raises Http404, PermissionDenied."""
    host = user_of(request)
    team = coached_team_for(host, pk)
    place = one_of(team.staff_places.select_related("user", "team"), user=person)
    require(changes.may_change(host, place))
    return host, team, place
