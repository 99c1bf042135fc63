"""Film of a carried play, and of one possession: links that the team's staff keeps for itself."""

from __future__ import annotations

import uuid

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from practice.access import entry_for, game_for
from practice.film.forms import FilmForm
from practice.models import CalledPlay, FilmLink
from roster.models import PackagePlay
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change

MOST = 50  # links of one play: more nobody looks at


@require_http_methods(["GET", "POST"])
@once
def films(request: HttpRequest, pk: int) -> HttpResponse:
    """The film of a play that the team carries, its possessions' too."""
    return _films(request, entry_for(user_of(request), pk), None)


@require_http_methods(["GET", "POST"])
@once
def called_films(request: HttpRequest, pk: int, called: uuid.UUID) -> HttpResponse:
    """The film of one possession of a game."""
    game = game_for(user_of(request), pk)
    rows = CalledPlay.objects.counted().filter(game=game)
    row = get_object_or_404(rows.select_related("entry__play", "entry__team", "game"), pk=called)
    return _films(request, row.entry, row)


def _films(request: HttpRequest, entry: PackagePlay, called: CalledPlay | None) -> HttpResponse:
    user = user_of(request)
    shown = FilmLink.objects.filter(entry=entry).select_related("called__game")
    if called is not None:
        shown = shown.filter(called=called)
    form = FilmForm(request.POST or None)
    if request.method == "POST" and "remove" in request.POST:
        _remove(entry, whole_number(request.POST["remove"]), user)
        return redirect(request.path)
    if request.method == "POST" and form.is_valid():
        if _add(entry, called, form, user):
            return redirect(request.path)
        form.add_error("address", _("That is enough for one play: take one out first."))
    context = {
        "team": entry.team,
        "section": "practices" if called else "package",
        "entry": entry,
        "called": called,
        "films": list(shown),
        "form": form,
    }
    return page(request, "practice/films.html", context, status=status_of(form))


@transaction.atomic
def _add(entry: PackagePlay, called: CalledPlay | None, form: FilmForm, user: User) -> bool:
    """Keep a link, once; False where there are too many."""
    PackagePlay.objects.select_for_update().get(pk=entry.pk)
    if FilmLink.objects.filter(entry=entry).count() >= MOST:
        return False
    facts = form.facts()
    _row, fresh = FilmLink.objects.get_or_create(
        entry=entry, called=called, **facts, defaults={"made_by": user}
    )
    if fresh:
        note_change(user, "noted film", entry, team=entry.team_id)
    return True


@transaction.atomic
def _remove(entry: PackagePlay, number: int | None, user: User) -> None:
    """Take a link out; pressed twice it is out once."""
    gone, _each = FilmLink.objects.filter(entry=entry, pk=number or 0).delete()
    if gone:
        note_change(user, "took out film", entry, team=entry.team_id)
