"""Writing a play in words, with its picture beside it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from plays.access import kept_play_for
from plays.core.document.file import content_hash
from plays.core.play import Play as PlayValue
from plays.core.shorthand.recall import recalled
from plays.core.shorthand.write import shorthand
from plays.library.changes import ChangedMeanwhileError, save_draft
from plays.models import Play, Revision
from plays.play.keep import keep_as_new
from plays.play.views_drafts import changed_meanwhile, newest_of
from plays.values import play_value
from plays.writing.form import MOST, BeginForm, WriteForm
from plays.writing.page import completions, in_words_of, seen
from shared.access import require, user_of
from shared.cookies import set_own_cookie
from shared.core.language import Language
from shared.once import once
from shared.pages import page, status_of
from shared.speech import language_now

TEMPLATE = "plays/write.html"
DAY = 24 * 60 * 60


@require_http_methods(["GET", "POST"])
@once
def write_play(request: HttpRequest) -> HttpResponse:
    """A new play from a text: a draft of its own once every line can be read."""
    user = user_of(request)
    require(user.may_edit_library)
    speech = language_now()
    begun = in_words_of(BeginForm(request.GET).begun(), speech)
    form = WriteForm(request.POST or None, language=speech, initial={"text": begun})
    if request.method == "POST" and form.is_valid() and form.reading is not None:
        value = form.reading.play
        draft = keep_as_new(value, value.name, user, form.cleaned_data["note"])
        messages.success(request, _("The play is kept as a draft."))
        return _kept(draft, "")
    return _answer(request, form, speech)


@require_http_methods(["GET", "POST"])
@once
def rewrite_play(request: HttpRequest, key: str) -> HttpResponse:
    """A play as text, to be changed into its draft; what is not touched keeps its identity."""
    user = user_of(request)
    found = kept_play_for(user, key)
    newest = newest_of(found)
    value = play_value(newest)
    speech = language_now()
    text = in_words_of(shorthand(value), speech)
    initial = {"text": text, "seen": newest.content_hash}
    form = WriteForm(request.POST or None, language=speech, initial=initial)
    if request.method == "POST" and form.is_valid() and form.reading is not None:
        edited = recalled(form.reading.play, value)
        draft = _saved(request, form, newest, edited)
        if draft is not None:
            return _kept(draft, found.key)
    return _answer(request, form, speech, found=found)


@require_POST
def written_play(request: HttpRequest) -> HttpResponse:
    """The part of the page that follows the typing; nothing is saved."""
    require(user_of(request).may_edit_library)
    text = request.POST.get("text", "")[:MOST].replace("\r\n", "\n")
    context = {"written": seen(text, language_now())}
    return page(request, "plays/parts/written_part.html", context)


def _saved(
    request: HttpRequest, form: WriteForm, newest: Revision, value: PlayValue
) -> Revision | None:
    """The draft that holds the text; None, and why in the form, where another came first."""
    if content_hash(value) == newest.content_hash:
        messages.info(request, _("Nothing was changed, so nothing was saved."))
        return newest
    said = form.cleaned_data
    try:
        draft = save_draft(
            newest.play, value, user_of(request), note=said["note"], seen=said["seen"]
        )
    except ChangedMeanwhileError:
        form.data = {**request.POST.dict(), "seen": newest.content_hash}
        form.add_error(None, changed_meanwhile(newest))
        return None
    messages.success(request, _("The play is kept as a draft."))
    return draft


def _kept(draft: Revision, page_key: str) -> HttpResponse:
    """On to the draft; the cookie tells the device that it need not keep the text any longer."""
    response = redirect("revision", draft.play.key, draft.number)
    name = f"written-{page_key or 'new'}"
    set_own_cookie(
        response, name, "1", max_age=DAY, path="/library/", httponly=False, samesite="Strict"
    )
    return response


def _answer(
    request: HttpRequest,
    form: WriteForm,
    speech: Language,
    *,
    found: Play | None = None,
) -> HttpResponse:
    text = str(form["text"].value() or "")[:MOST].replace("\r\n", "\n")
    context = {
        "section": "library",
        "form": form,
        "play": found,
        "written": seen(text, speech),
        "completions": completions(speech.code),
    }
    return page(request, TEMPLATE, context, status=status_of(form))
