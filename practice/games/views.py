"""A game: its squad, what was called in it, and the log for it."""

from __future__ import annotations

import uuid
from datetime import datetime

from django.contrib import messages
from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.values import play_value
from practice.access import game_for
from practice.bridge import moment
from practice.games.changes import add_by_hand, put_right, set_squad, take_back
from practice.games.forms import CalledForm, SquadForm
from practice.games.listed import CalledLine, lines_of
from practice.games.page import game_data
from practice.models import CalledPlay, CalledRole, Game
from practice.opponents.answers import answers
from practice.opponents.shares import tendencies_of
from practice.presence import out_by_game
from practice.reps.called import NEAR
from practice.reps.rows import around
from practice.reps.store import open_held
from practice.reps.sums import called_value
from roster.access import may_coach
from roster.cast.changes import package_with_cast
from roster.models import Availability, PackagePlay, Player
from shared.access import user_of
from shared.once import once
from shared.pages import page, status_of
from shared.speech import language_now


@require_http_methods(["GET", "POST"])
@once
def game(request: HttpRequest, pk: int) -> HttpResponse:
    """The game's page: who is in the squad, what was called, and the ways to the court."""
    user = user_of(request)
    row = game_for(user, pk)
    players = list(row.team.players.present())
    out = dict.fromkeys(out_by_game([row])[row.pk], True)
    form = SquadForm(request.POST or None, players=players, out=out)
    if request.method == "POST" and form.is_valid():
        set_squad(row, form.out(), user)
        messages.success(request, _("The squad is saved."))
        return redirect("game", pk)
    speech = language_now()
    cleared = [p for p in players if p.availability != Availability.OUT]
    context = {
        "team": row.team,
        "section": "practices",
        "game": row,
        "form": form,
        "in_squad": sum(not out.get(player.pk, False) for player in cleared),
        "lines": lines_of(row, speech),
        "answers": answers(row.team, tendencies_of(row.met).overall, speech) if row.met else [],
        "held": open_held(row.team),
        "may_coach": may_coach(user, row.team),
        "entries": list(package_with_cast(row.team)),
        "is_over": row.date < timezone.localdate(),
    }
    return page(request, "practice/game.html", context, status=status_of(form))


@require_safe
@ensure_csrf_cookie  # the script sends with it, and there is no form on the page that sets it
def game_log(request: HttpRequest, pk: int) -> HttpResponse:
    """The game log: it works on the phone, and without a signal too."""
    user = user_of(request)
    row = game_for(user, pk)
    context = {"team": row.team, "game": row, "held": open_held(row.team)}
    if row.team.package.all().carried().exists():
        context["data"] = game_data(row, user)
    return page(request, "practice/game_log.html", context)


@require_http_methods(["GET", "POST"])
@once
def new_called(request: HttpRequest, pk: int, entry: int) -> HttpResponse:
    """Enter a possession by hand, for a play that is carried."""
    user = user_of(request)
    row = game_for(user, pk)
    carried = get_object_or_404(package_with_cast(row.team), pk=entry)
    return _edit(request, row, carried, None)


@require_http_methods(["GET", "POST"])
@once
def edit_called(request: HttpRequest, pk: int, called: uuid.UUID) -> HttpResponse:
    """Put a possession right after the game."""
    row = game_for(user_of(request), pk)
    return _edit(request, row, None, _called(row, called))


@require_POST
def take_called_back(request: HttpRequest, pk: int, called: uuid.UUID) -> HttpResponse:
    """Take a possession back; it stays on record and out of every count."""
    user = user_of(request)
    row = game_for(user, pk)
    take_back(get_object_or_404(row.called, pk=called), user)
    messages.success(request, _("The possession is taken back; it does not count."))
    return redirect("game", pk)


def _called(game: Game, key: uuid.UUID) -> CalledPlay:
    people = Prefetch("roles", CalledRole.objects.select_related("player"))
    rows = CalledPlay.objects.counted().filter(game=game).prefetch_related(people)
    rows = rows.select_related("game__team", "entry__play", "revision")
    return get_object_or_404(rows.defer("revision__document", "entry__play__search"), pk=key)


def _when(game: Game) -> datetime:
    """When a possession that is entered by hand was: now, or in the game that has been."""
    begins = moment(game.date, game.start)
    return begins if begins + NEAR < timezone.now() else timezone.now()


def _five(row: CalledPlay) -> dict[str, int]:
    return {each.role: each.player_id for each in row.roles.all()}


def _squad(game: Game, row: CalledPlay | None) -> list[Player]:
    """Who may have been on the floor: the team, and who was there and has left it since."""
    squad = list(game.team.players.present())
    played = [] if row is None else [r.player for r in row.roles.all()]
    return squad + [who for who in played if who not in squad]


def _edit(
    request: HttpRequest, game: Game, carried: PackagePlay | None, row: CalledPlay | None
) -> HttpResponse:
    user, speech = user_of(request), language_now()
    was = None if row is None else called_value(row, _five(row))
    entry = carried if row is None else row.entry
    assert entry is not None
    play = play_value(entry.revision if row is None else row.revision)
    form = CalledForm(request.POST or None, play=play, squad=_squad(game, row), was=was)
    if request.method == "POST" and form.is_valid():
        now = form.value(game, entry, _when(game), was)
        where = around(game.team, [now])
        form.show(where.against(now, speech), was)
        if not form.errors:
            told = CalledLine.of(now, play, speech).told
            if row is None or was is None:
                add_by_hand(now, where, user)
                said = _("The possession counts now.")
            else:
                put_right(row, now, CalledLine.of(was, play, speech).told, told, user)
                said = _("The possession is changed.")
            messages.success(request, said)
            return redirect("game", game.pk)
    shown = {"game": game, "row": row, "entry": entry, "form": form}
    context = {"team": game.team, "section": "practices", **shown}
    return page(request, "practice/called_form.html", context, status=status_of(form))
