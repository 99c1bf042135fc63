"""Drafts: editing the words, keeping a moved play, publishing and discarding."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from plays.access import kept_play_for, revision_for
from plays.core.document.file import content_hash
from plays.core.play import Play as PlayValue
from plays.library.changes import (
    ChangedMeanwhileError,
    FaultyPlayError,
    discard,
    publish_sound,
    save_draft,
)
from plays.models import Play, Revision
from plays.play.keep import (
    DRAFT,
    KeepForm,
    keep_as_draft,
    keep_as_new,
    name_of,
    same_move,
)
from plays.play.page import view_if_drawable
from plays.play.text_form import TextsForm
from plays.play.view_form import Moved, ViewForm
from plays.ports import carriers
from plays.values import play_value
from shared.access import user_of
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.speech import language_now


@require_http_methods(["GET", "POST"])
@once
def edit_texts(request: HttpRequest, key: str) -> HttpResponse:
    """Change a play's words and the order of its looks, into its draft."""
    found = kept_play_for(user_of(request), key)
    newest = newest_of(found)
    form = TextsForm(
        request.POST or None,
        play=play_value(newest),
        language=language_now(),
        initial={"seen": newest.content_hash},
    )
    if request.method == "POST" and form.is_valid():
        note, seen = (str(form.cleaned_data[name]) for name in ("note", "seen"))
        try:
            return keep_edited(request, newest, form.edited(), note=note, seen=seen)
        except ChangedMeanwhileError:
            form = _shown_again(request, form, newest)
    context = {"section": "library", "play": found, "newest": newest, "form": form}
    context["languages"] = settings.LANGUAGES
    return page(request, "plays/edit_texts.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
@once
def save_view(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """Keep what the address shows of a play: as a new play, or as its draft."""
    user = user_of(request)
    found = kept_play_for(user, key)
    revision = revision_for(user, found, number)
    speech = language_now()
    view = ViewForm(request.GET, play=play_value(revision), teams=carriers(user, found))
    moved = view.moved(speech)
    if not moved.is_moved:
        messages.info(request, _("Move the play first: then there is something to keep."))
        return redirect("revision", found.key, revision.number)
    initial = {"name": name_of(moved.play), "seen": newest_of(found).content_hash}
    form = KeepForm(request.POST or None, initial={**initial, "kept_as": "new"})
    if request.method == "POST" and form.is_valid():
        kept = _kept(form, found, revision, moved, user_of(request))
        if kept is not None:
            messages.success(request, _("Kept as a draft. Publish it when it is right."))
            return redirect("revision", kept.play.key, kept.number)
    context = {
        "section": "library",
        "play": found,
        "revision": revision,
        "form": form,
        "moved": moved,
        "view": view_if_drawable(moved.play, speech),
        "same": same_move(moved.play),
        "query": view.query(),
    }
    return page(request, "plays/save_view.html", context, status=status_of(form))


@require_POST
def publish_draft(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """Make a draft the current revision; once published, asking again changes nothing."""
    user = user_of(request)
    found = kept_play_for(user, key)
    draft = get_object_or_404(found.revisions.select_related("play__current"), number=number)
    speech = language_now()
    if request.POST.get("seen", draft.content_hash) != draft.content_hash:
        messages.warning(request, _("The draft was changed meanwhile. Read it again first."))
        return redirect("revision", found.key, number)
    try:
        publish_sound(draft, user, speech)
    except FaultyPlayError:
        messages.error(request, _("It cannot be published yet: see what is missing below."))
        return redirect("revision", found.key, number)
    messages.success(request, _("Published: this is the current one now."))
    return redirect("play", found.key)


@require_POST
def discard_draft(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """Drop a draft; once dropped, asking again changes nothing."""
    user = user_of(request)
    found = kept_play_for(user, key)
    draft = found.revisions.select_related("play").filter(number=number, published_at=None).first()
    if draft is not None:
        discard(draft, user)
        messages.success(request, _("The draft is discarded."))
    return redirect("play", found.key) if found.current_id else redirect("library")


def _kept(
    form: KeepForm, found: Play, shown: Revision, moved: Moved, user: User
) -> Revision | None:
    """The revision in which the moved play is kept, or None with the reason in the form."""
    said, note = form.cleaned_data, "; ".join(moved.moves)[:200]
    if said["kept_as"] != DRAFT:
        return keep_as_new(moved.play, said["name"], user, note)
    try:
        return keep_as_draft(found, shown, moved.play, user, note=note, seen=said["seen"])
    except ChangedMeanwhileError:
        form.add_error(
            "kept_as",
            _("This play has another draft already: publish or discard that first."),
        )
        return None


def newest_of(found: Play) -> Revision:
    """The newest revision of a play, draft or not."""
    return get_object_or_404(
        found.revisions.select_related("author").defer("document").order_by("-number")[:1]
    )


def keep_edited(
    request: HttpRequest, newest: Revision, value: PlayValue, *, note: str, seen: str
) -> HttpResponse:
    """Keep a play that a form has edited in its draft, if it is another now, and show it.

    Raises ChangedMeanwhileError where ``seen`` is not what stands there any more.
    """
    found = newest.play
    if content_hash(value) == newest.content_hash:
        messages.info(request, _("Nothing was changed, so nothing was saved."))
        return redirect("revision", found.key, newest.number)
    draft = save_draft(found, value, user_of(request), note=note, seen=seen)
    messages.success(request, _("Saved in the draft. Publish it when it is right."))
    return redirect("revision", found.key, draft.number)


def _shown_again(request: HttpRequest, form: TextsForm, newest: Revision) -> TextsForm:
    """The same words, with a warning that the play has moved on, ready to be sent on purpose."""
    data = {**request.POST.dict(), "seen": newest.content_hash}
    again = TextsForm(data, play=play_value(newest), language=form.language)
    again.add_error(None, changed_meanwhile(newest))
    return again


def changed_meanwhile(newest: Revision) -> str:
    """What is said to who saves over somebody else's words."""
    said = _(
        "Somebody changed this play meanwhile (%(day)s). "
        "Save again to put your words in place of theirs."
    )
    return said % {"day": newest.day}
