"""Plays as files: bringing some in with a preview, and saving the library as one."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_http_methods, require_safe

from plays.files.bring_in import MovedOnError, StaleError, bring_in, preview_again, preview_of
from plays.files.file import read_file, write_library
from plays.library.browse import BrowseForm, found_plays
from plays.values import play_value, read_ahead
from shared.access import require, user_of
from shared.models import User
from shared.once import once
from shared.pages import page
from shared.speech import language_now
from shared.sure import asks_password
from shared.uploads import uploaded

TEMPLATE = "plays/bring_in.html"
TOO_LARGE = gettext_lazy(
    "This file is larger than 1 MB; a whole library is smaller. Is it the right one?"
)


@require_http_methods(["GET", "POST"])
@once
def import_plays(request: HttpRequest) -> HttpResponse:
    """Ask for a file, show what each of its plays would do, and bring in what is chosen."""
    user = user_of(request)
    require(user.may_edit_library)
    context: dict[str, Any] = {"section": "library"}
    if request.method == "GET":
        return page(request, TEMPLATE, context)
    if "token" in request.POST:
        return _bring_in(request, user, context)
    fault, data = uploaded(request, str(TOO_LARGE))
    if fault:
        return page(request, TEMPLATE, {**context, "fault": fault}, status=422)
    return file_shown(request, data)


def file_shown(request: HttpRequest, data: bytes) -> HttpResponse:
    """What each play of a file would do, or what is wrong with the file; nothing is saved."""
    context: dict[str, Any] = {"section": "library"}
    file = read_file(data, language_now())
    if file.problems:
        return page(request, TEMPLATE, {**context, "problems": file.problems}, status=422)
    preview = preview_of(file)
    status = 422 if preview.faulty else 200
    return page(request, TEMPLATE, {**context, "preview": preview}, status=status)


def _bring_in(request: HttpRequest, user: User, context: dict[str, Any]) -> HttpResponse:
    token = request.POST["token"]
    chosen = None if "all" in request.POST else request.POST.getlist("play")
    try:
        if chosen == []:
            again = {**context, "preview": preview_again(token), "none_ticked": True}
            return page(request, TEMPLATE, again, status=422)
        done = bring_in(token, chosen, user)
    except StaleError:
        fault = _("This preview is out of date. Choose the file again.")
        return page(request, TEMPLATE, {**context, "fault": fault}, status=422)
    except MovedOnError:
        again = {**context, "preview": preview_again(token), "moved_on": True}
        return page(request, TEMPLATE, again, status=422)
    said = ngettext("%(n)d play is brought in.", "%(n)d plays are brought in.", len(done))
    messages.success(
        request, said % {"n": len(done)} if done else _("Nothing new: everything was here already.")
    )
    return redirect("library")


@asks_password("GET")
@require_safe
def library_file(request: HttpRequest) -> HttpResponse:
    """The plays that the filters leave, in their current revisions, as one file."""
    form = BrowseForm(request.GET, user=user_of(request))
    current = [play.published() for play in found_plays(form).filter(current__isnull=False)]
    read_ahead(current)
    data = write_library(play_value(revision) for revision in current)
    response = HttpResponse(data, content_type="application/json")
    name = f"plays-{timezone.localdate():%Y-%m-%d}.json"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
