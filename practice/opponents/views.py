"""Opponents: the list, one of them, and what was seen of it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from practice.access import coached_opponent_for, observation_for, opponent_for
from practice.models import Observation, Opponent
from practice.opponents.answers import answers
from practice.opponents.forms import ObservationForm, OpponentForm
from practice.opponents.meeting import rename_games
from practice.opponents.page import opponent_lines, situation_parts
from practice.opponents.shares import logged_days, tendencies_of
from roster.access import coached_team_for, may_coach, team_for
from shared.access import user_of
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change
from shared.speech import language_now

SECTION = "practices"


@require_safe
def opponents(request: HttpRequest, pk: int) -> HttpResponse:
    """The team's opponents, one line each, those that come next first."""
    user = user_of(request)
    team = team_for(user, pk)
    context = {
        "team": team,
        "section": SECTION,
        "may_coach": may_coach(user, team),
        "lines": opponent_lines(team, timezone.localdate(), language_now()),
    }
    return page(request, "practice/opponents.html", context)


@require_safe
def opponent(request: HttpRequest, pk: int) -> HttpResponse:
    """What is known of an opponent, the games against it, and what was noted when."""
    user = user_of(request)
    found = opponent_for(user, pk)
    speech, seen = language_now(), tendencies_of(found)
    context = {
        "team": found.team,
        "section": SECTION,
        "may_coach": may_coach(user, found.team),
        "opponent": found,
        "parts": situation_parts(seen, speech),
        "answers": answers(found.team, seen.overall, speech),
        "observations": found.observations.all(),
        "logged": logged_days(found),
        "games": found.games.order_by("-date", "-start"),
    }
    return page(request, "practice/opponent.html", context)


@require_http_methods(["GET", "POST"])
@once
def new_opponent(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    return _opponent_form(request, user, Opponent(team=coached_team_for(user, pk)))


@require_http_methods(["GET", "POST"])
@once
def edit_opponent(request: HttpRequest, pk: int) -> HttpResponse:
    """Change an opponent, or delete it with what was seen of it; games keep its name."""
    user = user_of(request)
    found = coached_opponent_for(user, pk)
    if "delete" in request.POST:
        note_change(user, "deleted opponent", found, team=found.team_id)
        found.delete()
        messages.success(request, _("%(name)s is deleted.") % {"name": found.name})
        return redirect("opponents", found.team_id)
    return _opponent_form(request, user, found)


@require_http_methods(["GET", "POST"])
@once
def new_observation(request: HttpRequest, pk: int) -> HttpResponse:
    """Note what an opponent did on a day."""
    user = user_of(request)
    found = Observation(opponent=opponent_for(user, pk), day=timezone.localdate())
    return _observation_form(request, user, found)


@require_http_methods(["GET", "POST"])
@once
def edit_observation(request: HttpRequest, pk: int) -> HttpResponse:
    """Correct what was noted, or take it out."""
    user = user_of(request)
    found = observation_for(user, pk)
    if "delete" in request.POST:
        _note_seen(user, "took out what was seen", found, before=found.total)
        found.delete()
        return redirect("opponent", found.opponent_id)
    return _observation_form(request, user, found)


def _opponent_form(request: HttpRequest, user: User, found: Opponent) -> HttpResponse:
    team, is_new, before = found.team, found.pk is None, found.name
    form = OpponentForm(request.POST or None, instance=found, team=team)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        if saved.name != before and not is_new:
            rename_games(saved)
        note_change(user, "saved opponent", saved, team=team.pk, before=before)
        return redirect("opponent", saved.pk)
    context = {"form": form, "team": team, "section": SECTION, "is_new": is_new}
    return page(request, "practice/opponent_form.html", context, status=status_of(form))


def _observation_form(request: HttpRequest, user: User, found: Observation) -> HttpResponse:
    other, is_new = found.opponent, found.pk is None
    form = ObservationForm(request.POST or None, instance=found, opponent=other)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        _note_seen(user, "noted what was seen", saved, after=saved.total)
        return redirect("opponent", other.pk)
    context = {
        "form": form,
        "team": other.team,
        "section": SECTION,
        "opponent": other,
        "is_new": is_new,
    }
    return page(request, "practice/observation_form.html", context, status=status_of(form))


def _note_seen(user: User, verb: str, row: Observation, **counts: int) -> None:
    note_change(user, verb, row.opponent, team=row.opponent.team_id, **counts)
