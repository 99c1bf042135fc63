"""One player moved to another team of the club, and back."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from practice.season.move_form import MovePlayerForm, teams_to_move_to
from practice.season.moves import MoveStandsError, move_of, move_player, take_back
from roster.access import coached_player_for, led_player_for, may_coach
from roster.models import Player
from shared.access import require, user_of
from shared.once import once
from shared.pages import page, status_of


@require_http_methods(["GET", "POST"])
@once
def move(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask to which team, say what happens, and do it."""
    user = user_of(request)
    player = led_player_for(user, pk)
    if player.left_on is not None:  # their row stays where it is
        messages.error(request, _("%(name)s has left the team.") % {"name": player})
        return redirect("roster", player.team_id)
    may_leave = may_coach(user, player.team)
    teams = teams_to_move_to(user, player)
    form = MovePlayerForm(
        request.POST or None,
        player=player,
        teams=teams,
        may_leave=may_leave,
        instance=Player(name=player.name),
    )
    if request.method == "POST" and form.is_valid():
        team, stays = form.cleaned_data["team"], form.cleaned_data["stays"]
        with transaction.atomic():
            made = move_player(player, team, form.cleaned_data["number"], user, stays=stays)
        messages.success(request, _("%(name)s plays for %(team)s.") % {"name": made, "team": team})
        return redirect("move-player", made.pk)
    context = {
        "form": form,
        "teams": teams,
        "player": player,
        "team": player.team,
        "section": "roster",
        "came": move_of(player),
        "may_leave": may_leave,
    }
    return page(request, "practice/move_player.html", context, status=status_of(form))


@require_POST
@once
def undo_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a move back, while nothing hangs on it yet."""
    user = user_of(request)
    player = coached_player_for(user, pk)
    came = move_of(player)
    if came is None:
        raise Http404
    require(may_coach(user, came.was.team) or not came.left)
    try:
        was = take_back(player, came, user)
    except MoveStandsError as error:
        messages.error(request, str(error))
        return redirect("move-player", pk)
    words = {"name": was, "team": was.team}
    messages.success(request, _("The move is taken back: %(name)s plays for %(team)s.") % words)
    return redirect("roster", was.team_id)
