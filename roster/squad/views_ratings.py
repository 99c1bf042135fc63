"""All ratings of a team on one page."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from roster.access import coached_team_for
from roster.squad.forms import RATING_LABELS
from roster.squad.ratings import RatingsForm
from shared.access import user_of
from shared.once import atomic_post
from shared.pages import page, status_of
from shared.record import note_change


@require_http_methods(["GET", "POST"])
@atomic_post
def team_ratings(request: HttpRequest, pk: int) -> HttpResponse:
    """Rate everybody, digit by digit."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    rows = team.players.present()
    squad = list(rows.select_for_update() if request.method == "POST" else rows)
    form = RatingsForm(request.POST or None, squad=squad)
    if request.method == "POST" and form.is_valid():
        changed = [str(player) for player in form.save()]
        if changed:
            note_change(user, "rated players", team, team=team.pk, after=changed)
        messages.success(request, _("The ratings are saved."))
        return redirect("roster", team.pk)
    context = {
        "team": team,
        "section": "roster",
        "form": form,
        "qualities": RATING_LABELS.values(),
    }
    return page(request, "roster/ratings.html", context, status=status_of(form))
