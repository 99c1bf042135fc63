"""One page for every way to begin a play."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from plays.core.moves.off_court import texts_to_reread
from plays.files.views import TOO_LARGE, file_shown
from plays.models import Revision, TracedPhoto
from plays.play.keep import keep_as_new
from plays.starts.form import AS_IT_IS, COPY, COURT, FILE, MIRRORED, PHOTO, WORDS, StartForm
from plays.starts.page import start_pictures
from shared.access import require, user_of
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.photos import sent_photo
from shared.speech import language_now
from shared.uploads import uploaded

if TYPE_CHECKING:
    from plays.core.shorthand.skeleton import Edge, Side

TEMPLATE = "plays/new_play.html"
FIRST = {
    "way": COURT,
    "formation": "box",
    "edge": "sideline",
    "side": "right",
    "side_up": AS_IT_IS,
    "level": "U14",
}


@require_http_methods(["GET", "POST"])
@once
def new_play(request: HttpRequest) -> HttpResponse:
    """Choose what a play begins with; then the court, the words, or what is in the file."""
    user = user_of(request)
    require(user.may_edit_library)
    asked = {name: request.GET[name] for name in (*FIRST, "play", "name") if name in request.GET}
    form = StartForm(request.POST or None, initial=FIRST | asked)
    if request.method == "POST" and form.is_valid():
        answer = _begun(request, form, user)
        if answer is not None:
            return answer
    return _shown(request, form)


def _begun(request: HttpRequest, form: StartForm, user: User) -> HttpResponse | None:
    """Where the chosen way leads; None where the form now says what is wrong."""
    way = form.cleaned_data["way"]
    if way == WORDS:
        return redirect(f"{reverse('write-play')}?{form.words_query()}")
    if way == FILE:
        return _file(request, form)
    if way == PHOTO:
        return _photo(request, form, user)
    draft = _copied(request, form, user) if way == COPY else _drawn(form, user)
    return redirect("draw-play", draft.play.key)


def _drawn(form: StartForm, user: User) -> Revision:
    value = form.begun_play(language_now())
    return keep_as_new(value, value.name, user, "")


def _copied(request: HttpRequest, form: StartForm, user: User) -> Revision:
    """The draft of the copy; a mirrored one says which words to read again."""
    source, value = form.taken_over()
    note = _("From %(play)s") % {"play": source.name}
    if form.cleaned_data.get("side_up") == MIRRORED and texts_to_reread(source, "mirror"):
        messages.warning(
            request, _("Mirrored. Words that name a side are as they were: read them again.")
        )
    return keep_as_new(value, value.name, user, note[:200])


def _file(request: HttpRequest, form: StartForm) -> HttpResponse | None:
    fault, data = uploaded(request, str(TOO_LARGE))
    if fault:
        form.add_error("file", fault)
        return None
    return file_shown(request, data)


def _photo(request: HttpRequest, form: StartForm, user: User) -> HttpResponse | None:
    """The photo is kept beside a draft on which nobody is placed yet; next its corners."""
    fault, plain = sent_photo(request, "photo")
    if fault:
        form.add_error("photo", fault)
        return None
    draft = _drawn(form, user)
    fresh = {"photo": plain, "corners": [], "laid": b""}
    TracedPhoto.objects.update_or_create(play=draft.play, defaults=fresh)
    return redirect("draw-photo", draft.play.key)


def _shown(request: HttpRequest, form: StartForm) -> HttpResponse:
    now = {name: str(form[name].value() or first) for name, first in FIRST.items()}
    edge = now["edge"] if now["edge"] in ("sideline", "baseline", "none") else "sideline"
    side = now["side"] if now["side"] in ("left", "right") else "right"
    pictures = start_pictures(
        form.formations(), now["formation"], cast("Edge", edge), cast("Side", side), language_now()
    )
    context = {
        "section": "library",
        "form": form,
        "now": now,
        "pictures": pictures,
        "plays": form.known.values(),
        "play_now": form["play"].value(),
    }
    return page(request, TEMPLATE, context, status=status_of(form))
