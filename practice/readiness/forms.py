"""The form for the parameters of readiness."""

from __future__ import annotations

from typing import Any

from django import forms

from practice.core.readiness.assumptions import ORIGINS, Assumptions, check_assumptions
from practice.core.readiness.assumptions import from_json as assumptions_from
from shared.core.finding import Finding, errors
from shared.core.language import Language
from shared.forms import CellsForm
from shared.speech import language_now


class AssumptionsForm(CellsForm):
    """The parameters of readiness, a number each."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        speech = language_now()
        for name, origin in ORIGINS.items():
            self.fields[name] = forms.FloatField(
                label=speech.say(origin.says),
                widget=forms.NumberInput(
                    attrs={"step": "any", "min": origin.low, "max": origin.high}
                ),
            )
        self.carry_what_is_shown()

    def assumptions(self, speech: Language) -> tuple[Assumptions | None, tuple[Finding, ...]]:
        """The parameters, None where one is out of its range; and what is wrong."""
        made = assumptions_from(self.cleaned_data)
        stopping = errors(check_assumptions(made, speech))
        return (None if stopping else made), stopping
