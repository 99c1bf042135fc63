"""What forms share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db.models.fields import BLANK_CHOICE_DASH
from django.utils.translation import gettext_lazy as _

CHOOSE = _("choose")
AT_LEAST = _("Write %(limit_value)s or more.")
AT_MOST = _("Write %(limit_value)s or less.")


class ClearForm(forms.Form):
    """A form whose fields point at their help and errors, so that a screen reader says them."""

    required_css_class = "required"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        speak_plainly(self.fields.values())

    def full_clean(self) -> None:
        speak_plainly(self.fields.values())  # those that a form has added for itself, too
        super().full_clean()


class ClearModelForm(forms.ModelForm):  # type: ignore[type-arg]
    required_css_class = "required"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        speak_plainly(self.fields.values())

    def full_clean(self) -> None:
        speak_plainly(self.fields.values())  # those that a form has added for itself, too
        super().full_clean()


def speak_plainly(fields: Iterable[forms.Field]) -> None:
    """Words in place of the framework's row of dashes and of its talk of values."""
    for field in fields:
        if isinstance(field, forms.ModelChoiceField):
            if field.empty_label == BLANK_CHOICE_DASH[0][1]:
                field.empty_label = CHOOSE if field.required else "–"
        elif isinstance(field, forms.ChoiceField):
            choices: Any = field.choices
            field.choices = [_without_dashes(field, choice) for choice in choices]
        for check in field.validators:
            if isinstance(check, MinValueValidator):
                check.message = AT_LEAST
            elif isinstance(check, MaxValueValidator):
                check.message = AT_MOST


def _without_dashes(field: forms.ChoiceField, choice: Any) -> Any:
    return (choice[0], CHOOSE if field.required else "–") if choice in BLANK_CHOICE_DASH else choice
