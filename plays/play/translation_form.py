"""What a play's own texts are in another language: a field for each, found by the text itself."""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256
from typing import Any, Final

from django import forms

from plays.core.document.file import to_json
from plays.core.document.review import review
from plays.core.limits import MAX_TEXT
from plays.core.moves.translated import own_texts, said_in, with_language
from plays.core.play import Play
from plays.play.text_form import Paragraphs
from shared.core.language import Language
from shared.forms import ClearForm

ONE_LINE: Final = 36  # characters of a text whose translation fits into one line of the form


class TranslationForm(ClearForm):
    """One field for each text, beside the text as it was entered; an empty one leaves it so."""

    seen = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, play: Play, code: str, language: Language, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.play, self.code, self.language = play, code, language
        said = said_in(play, code)
        self.initial = dict(self.initial)  # not the caller's own
        self.texts: Mapping[str, str] = {_name(text): text for text in own_texts(play)}
        for name, text in self.texts.items():
            rows = 1 + (len(text) > ONE_LINE) + (len(text) > 3 * ONE_LINE)
            self.fields[name] = Paragraphs(
                rows=rows, label=text, label_suffix="", required=False, max_length=MAX_TEXT
            )
            self.fields[name].widget.attrs["lang"] = code
            self.initial[name] = said.get(text, "")

    def text_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in self.texts]

    def missing(self) -> list[forms.BoundField]:
        """The fields of the texts that the saved play does not say in the language."""
        return [self[name] for name in self.texts if not self.initial[name]]

    def written(self) -> list[forms.BoundField]:
        """The fields of those that it says."""
        return [self[name] for name in self.texts if self.initial[name]]

    def count(self) -> int:
        """How many of the texts are said in the language."""
        return len(said_in(self.play, self.code).keys() & set(self.texts.values()))

    def edited(self) -> Play:
        """The play with what the form says in the language. Nothing else of it changes."""
        said = {text: self.cleaned_data[name] for name, text in self.texts.items()}
        return with_language(self.play, self.code, said)

    def clean(self) -> dict[str, Any]:
        """Judge the play as if it had come as a file: a form may say more than a file holds."""
        cleaned = super().clean() or self.cleaned_data
        if not self.errors:
            before = {problem.sentence for problem in review(to_json(self.play)).problems}
            for problem in review(to_json(self.edited()), self.language).problems:
                if problem.place.startswith("/translations") and problem.sentence not in before:
                    self.add_error(None, problem.sentence)
        return cleaned


def _name(text: str) -> str:
    return f"text-{sha256(text.encode()).hexdigest()[:16]}"
