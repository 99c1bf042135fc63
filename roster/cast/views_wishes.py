"""What a coach wants of the cast: locks and bans, expected minutes, who is kept apart."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from roster.access import coached_team_for
from roster.cast.loaded import team_cast
from roster.cast.proposals import conflict_among_locks, question_for
from roster.cast.wishes_form import ApartForm, BanForm, LockForm, MinutesForm
from roster.models import CastBan, CastLock, KeptApart, Team
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change


@require_http_methods(["GET", "POST"])
@once
def cast_wishes(request: HttpRequest, pk: int) -> HttpResponse:
    """Locks and bans; where locks contradict, the smallest set that cannot hold is named."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    if "remove-lock" in request.POST or "remove-ban" in request.POST:
        return _remove(request, user, team)
    sent = request.POST.get("kind", "")
    forms = {
        "lock": LockForm(request.POST if sent == "lock" else None, team=team),
        "ban": BanForm(request.POST if sent == "ban" else None, team=team),
    }
    form = forms.get(sent)
    if form is not None and form.is_valid():
        with transaction.atomic():
            verb = "made lock" if sent == "lock" else "made ban"
            note_change(user, verb, form.save(), team=team.pk)
        return redirect("cast-wishes", team.pk)
    known = team_cast(team)
    context = {
        "team": team,
        "section": "cast",
        "lock_form": forms["lock"],
        "ban_form": forms["ban"],
        "locks": _locks(team),
        "bans": CastBan.objects.filter(player__team=team).select_related("player", "entry__play"),
        "conflict": conflict_among_locks(question_for(known, 3), known),
    }
    status = 200 if form is None else status_of(form)
    return page(request, "roster/cast_wishes.html", context, status=status)


def _locks(team: Team) -> list[CastLock]:
    rows = CastLock.objects.filter(entry__team=team, entry__dropped_on=None)
    return list(rows.select_related("player", "entry__play"))


def _remove(request: HttpRequest, user: User, team: Team) -> HttpResponse:
    lock, ban = (request.POST.get(name, "") for name in ("remove-lock", "remove-ban"))
    gone: CastLock | CastBan
    if lock:
        gone = get_object_or_404(CastLock, pk=_number(lock), entry__team=team)
    else:
        gone = get_object_or_404(CastBan, pk=_number(ban), player__team=team)
    with transaction.atomic():
        note_change(user, "lifted", gone, team=team.pk)
        gone.delete()
    return redirect("cast-wishes", team.pk)


@require_http_methods(["GET", "POST"])
@once
def team_minutes(request: HttpRequest, pk: int) -> HttpResponse:
    """Expected minutes of everybody, and the pairs that never play together."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    if "remove-apart" in request.POST:
        return _part_no_more(request, user, team)
    sent = request.POST.get("kind", "")
    rows = team.players.present()
    squad = list(rows.select_for_update() if sent == "minutes" else rows)
    minutes = MinutesForm(request.POST if sent == "minutes" else None, squad=squad)
    apart = ApartForm(request.POST if sent == "apart" else None, team=team)
    if sent == "minutes" and minutes.is_valid():
        with transaction.atomic():
            names = [str(player) for player in minutes.save()]
            note_change(user, "set minutes", team, team=team.pk, after=names)
        messages.success(request, _("The minutes are saved."))
        return redirect("team-minutes", team.pk)
    if sent == "apart" and apart.is_valid():
        with transaction.atomic():
            note_change(user, "keeps apart", apart.save(), team=team.pk)
        return redirect("team-minutes", team.pk)
    context = {
        "team": team,
        "section": "cast",
        "form": minutes,
        "apart_form": apart,
        "pairs": team.kept_apart.select_related("one", "other"),
        "total": sum(player.expected_minutes or 0 for player in squad),
    }
    status = max(status_of(minutes), status_of(apart))
    return page(request, "roster/team_minutes.html", context, status=status)


def _part_no_more(request: HttpRequest, user: User, team: Team) -> HttpResponse:
    wanted = _number(request.POST["remove-apart"])
    gone = get_object_or_404(KeptApart, pk=wanted, team=team)
    with transaction.atomic():
        note_change(user, "no longer keeps apart", gone, team=team.pk)
        gone.delete()
    return redirect("team-minutes", team.pk)


def _number(text: str) -> int:
    return whole_number(text) or 0
