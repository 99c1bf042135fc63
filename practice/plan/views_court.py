"""At the court: who is here, and the plan as it runs."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from practice.access import practice_for
from practice.models import Attendance, Practice, Presence
from practice.presence import away_from
from roster.models import Player
from shared.access import user_of
from shared.once import once
from shared.pages import page


@require_http_methods(["GET", "POST"])
@once
def attendance(request: HttpRequest, pk: int) -> HttpResponse:
    """Who is here. Everybody counts as present until marked otherwise."""
    practice = practice_for(user_of(request), pk)
    players = list(practice.team.players.present())
    if request.method == "POST":
        _save_attendance(practice, players, request.POST.dict())
        messages.success(request, _("Attendance is saved."))
        return redirect("practice", practice.pk)
    away = dict.fromkeys(away_from(practice), Presence.ABSENT.value)
    marked = away | dict(practice.attendance.values_list("player_id", "presence"))
    context = {
        "team": practice.team,
        "section": "practices",
        "practice": practice,
        "lines": [(p, marked.get(p.pk, Presence.PRESENT.value)) for p in players],
        "presences": Presence.choices,
    }
    return page(request, "practice/attendance.html", context)


@transaction.atomic
def _save_attendance(practice: Practice, players: list[Player], data: dict[str, str]) -> None:
    for player in players:
        presence = data.get(f"presence-{player.pk}", Presence.PRESENT.value)
        if presence in Presence.values:
            Attendance.objects.update_or_create(
                practice=practice, player=player, defaults={"presence": presence}
            )
