"""One player in the cast: every role across the package, and the load against the others."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from roster.access import may_coach, player_for
from roster.cast.loaded import team_cast
from roster.cast.person import PersonPage
from shared.access import user_of
from shared.pages import page


@require_safe
def player_cast(request: HttpRequest, pk: int) -> HttpResponse:
    """All roles of one player. Somebody who has left the team has none to show."""
    user = user_of(request)
    player = player_for(user, pk)
    known = team_cast(player.team)
    if player.pk not in known.players:
        raise Http404
    context = {
        "team": player.team,
        "section": "cast",
        "player": player,
        "person": PersonPage(known, player),
        "may_coach": may_coach(user, player.team),
    }
    return page(request, "roster/player_cast.html", context)
