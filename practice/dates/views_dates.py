"""Practices and games of a team: what is coming, what was, and their dates."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.db.models import Count, OuterRef, Subquery, Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from practice.access import planned_game_for, planned_practice_for
from practice.dates.forms import GameForm, PracticeForm
from practice.dates.removal import is_unplayed, is_untouched, take_game_out, take_out
from practice.dates.series import save_change, touch
from practice.models import Game, Practice
from practice.models import Rep as RepRow
from practice.opponents.meeting import meet
from practice.reps.store import open_held
from practice.reps.sums import remake_games
from practice.verbs import TOOK_BACK
from roster.access import coached_team_for, may_coach, team_for
from roster.models import Team
from shared.access import user_of
from shared.models import Change, User
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change


def _counted_reps() -> Subquery:
    reps = RepRow.objects.counted().filter(practice=OuterRef("pk")).order_by()
    return Subquery(reps.values("practice").annotate(n=Count("pk")).values("n"))


def _taken_back(team: Team) -> list[Change]:
    """Who took reps back, and when: the last ones first."""
    rows = Change.objects.filter(team=team.pk, verb=TOOK_BACK).select_related("user")
    return list(rows[:20])


def _note(user: User, verb: str, row: Practice | Game, before: str) -> None:
    note_change(user, verb, row, team=row.team_id, before=before)


@require_safe
def practices(request: HttpRequest, pk: int) -> HttpResponse:
    """What is coming, and what was."""
    user = user_of(request)
    team = team_for(user, pk)
    today = timezone.localdate()
    rows = team.practices.annotate(planned=Sum("blocks__minutes"), reps_logged=_counted_reps())
    context = {
        "team": team,
        "section": "practices",
        "may_coach": may_coach(user, team),
        "coming": rows.filter(date__gte=today),
        "past": rows.filter(date__lt=today).order_by("-date", "-start"),
        "games": team.games.filter(date__gte=today),
        "played": team.games.filter(date__lt=today, cancelled=False).order_by("-date", "-start"),
        "held": open_held(team),
        "taken_back": _taken_back(team) if may_coach(user, team) else (),
    }
    return page(request, "practice/practices.html", context)


@require_http_methods(["GET", "POST"])
@once
def new_practice(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = PracticeForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            practice = form.save()
            note_change(user, "added practice", practice, team=team.pk)
        return redirect("practice", practice.pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/practice_form.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
@once
def edit_practice(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    practice = planned_practice_for(user, pk)
    if request.method == "POST" and "delete" in request.POST:
        return _take_practice_out(request, user, practice)
    form = PracticeForm(request.POST or None, instance=practice, team=practice.team)
    before = Practice.objects.get(pk=pk)
    if request.method == "POST" and form.is_valid():
        following = bool(form.cleaned_data.get("following"))
        try:
            with transaction.atomic():
                n = save_change(form.instance, before, following=following)
                _note(user, "changed practice", form.instance, str(before))
        except IntegrityError:
            form.add_error("date", _("One of the practices would fall on another one."))
        except ValidationError as error:
            form.add_error("date", error)
        else:
            said = ngettext("%(n)d practice is changed.", "%(n)d practices are changed.", n)
            messages.success(request, said % {"n": n})
            return redirect("practice", practice.pk)
    context = {
        "form": form,
        "team": practice.team,
        "section": "practices",
        "practice": before,
        "may_go": is_untouched(before),
    }
    return page(request, "practice/practice_form.html", context, status=status_of(form))


def _take_practice_out(request: HttpRequest, user: User, practice: Practice) -> HttpResponse:
    with transaction.atomic():
        n = take_out(practice, following=request.POST["delete"] == "following")
        if n:
            note_change(user, "deleted practice", practice, team=practice.team_id, after=n)
    if not n:
        messages.error(request, _("Something was noted in it: it can only be cancelled."))
        return redirect("edit-practice", practice.pk)
    said = ngettext("%(n)d practice is deleted.", "%(n)d practices are deleted.", n)
    messages.success(request, said % {"n": n})
    return redirect("practices", practice.team_id)


@require_http_methods(["GET", "POST"])
@once
def new_game(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = GameForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            meet(form.instance)
            note_change(user, "added game", form.save(), team=team.pk)
        messages.success(request, _("The game is entered."))
        return redirect("practices", team.pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/game_form.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
@once
def edit_game(request: HttpRequest, pk: int) -> HttpResponse:
    """Move a game, name its opponent, mark it cancelled, or take out what was never played."""
    user = user_of(request)
    game = planned_game_for(user, pk)
    before = str(game)
    if request.method == "POST" and "delete" in request.POST:
        return _take_game_out(request, user, game)
    form = GameForm(request.POST or None, instance=game, team=game.team)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            meet(form.instance)
            touch(form.instance)
            remake_games([game.pk])  # what was called in it counts on the day of the game
            _note(user, "changed game", form.instance, before)
        return redirect("calendar", game.team_id)
    context = {
        "form": form,
        "team": game.team,
        "section": "practices",
        "may_go": is_unplayed(game),
    }
    return page(request, "practice/game_form.html", context, status=status_of(form))


def _take_game_out(request: HttpRequest, user: User, game: Game) -> HttpResponse:
    with transaction.atomic():
        gone = take_game_out(game)
        if gone:
            note_change(user, "deleted game", game, team=game.team_id)
    if not gone:
        messages.error(request, _("Something was noted in it: it can only be cancelled."))
        return redirect("edit-game", game.pk)
    messages.success(request, _("The game is deleted."))
    return redirect("practices", game.team_id)
