"""How fast a team is: what it has measured itself, in place of the age group's table."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from roster.access import coached_team_for
from roster.models import Player, Team
from roster.squad.pace_form import PaceForm
from shared.access import user_of
from shared.models import User
from shared.once import atomic_post
from shared.pages import page, status_of
from shared.record import note_change


@require_http_methods(["GET", "POST"])
@atomic_post
def team_pace(request: HttpRequest, pk: int) -> HttpResponse:
    """The team's times and constants, and those of its players, on one page."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    sent, squad = None, team.players.present()
    if request.method == "POST":
        sent, squad = request.POST, squad.select_for_update()
        team = Team.objects.select_for_update().get(pk=team.pk)
    form = PaceForm(sent, team=team, squad=squad)
    if request.method == "POST" and form.is_valid():
        save_pace(team, form, user)
        messages.success(request, _("Saved. Checks for this team now use these numbers."))
        return redirect("team-pace", team.pk)
    context = {"form": form, "team": team, "section": "team", "pace": form.known.base(form.age)}
    return page(request, "roster/pace.html", context, status=status_of(form))


def save_pace(team: Team, form: PaceForm, user: User) -> None:
    """Write down the team's numbers and its players' times, with what they were before."""
    before, team.pace = team.pace, form.pace().to_json()
    team.save(update_fields=["pace"])
    changed = form.changed_players()
    Player.objects.bulk_update(changed, ["sprint_10", "sprint_20", "sprint_gate"])
    after = {"team": team.pace, "players": [player.pk for player in changed]}
    note_change(user, "changed pace", team, team=team.pk, before=before, after=after)
