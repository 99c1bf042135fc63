"""At the court: who is here, and the plan as it runs."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from practice.access import practice_for
from practice.models import Attendance, Practice, Presence
from practice.plan.forms import AttendanceForm
from practice.presence import away_from
from shared.access import user_of
from shared.once import once
from shared.pages import page, status_of


@require_http_methods(["GET", "POST"])
@once
def attendance(request: HttpRequest, pk: int) -> HttpResponse:
    """Who is here. Everybody counts as present until marked otherwise."""
    practice = practice_for(user_of(request), pk)
    sent = request.POST if request.method == "POST" else None
    if sent is not None:
        Practice.objects.select_for_update().get(pk=practice.pk)  # of two, one after the other
    away = dict.fromkeys(away_from(practice), Presence.ABSENT.value)
    marked = away | dict(practice.attendance.values_list("player_id", "presence"))
    form = AttendanceForm(sent, players=list(practice.team.players.present()), marked=marked)
    if sent is not None and form.is_valid():
        for player, presence in form.presences().items():
            Attendance.objects.update_or_create(
                practice=practice, player=player, defaults={"presence": presence}
            )
        messages.success(request, _("Attendance is saved."))
        return redirect("practice", practice.pk)
    context = {
        "team": practice.team,
        "section": "practices",
        "practice": practice,
        "form": form,
    }
    return page(request, "practice/attendance.html", context, status=status_of(form))
