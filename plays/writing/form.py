"""A play as shorthand in a form: what cannot be read is told at its line, nothing typed is lost."""

from __future__ import annotations

from typing import Any, Final, cast

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core import play as core
from plays.core.limits import MAX_NAME
from plays.core.play import Formation as FormationValue
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import Edge, Side, skeleton
from plays.core.shorthand.told import ReadText
from plays.models import AgeGroup, Formation, Situation
from shared.core.language import Language
from shared.forms import ClearForm

MOST: Final = 60_000  # characters: ten times the longest play of the demo


class WriteForm(ClearForm):
    """The text of one play, and the note that goes with its draft."""

    text = forms.CharField(
        label=_("The play in words"),
        max_length=MOST,
        strip=False,
        widget=forms.Textarea(
            attrs={
                "rows": 28,
                "spellcheck": "false",
                "autocapitalize": "off",
                "autocomplete": "off",
            }
        ),
    )
    note = forms.CharField(label=_("What is new, and why"), required=False, max_length=200)
    seen = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, language: Language, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.language = language
        self.reading: ReadText | None = None

    def clean_text(self) -> str:
        """The text, if every line of it is in the play; a faulty play may be a draft."""
        text = str(self.cleaned_data["text"]).replace("\r\n", "\n")
        self.reading = read(text, self.language)
        unread = [fault for fault in self.reading.faults if fault.unread]
        if unread:
            raise forms.ValidationError(
                [
                    gettext("Line %(line)d: %(sentence)s")
                    % {"line": fault.line, "sentence": fault.sentence}
                    for fault in unread
                ]
            )
        if not self.reading.play.name.strip():
            raise forms.ValidationError(gettext("The play has no name: write “play: …” on top."))
        return text


class BeginForm(ClearForm):
    """What a new text begins with. Bound to the address; every field may be left out."""

    name = forms.CharField(required=False, max_length=MAX_NAME)
    situation = forms.ChoiceField(required=False, choices=Situation.choices)
    level = forms.ChoiceField(required=False, choices=AgeGroup.choices)

    formation = forms.ChoiceField(
        label=_("Formation"),
        required=False,
        choices=[(each.value, Formation(each.value).label) for each in FormationValue],
    )
    edge = forms.ChoiceField(
        label=_("Throw-in"),
        required=False,
        choices=[
            ("sideline", _("from the sideline")),
            ("baseline", _("from the baseline")),
            ("none", _("none: half court")),
        ],
    )
    side = forms.ChoiceField(
        label=_("Ball side"), required=False, choices=[("right", _("right")), ("left", _("left"))]
    )

    def begun(self) -> str:
        """The text to begin with, from what the address says and can be read."""
        self.is_valid()
        return self.text()

    def text(self) -> str:
        """The text that the form's own answers begin."""
        asked = self.cleaned_data
        return skeleton(
            FormationValue(asked.get("formation") or FormationValue.BOX),
            cast("Edge", asked.get("edge") or "sideline"),
            cast("Side", asked.get("side") or "right"),
            name=asked.get("name") or "",
            situation=core.Situation(asked["situation"]) if asked.get("situation") else None,
            level=core.AgeGroup(asked.get("level") or core.AgeGroup.U14),
        )
