"""A photo to trace over: kept beside the draft, for keepers alone, and gone with it."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.access import kept_play_for
from plays.core.court.courts import court
from plays.editor.photo import straightened
from plays.editor.photo_form import CORNERS, CornersForm, as_said
from plays.models import Play, TracedPhoto
from plays.play.views_drafts import newest_of
from plays.values import play_value
from shared.access import user_of
from shared.pages import page
from shared.photos import PhotoError, sent_photo

TEMPLATE = "plays/photo.html"


@require_http_methods(["GET", "POST"])
def photo(request: HttpRequest, key: str) -> HttpResponse:
    """Ask for a photo; once there is one, for the four corners of the half court in it."""
    found = kept_play_for(user_of(request), key)
    if request.method == "POST":
        return _taken(request, found)
    return _asked(request, found)


@require_POST
def photo_corners(request: HttpRequest, key: str) -> HttpResponse:
    """Straighten the photo by its corners, and lay it under the court."""
    found = kept_play_for(user_of(request), key)
    kept = TracedPhoto.objects.filter(play=found).first()
    if kept is None:
        raise Http404
    form = CornersForm(request.POST)
    if form.is_valid():
        floor = court(play_value(newest_of(found)).court)
        try:
            kept.laid = straightened(bytes(kept.photo), form.corners(), floor)
        except PhotoError:
            form.add_error(None, _("These corners do not go round the court. Mark them again."))
        else:
            kept.corners = form.corners()
            kept.save()
            return redirect("draw-play", found.key)
    return _page(request, found, kept, form)


@require_POST
def drop_photo(request: HttpRequest, key: str) -> HttpResponse:
    """Throw the photo away."""
    found = kept_play_for(user_of(request), key)
    TracedPhoto.objects.filter(play=found).delete()
    messages.success(request, _("The photo is deleted."))
    return redirect("draw-play", found.key)


@require_safe
def photo_file(request: HttpRequest, key: str, which: str) -> HttpResponse:
    """The photo as it was taken in, or as it lies under the court."""
    found = kept_play_for(user_of(request), key)
    picture = "laid" if which == "court" else "photo"
    data = TracedPhoto.objects.filter(play=found).values_list(picture, flat=True).first()
    if not data:
        raise Http404
    response = HttpResponse(bytes(data), content_type="image/jpeg")
    response.headers["Cache-Control"] = "private, max-age=3600"
    return response


def _taken(request: HttpRequest, found: Play) -> HttpResponse:
    fault, plain = sent_photo(request)
    if fault:
        return _asked(request, found, fault)
    fresh = {"photo": plain, "corners": [], "laid": b""}
    TracedPhoto.objects.update_or_create(play=found, defaults=fresh)
    return redirect("draw-photo", found.key)


def _asked(request: HttpRequest, found: Play, fault: str = "") -> HttpResponse:
    """The page with the corners as they were kept, its pictures left unread."""
    kept = TracedPhoto.objects.filter(play=found).defer("photo", "laid").first()
    form = CornersForm(initial=as_said(kept.corners) if kept else None)
    return _page(request, found, kept, form, fault)


def _page(
    request: HttpRequest,
    found: Play,
    kept: TracedPhoto | None,
    form: CornersForm,
    fault: str = "",
) -> HttpResponse:
    context = {"section": "library", "play": found, "kept": kept, "form": form, "fault": fault}
    status = 422 if fault or form.errors else 200
    return page(request, TEMPLATE, {**context, "corners": CORNERS}, status=status)
