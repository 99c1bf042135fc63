"""The roster as a file: bringing one in with a preview, and saving it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from roster.access import coached_team_for, team_for
from roster.bridge import file_row
from roster.core.file.roster import write_roster
from roster.core.file.table import bad_table, table_of
from roster.core.file.text import BadTableError
from roster.models import Team
from roster.squad.bring_in import RosterPreview, bring_in, preview_of_form, preview_of_table
from roster.squad.columns import WORDS, fault_of, headings_of, matching_from
from roster.squad.workbook import BadWorkbookError, is_workbook, text_of
from shared.access import user_of
from shared.once import once
from shared.pages import page
from shared.record import note_change
from shared.speech import language_now
from shared.sure import asks_password
from shared.uploads import uploaded

TEMPLATE = "roster/import.html"


@require_http_methods(["GET", "POST"])
@once
def import_roster(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask for a table, what its columns are, show a preview, and bring it in once settled."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    context = {"team": team, "section": "roster", "columns": list(WORDS.items())}
    if request.method == "GET":
        return page(request, TEMPLATE, context)
    if "previewed" in request.POST and "file" not in request.FILES:
        preview = preview_of_form(request.POST.dict(), team, language_now())
        if preview.is_settled and "bring" in request.POST:
            if request.POST.get("mark") == preview.mark:
                return _bring_in(request, preview, team)
            context["moved_on"] = True
        return _preview(request, preview, context)
    return _table(request, team, context)


def _table(request: HttpRequest, team: Team, context: dict[str, Any]) -> HttpResponse:
    """The file or the pasted text: its preview, or the question what its columns are."""
    speech = language_now()
    context["pasted"] = request.POST.get("pasted", "")
    fault, text = _text_of(request)
    if fault:
        return page(request, TEMPLATE, {**context, "fault": fault}, status=422)
    try:
        table = table_of(text, speech)
    except BadTableError as error:
        context["fault"] = bad_table(error, speech)
        return page(request, TEMPLATE, context, status=422)
    said = matching_from(request.POST.dict(), table)
    fault = fault_of(said) if said else ""
    if fault or (said is None and not table.is_clear):
        matching = said or table.guess()
        asked = {
            "headings": headings_of(table, matching),
            "pasted": table.text,
            "matching": matching,
            "fault": fault,
        }
        return page(request, TEMPLATE, {**context, **asked}, status=422 if fault else 200)
    return _preview(request, preview_of_table(table, team, speech, said), context)


def _text_of(request: HttpRequest) -> tuple[str, bytes | str]:
    """What is wrong with the table that was sent, in words, or nothing and the table."""
    if "file" not in request.FILES and (pasted := request.POST.get("pasted", "").strip("\r\n")):
        return "", pasted.replace("\0", "")
    too_large = _("This file is larger than 1 MB; a roster is far smaller. Is it the right one?")
    fault, data = uploaded(request, too_large)
    if fault and "file" not in request.FILES:
        return _("Choose a file first, or paste the list."), b""
    if fault or not is_workbook(data):
        return fault, data
    try:
        return "", text_of(data)
    except BadWorkbookError as error:
        return str(error), b""


def _preview(request: HttpRequest, preview: RosterPreview, context: dict[str, Any]) -> HttpResponse:
    columns = preview.columns
    lines = [
        (row, [(cell, WORDS[cell.column]) for cell in row.cells if cell.column in columns])
        for row in preview.rows
    ]
    shown = [(column, WORDS[column]) for column in columns]
    context = {**context, "preview": preview, "lines": lines, "shown": shown}
    return page(request, TEMPLATE, context, status=200 if preview.is_settled else 422)


def _bring_in(request: HttpRequest, preview: RosterPreview, team: Team) -> HttpResponse:
    bring_in(preview, team, user_of(request))
    if preview.fresh:
        said = ngettext(
            "%(n)d player is on the roster now.",
            "%(n)d players are on the roster now.",
            preview.fresh,
        )
        messages.success(request, said % {"n": preview.fresh})
    if preview.changes:
        said = ngettext("%(n)d value is changed.", "%(n)d values are changed.", preview.changes)
        messages.success(request, said % {"n": preview.changes})
    return redirect("roster", team.pk)


@asks_password("GET")
@require_safe
def export_roster(request: HttpRequest, pk: int) -> HttpResponse:
    """The roster as a CSV file, which can be brought in again."""
    user = user_of(request)
    team = team_for(user, pk)
    note_change(user, "took the roster", team, team=team.pk)
    data = write_roster(file_row(player) for player in team.players.present())
    response = HttpResponse(data, content_type="text/csv; charset=utf-8")
    name = slugify(f"{team.name} {team.season}") or "roster"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return response
