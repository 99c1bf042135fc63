"""Forms for an opponent, and for what was seen of it."""

from __future__ import annotations

from typing import Any, ClassVar, Final

from django import forms
from django.forms.boundfield import BoundField
from django.utils.translation import gettext_lazy as _

from plays.core.defence.stance import Tactic
from practice.models import MOST_SEEN, Observation, Opponent
from practice.opponents.meeting import named
from roster.squad.forms import TeamRowForm
from shared.forms import ClearModelForm

USUAL: Final = (
    *(Tactic.CHASE, Tactic.SWITCH, Tactic.FRONT),
    *(Tactic.TRAP, Tactic.ZONE, Tactic.SAG),
)
"""What the page asks for first."""


class OpponentForm(TeamRowForm):
    class Meta:
        model = Opponent
        fields = ("name", "notes")
        widgets: ClassVar[dict[str, Any]] = {"notes": forms.Textarea(attrs={"rows": 5})}
        help_texts: ClassVar[dict[str, Any]] = {
            "notes": _("About how they play. Write nothing about single children."),
        }

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        other = named(self.instance.team, name)
        if other is not None and other.pk != self.instance.pk:
            raise forms.ValidationError(_("There is an opponent of that name already."))
        return name


class ObservationForm(ClearModelForm):
    """Times by defence, for one day and one kind of throw-in."""

    class Meta:
        model = Observation
        fields = ("day", "situation", *(tactic.value for tactic in Tactic))
        widgets: ClassVar[dict[str, Any]] = {
            "day": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        }

    def __init__(self, *args: Any, opponent: Opponent, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.opponent = opponent
        for tactic in Tactic:
            label = self.fields[tactic.value].label
            self.fields[tactic.value] = forms.IntegerField(
                label=label, required=False, min_value=0, max_value=MOST_SEEN
            )
            self.initial[tactic.value] = self.initial[tactic.value] or None  # nothing to delete

    @property
    def usual(self) -> list[BoundField]:
        """The counts that are asked for first."""
        return [self[tactic.value] for tactic in USUAL]

    @property
    def rest(self) -> list[BoundField]:
        """The other defences that the check knows."""
        return [self[tactic.value] for tactic in Tactic if tactic not in USUAL]

    @property
    def is_rest_open(self) -> bool:
        """Whether something stands among the others, or is wrong there."""
        return any(field.errors or field.value() not in (None, "", 0, "0") for field in self.rest)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for tactic in Tactic:
            if tactic.value in cleaned and cleaned[tactic.value] is None:
                cleaned[tactic.value] = 0
        if not self.errors and not any(cleaned[tactic.value] for tactic in Tactic):
            raise forms.ValidationError(_("Count at least one defence."))
        return cleaned

    def validate_unique(self) -> None:
        """Check the day and the situation together with the opponent, which the page sets."""
        if not self.errors:
            for constraint in self.instance._meta.constraints:
                try:
                    constraint.validate(type(self.instance), self.instance)
                except forms.ValidationError as error:
                    self.add_error("day", error)
