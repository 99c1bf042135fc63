"""The page of one play."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from plays.access import play_for, revision_for
from plays.core.document.file import write_readable
from plays.core.document.form import problems
from plays.core.moves.origins import step_words, steps
from plays.pictures import PictureForm
from plays.play_page import view_if_drawable
from plays.play_view import ViewForm
from plays.ports import carriers
from plays.strip_view import plain_strip
from shared.access import user_of
from shared.core.language import language
from shared.pages import page, status_of


@require_safe
def play(request: HttpRequest, key: str, number: int | None = None) -> HttpResponse:
    """A play's current revision, or the one with this number, as the address wants it seen."""
    user = user_of(request)
    found = play_for(user, key)
    revision = revision_for(user, found, number)
    value = revision.value()
    teams = carriers(user, found)
    form = ViewForm(request.GET, play=value, teams=teams)
    speech = language(get_language() or "en")
    moved, drawing = form.moved(speech), form.drawing()
    is_draft = revision.published_at is None
    view = view_if_drawable(moved.play, speech, drawing)
    context = {
        "section": "library",
        "play": found,
        "revision": revision,
        "is_draft": is_draft,
        "draft": found.revisions.filter(published_at=None).first()
        if user.may_edit_library
        else None,
        "value": moved.play,
        "origin": [step_words(step, speech) for step in steps(value)],
        "problems": problems(value, speech) if is_draft else (),
        "form": form,
        "moved": moved,
        "view": view,
        "strip": plain_strip(moved.play, drawing.names, speech) if view else None,
        "carrier": form.carrier(),
        "teams": teams,
        "pictures": PictureForm(play=moved.play) if view else None,
        "query": form.query(),
        "kept": form.kept(),
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/play.html", context, status=status_of(form))


@require_safe
def play_file(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """A revision as a play file, to share with another club."""
    user = user_of(request)
    found = play_for(user, key)
    revision = revision_for(user, found, number)
    response = HttpResponse(write_readable(revision.value()), content_type="application/json")
    name = f"{found.key}-{revision.number}.json"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
