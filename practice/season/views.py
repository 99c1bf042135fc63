"""A season's end: the next one begun from it, put away for reading, or deleted."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from practice.season.copies import begin_season
from practice.season.ends import bring_back, put_away, rows_of, take_away
from practice.season.forms import DeleteTeamForm, NextSeasonForm
from roster.access import led_team_for
from shared.access import user_of
from shared.once import once
from shared.pages import page, status_of
from shared.sure import asks_password


@require_safe
def season(request: HttpRequest, pk: int) -> HttpResponse:
    """What can be done with a season that ends."""
    team = led_team_for(user_of(request), pk)
    return page(request, "practice/season.html", {"team": team, "section": "team"})


@require_http_methods(["GET", "POST"])
@once
def next_season(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin the next season with who and what goes on."""
    user = user_of(request)
    old = led_team_for(user, pk)
    form = NextSeasonForm(request.POST or None, old=old)
    if request.method == "POST" and form.is_valid():
        new = begin_season(old, form.team(), form.along(), user)
        if form.cleaned_data["put_away"]:
            put_away(old, user)
        messages.success(request, _("%(team)s has begun.") % {"team": new})
        return redirect("team", new.pk)
    context = {"form": form, "team": old, "section": "team"}
    return page(request, "practice/next_season.html", context, status=status_of(form))


@require_POST
def put_season_away(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = led_team_for(user, pk)
    put_away(team, user)
    messages.success(request, _("%(team)s is put away.") % {"team": team})
    return redirect("season", pk)


@require_POST
def bring_season_back(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = led_team_for(user, pk)
    bring_back(team, user)
    messages.success(request, _("%(team)s can be changed again.") % {"team": team})
    return redirect("season", pk)


@asks_password("POST")
@require_http_methods(["GET", "POST"])
@once
def delete_team(request: HttpRequest, pk: int) -> HttpResponse:
    """Delete a team with all that it holds, once its name is typed."""
    user = user_of(request)
    team = led_team_for(user, pk)
    form = DeleteTeamForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        name = str(team)
        take_away(team, user)
        messages.success(request, _("%(team)s is deleted.") % {"team": name})
        return redirect("home")
    context = {"form": form, "team": team, "section": "team", "rows": rows_of(team)}
    return page(request, "practice/delete_team.html", context, status=status_of(form))
