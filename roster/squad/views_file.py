"""The roster as a file: bringing one in with a preview, and saving it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from roster.access import coached_team_for, team_for
from roster.bridge import file_row
from roster.core.file.cells import COLUMNS
from roster.core.file.roster import write_roster
from roster.squad.bring_in import RosterPreview, bring_in, preview_of_file, preview_of_form
from shared.access import user_of
from shared.once import once
from shared.pages import page
from shared.speech import language_now
from shared.uploads import uploaded


@require_http_methods(["GET", "POST"])
@once
def import_roster(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask for a file, show its preview, and bring it in once every fault is settled."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    context = {"team": team, "section": "roster", "columns": COLUMNS}
    if request.method == "GET":
        return page(request, "roster/import.html", context)
    speech = language_now()
    if "file" in request.FILES or "previewed" not in request.POST:
        too_large = _(
            "This file is larger than 1 MB; a roster is far smaller. Is it the right one?"
        )
        fault, data = uploaded(request, too_large)
        if fault:
            return page(request, "roster/import.html", {**context, "fault": fault}, status=422)
        preview = preview_of_file(data, team, speech)
    else:
        preview = preview_of_form(request.POST.dict(), team, speech)
        if preview.is_settled and "bring" in request.POST:
            return _bring_in(request, preview, pk)
    status = 200 if preview.is_settled else 422
    return page(
        request,
        "roster/import.html",
        {**context, "preview": preview, "shown": preview.columns},
        status=status,
    )


def _bring_in(request: HttpRequest, preview: RosterPreview, pk: int) -> HttpResponse:
    user = user_of(request)
    count = bring_in(preview, coached_team_for(user, pk), user)
    said = ngettext(
        "%(n)d player is on the roster now.", "%(n)d players are on the roster now.", count
    )
    messages.success(request, said % {"n": count})
    return redirect("roster", pk)


@require_safe
def export_roster(request: HttpRequest, pk: int) -> HttpResponse:
    """The roster as a CSV file, which can be brought in again."""
    team = team_for(user_of(request), pk)
    data = write_roster(file_row(player) for player in team.players.present())
    response = HttpResponse(data, content_type="text/csv; charset=utf-8")
    name = slugify(f"{team.name} {team.season}") or "roster"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return response
