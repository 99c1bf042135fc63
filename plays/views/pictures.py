"""Pictures of a play: to save, and the small ones of the library's cards."""

from __future__ import annotations

from typing import Literal, cast

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from plays.access import play_for, revision_for
from plays.pictures import CARD_SECONDS, TYPES, PictureForm, card_svg, picture_of, written
from plays.play_page import UNDRAWABLE
from plays.play_view import ViewForm
from plays.ports import carriers
from shared.access import user_of
from shared.core.language import language


@require_safe
def play_picture(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """One diagram, or all of them, as a file; as seen on the page whose address this carries."""
    user = user_of(request)
    found = play_for(user, key)
    value = revision_for(user, found, number).value()
    speech = language(get_language() or "en")
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
    speech = language(get_language() or "en")
    try:
        data = card_svg(revision, cast("Literal['light', 'dark']", scheme), speech)
    except UNDRAWABLE as nowhere:
        raise Http404 from nowhere
    response = HttpResponse(data, content_type=TYPES["svg"])
    if revision.published_at is not None:
        response.headers["Cache-Control"] = f"private, max-age={CARD_SECONDS}"
    return response
