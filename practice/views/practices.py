"""Practices and games of a team, and the plan of one practice."""

from __future__ import annotations

from django.contrib import messages
from django.db.models import Count, Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from practice.access import planned_practice_for
from practice.forms import GameForm, PracticeForm
from practice.models import Practice
from roster.access import coached_team_for, may_coach, team_for
from shared.access import user_of
from shared.pages import page, status_of


@require_safe
def practices(request: HttpRequest, pk: int) -> HttpResponse:
    """What is coming, and what was."""
    user = user_of(request)
    team = team_for(user, pk)
    today = timezone.localdate()
    rows = team.practices.annotate(
        planned=Sum("blocks__minutes"), reps_logged=Count("reps", distinct=True)
    )
    context = {
        "team": team,
        "section": "practices",
        "may_coach": may_coach(user, team),
        "coming": rows.filter(date__gte=today),
        "past": rows.filter(date__lt=today).order_by("-date", "-start"),
        "games": team.games.filter(date__gte=today),
    }
    return page(request, "practice/practices.html", context)


@require_http_methods(["GET", "POST"])
def new_practice(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = PracticeForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        practice = form.save()
        return redirect("practice", practice.pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/practice_form.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
def edit_practice(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    practice = planned_practice_for(user, pk)
    form = PracticeForm(request.POST or None, instance=practice, team=practice.team)
    if request.method == "POST" and form.is_valid():
        form.save()
        return redirect("practice", practice.pk)
    context = {
        "form": form,
        "team": practice.team,
        "section": "practices",
        "practice": Practice.objects.get(pk=pk),
    }
    return page(request, "practice/practice_form.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
def new_game(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = GameForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("The game is entered."))
        return redirect("practices", team.pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/game_form.html", context, status=status_of(form))
