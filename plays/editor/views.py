"""Drawing a play by hand: every gesture is saved in the draft at once."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from plays.access import kept_play_for
from plays.core.court.courts import court
from plays.core.document.file import content_hash
from plays.core.editing.apply import applied
from plays.core.editing.commands import AddCounter, AddPhase, Command
from plays.core.editing.refused import RefusedError
from plays.core.play import ROLES
from plays.core.play import Play as PlayValue
from plays.editor.doing import cuts, doings
from plays.editor.ground import ground
from plays.editor.judged import banded
from plays.editor.page import drawn, places, under_court
from plays.editor.reading import UnreadableError, command_of
from plays.editor.told import DRAFT, then, told
from plays.library.changes import ChangedMeanwhileError, save_draft
from plays.models import Play, Revision, TracedPhoto
from plays.play.page import UNDRAWABLE
from plays.play.views_drafts import newest_of
from plays.values import play_value
from shared.access import user_of
from shared.once import once
from shared.pages import page
from shared.speech import language_now


@require_http_methods(["GET", "POST"])
@once
def draw_play(request: HttpRequest, key: str) -> HttpResponse:
    """The court of a play. A gesture sent to it is saved, and leads to what it has become.

    Answers 409 to who has an older state before their eyes, and 422 where a gesture does not fit.
    """
    user = user_of(request)
    found = kept_play_for(user, key)
    newest = newest_of(found)
    if request.method == "POST":
        return _gesture(request, found, newest)
    context = {**_context(request, found, newest), "section": "library"}
    if context["drawn"] is not None:
        value, speech = play_value(newest), language_now()
        context["places"] = places(value, speech)
        context["ground"] = ground(value.court, speech)
        context |= {"doings": doings(), "cuts": cuts(), "roles": ROLES}
    return page(request, "plays/draw.html", context)


@require_safe
def drawn_play(request: HttpRequest, key: str) -> HttpResponse:
    """The part of that page which follows every gesture."""
    found = kept_play_for(user_of(request), key)
    context = _context(request, found, newest_of(found))
    context["told"] = told(request.GET.get("then", ""))
    return page(request, "plays/parts/drawn_part.html", context)


@require_safe
def judged_play(request: HttpRequest, key: str) -> HttpResponse:
    """What the check says of what is drawn, and how sure it is: asked for once the hand rests."""
    found = kept_play_for(user_of(request), key)
    newest = newest_of(found)
    judged = banded(play_value(newest), request.GET.get("counter", ""), language_now())
    context = {"judged": judged, "play": found, "newest": newest}
    return page(request, "plays/parts/drawn_judged_part.html", context)


def _context(request: HttpRequest, found: Play, newest: Revision) -> dict[str, object]:
    value, speech = play_value(newest), language_now()
    try:
        shown = drawn(value, _number(request), request.GET.get("counter", ""), speech)
    except UNDRAWABLE:
        shown = None
    traced = TracedPhoto.objects.filter(play=found).exclude(corners=[]).only("changed_at").first()
    under = under_court(shown.frame, court(value.court)) if shown and traced else None
    seen = {"play": found, "newest": newest, "value": value, "drawn": shown}
    return seen | {"traced": traced, "under": under}


def _number(request: HttpRequest) -> int:
    text = request.GET.get("phase", "1")
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 4 else 1


def _gesture(request: HttpRequest, found: Play, newest: Revision) -> HttpResponse:
    seen, counter = request.POST.get("seen", ""), request.POST.get("counter", "")
    speech = language_now()
    if seen != newest.content_hash:
        return _told(_("Somebody changed this play meanwhile."), 409)
    try:
        command = command_of(request.POST.get("command", ""))
        before = play_value(newest)
        value = applied(before, command, counter or None)
        _save(request, found, newest, value)
    except UnreadableError:
        return _told(_("This step cannot be read. Load the page again."), 400)
    except RefusedError as refused:
        return _told(refused.said(speech), 422)
    except ChangedMeanwhileError:
        return _told(_("Somebody changed this play meanwhile."), 409)
    begins = newest.published_at is not None and content_hash(value) != newest.content_hash
    more = DRAFT if begins else then(before, value, command, counter)
    return redirect(_where_next(request, found, command, value, more))


def _save(request: HttpRequest, found: Play, newest: Revision, value: PlayValue) -> None:
    if content_hash(value) == newest.content_hash:
        return
    note = newest.note if newest.published_at is None else ""
    save_draft(found, value, user_of(request), note=note, seen=newest.content_hash)


def _where_next(
    request: HttpRequest, found: Play, command: Command, value: PlayValue, more: str
) -> str:
    """What is shown after a gesture: where it was made, or what it has made."""
    phase, counter = request.POST.get("phase", "1")[:3], request.POST.get("counter", "")[:80]
    if isinstance(command, AddPhase):
        phase = str(len(value.phases))
    if isinstance(command, AddCounter):
        counter = value.counters[-1].id
    shown = {"phase": phase, "counter": counter}
    query = urlencode(shown | ({"then": more} if more else {}))
    return f"{reverse('drawn-play', args=[found.key])}?{query}"


def _told(sentence: str, status: int) -> HttpResponse:
    return HttpResponse(sentence, status=status, content_type="text/plain; charset=utf-8")
