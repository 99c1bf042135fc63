"""The page of one play."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, cast

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from plays.access import play_for, revision_for
from plays.core.document.file import write_readable
from plays.core.document.form import problems
from plays.core.moves.origins import copied, step_words, steps
from plays.core.moves.translated import told_in
from plays.models import Situation
from plays.play.page import UNDRAWABLE, call_lines, view_if_drawable
from plays.play.pictures import CARD_SECONDS, TYPES, PictureForm, card_svg, picture_of, written
from plays.play.revisions import comparison, two_of
from plays.play.strip import plain_strip
from plays.play.view_form import ViewForm
from plays.ports import carriers
from plays.values import play_value
from shared.access import user_of
from shared.models import Club
from shared.pages import conditional, page, status_of
from shared.record import note_change
from shared.speech import language_now


@require_safe
def play(request: HttpRequest, key: str, number: int | None = None) -> HttpResponse:
    """A play's current revision, or the one with this number, as the address wants it seen."""
    user = user_of(request)
    found = play_for(user, key)
    revision = revision_for(user, found, number)
    entered, speech = play_value(revision), language_now()
    value = told_in(entered, speech.code)
    teams = carriers(user, found)
    form = ViewForm(request.GET, play=value, teams=teams)
    moved, drawing = form.moved(speech), form.drawing()
    is_draft = revision.published_at is None
    strip = plain_strip(moved.play, drawing.names, speech)
    numbered = replace(drawing, numbers=strip.numbers) if strip else drawing
    view = view_if_drawable(moved.play, speech, numbered)
    context = {
        "section": "library",
        "play": found,
        "revision": revision,
        "is_draft": is_draft,
        "draft": found.revisions.filter(published_at=None).defer("document").first()
        if user.may_edit_library
        else None,
        "value": moved.play,
        "situation": Situation(moved.play.situation).label,
        "origin": [step_words(step, speech) for step in steps(value)],
        "problems": problems(entered, speech) if is_draft else (),
        "form": form,
        "moved": moved,
        "calls": call_lines(value, drawing.names, speech),
        "view": view,
        "strip": strip if view else None,
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
    """A revision as a play file, to share with another club; a guest's says where it is from."""
    user = user_of(request)
    found = play_for(user, key)
    revision = revision_for(user, found, number)
    value = play_value(revision)
    if user.is_guest:
        value = copied(value, f"{Club.objects.get()}, {revision}")
        note_change(user, "took a copy", revision)
    response = HttpResponse(write_readable(value), content_type="application/json")
    name = f"{found.key}-{revision.number}.json"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@require_safe
def play_picture(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """One diagram, or all of them, as a file; as seen on the page whose address this carries."""
    user = user_of(request)
    found = play_for(user, key)
    speech = language_now()
    value = told_in(play_value(revision_for(user, found, number)), speech.code)
    view = ViewForm(request.GET, play=value, teams=carriers(user, found))
    seen = view.moved(speech).play
    try:
        form = PictureForm(request.GET, play=seen)
        if not form.is_valid() or view.errors:
            raise Http404
        what, file_format, scale, scheme = form.chosen()
        picture = picture_of(seen, what, view.drawing(), scheme, speech)
    except UNDRAWABLE as nowhere:
        raise Http404 from nowhere
    data = written(picture, file_format, scale)
    response = HttpResponse(data, content_type=TYPES[file_format])
    name = f"{found.key}-{number}-{what}.{file_format}"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@require_safe
def play_card(request: HttpRequest, key: str, number: int, scheme: str) -> HttpResponse:
    """The small picture on a play's card, kept by browsers since a revision never changes."""
    user = user_of(request)
    revision = revision_for(user, play_for(user, key), number)
    speech = language_now()
    try:
        data = card_svg(revision, cast("Literal['light', 'dark']", scheme), speech)
    except UNDRAWABLE as nowhere:
        raise Http404 from nowhere
    response = HttpResponse(data, content_type=TYPES["svg"])
    if revision.published_at is not None:
        response.headers["Cache-Control"] = f"private, max-age={CARD_SECONDS}"
    return conditional(request, response)


@require_safe
def revisions(request: HttpRequest, key: str) -> HttpResponse:
    """All revisions, and what changed between the two that the address names."""
    user = user_of(request)
    found = play_for(user, key)
    rows = found.revisions.select_related("author").defer("document")
    if not user.may_edit_library:
        rows = rows.exclude(published_at=None)
    shown = list(rows)
    speech = language_now()
    two = two_of(shown, request.GET.get("old", ""), request.GET.get("new", ""))
    context = {
        "section": "library",
        "play": found,
        "revisions": shown,
        "two": comparison(*two, speech) if two else None,
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/revisions.html", context)
