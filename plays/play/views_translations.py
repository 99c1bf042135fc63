"""The page on which a club says a play's texts in another language."""

from __future__ import annotations

from typing import Final

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from plays.access import kept_play_for
from plays.library.changes import ChangedMeanwhileError
from plays.play.translation_form import TranslationForm
from plays.play.views_drafts import keep_edited, newest_of
from plays.values import play_value
from shared.access import user_of
from shared.pages import page, status_of
from shared.speech import language_now

LANGUAGES: Final = dict(settings.LANGUAGES)


@require_http_methods(["GET", "POST"])
def translate_texts(request: HttpRequest, key: str, code: str) -> HttpResponse:
    """Say the texts of a play in the language of this code, into its draft."""
    found = kept_play_for(user_of(request), key)
    if code not in LANGUAGES:
        raise Http404
    newest = newest_of(found)
    value, speech = play_value(newest), language_now()
    initial = {"seen": newest.content_hash}
    form = TranslationForm(
        request.POST or None, play=value, code=code, language=speech, initial=initial
    )
    if request.method == "POST" and form.is_valid():
        note = newest.note if newest.published_at is None else ""
        try:
            seen = form.cleaned_data["seen"]
            return keep_edited(request, newest, form.edited(), note=note, seen=seen)
        except ChangedMeanwhileError:
            data = {**request.POST.dict(), **initial}
            form = TranslationForm(data, play=value, code=code, language=speech)
            form.add_error(None, _("Somebody changed this play meanwhile. Read it and save again."))
    context = {
        "section": "library",
        "play": found,
        "newest": newest,
        "form": form,
        "name": LANGUAGES[code],
        "others": [each for each in LANGUAGES.items() if each[0] != code],
    }
    return page(request, "plays/translate.html", context, status=status_of(form))
