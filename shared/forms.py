"""What forms share."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import partial
from types import MappingProxyType
from typing import Any, Final

from django import forms
from django.db.models import Model
from django.db.models.fields import BLANK_CHOICE_DASH
from django.utils.translation import gettext_lazy as _

from shared import stood
from shared.core.numbers import whole_number

CHOOSE = _("choose")
AT_LEAST = _("Write %(limit_value)s or more.")
CHANGED_MEANWHILE = _(
    "Somebody has changed this meanwhile. Nothing is saved yet: look at what stands there now, "
    "and save again to put yours in its place."
)
STANDS_NOW = _("There stands now: %(value)s")
AT_MOST = _("Write %(limit_value)s or less.")
TOO_LONG = _("At most %(limit_value)s characters; these are %(show_value)s.")
LIMITS: Final = MappingProxyType(
    {"min_value": AT_LEAST, "max_value": AT_MOST, "max_length": TOO_LONG}
)
# In place of what the framework says of a field, where the field says nothing of its own.
PLAIN: Final[Mapping[type[forms.Field], Mapping[str, Any]]] = MappingProxyType(
    {
        forms.Field: {"required": _("Fill this in.")},
        forms.ChoiceField: {"invalid_choice": _("This is none of the choices. Choose again.")},
        forms.ModelMultipleChoiceField: {
            "invalid_pk_value": _("This is none of the choices. Choose again.")
        },
        forms.FloatField: {"invalid": _("Write a number.")},  # before what it is a kind of
        forms.IntegerField: {"invalid": _("Write a whole number.")},
        forms.DateField: {"invalid": _("Write a day of the calendar.")},
        forms.TimeField: {"invalid": _("Write a time, as in 18:30.")},
    }
)


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
    """The same for a row; where the row is there already, nobody overwrites it unseen."""

    required_css_class = "required"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        speak_plainly(self.fields.values())
        if self.instance.pk is not None:
            self.fields[stood.FIELD] = forms.CharField(required=False, widget=forms.HiddenInput)
            self.initial[stood.FIELD] = stood.mark_of(self._values(self.instance))

    def full_clean(self) -> None:
        speak_plainly(self.fields.values())  # those that a form has added for itself, too
        super().full_clean()

    def _values(self, row: Model) -> dict[str, Any]:
        return stood.values_of(row, list(self._meta.fields or ()))

    def _clean_form(self) -> None:
        super()._clean_form()  # type: ignore[misc]  # the framework's own step, between the two
        seen: str = self.cleaned_data.get(stood.FIELD) or ""
        now = stood.stored(self.instance) if seen else None
        if now is not None:
            tell_what_stands(self, seen, self._values(now))


class CellsForm(ClearForm):
    """Values that several people edit; each field carries what it was shown with.

    What nobody changed here stays as it is now, and a value that somebody else has changed
    meanwhile is told instead of overwritten. The initial values are those of this moment: the
    view reads them in the transaction that saves, and holds their rows.
    """

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.carry_what_is_shown()

    def carry_what_is_shown(self) -> None:
        """For the fields that there are: a form that adds more calls it again."""
        for field in self.fields.values():
            field.show_hidden_initial = True

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for name in self.fields:
            if name in cleaned and self.add_initial_prefix(name) in self.data:
                self._compare(name)
        return cleaned

    def _compare(self, name: str) -> None:
        field, sent = self.fields[name], self.add_initial_prefix(name)
        now = self.get_initial_for_field(field, name)
        if name not in self.changed_data:
            self.cleaned_data[name] = now
            return
        if now in (self._seen(name), self.cleaned_data[name]):
            return
        data: Any = self.data
        self.data = data.copy()
        self.data[sent] = "" if now is None else str(now)  # type: ignore[index]  # a form's own copy
        self.add_error(name, STANDS_NOW % {"value": stood.shown(field, now)})

    def _seen(self, name: str) -> Any:
        try:
            return self.fields[name].to_python(self.data[self.add_initial_prefix(name)])
        except forms.ValidationError:
            return None


class RowsField(forms.ModelMultipleChoiceField):  # type: ignore[type-arg]
    """Several rows to tick. A key that no row can have is no choice, and no failure."""

    def _check_values(self, value: Any) -> Any:
        for key in value:
            if whole_number(str(key)) is None:
                raise forms.ValidationError(
                    self.error_messages["invalid_choice"],
                    code="invalid_choice",
                    params={"value": str(key)[:20]},
                )
        return super()._check_values(value)  # type: ignore[misc]  # the framework's own step


def tell_what_stands(form: forms.BaseForm, seen: str, now: Mapping[str, Any]) -> None:
    """Say what differs where there stand other values now than a form was shown with.

    ``seen`` is the mark that it came with; what is told stands in it when it is sent again.
    """
    mark = stood.mark_of(now)
    typed = {name: stood.plain(form.cleaned_data.get(name)) for name in now}
    other = [name for name in now if name in form.fields and typed[name] != now[name]]
    if seen == mark or not other:
        return
    data: Any = form.data
    form.data = data.copy()
    form.data[form.add_prefix(stood.FIELD)] = mark  # type: ignore[index]  # a form's own copy
    form.add_error(None, CHANGED_MEANWHILE)
    for name in other:
        said = STANDS_NOW % {"value": stood.shown(form.fields[name], now[name])}
        if name in form.cleaned_data:
            form.add_error(name, said)


def speak_plainly(fields: Iterable[forms.Field]) -> None:
    """Words in place of the framework's row of dashes and of its talk of values."""
    for field in fields:
        if isinstance(field, forms.ModelChoiceField):
            if field.empty_label == BLANK_CHOICE_DASH[0][1]:
                field.empty_label = CHOOSE if field.required else "–"
        elif isinstance(field, forms.ChoiceField):
            choices: Any = field.choices
            field.choices = [_without_dashes(field, choice) for choice in choices]
        _say_plainly(field)


def _say_plainly(field: forms.Field) -> None:
    # Under these names a field finds its own sentence for its checks, and for those of its model.
    for code, said in LIMITS.items():
        field.error_messages.setdefault(code, said)
    for kind in filter(partial(isinstance, field), PLAIN):
        for key, said in PLAIN[kind].items():
            if _is_frameworks(field, key):
                field.error_messages[key] = said


def _is_frameworks(field: forms.Field, key: str) -> bool:
    """Whether a field says what the framework says, and nothing of its own."""
    said = field.error_messages.get(key)
    return any(
        said is vars(each).get("default_error_messages", {}).get(key)
        for each in type(field).__mro__
        if said is not None and each.__module__.startswith("django.")
    )


def _without_dashes(field: forms.ChoiceField, choice: Any) -> Any:
    return (choice[0], CHOOSE if field.required else "–") if choice in BLANK_CHOICE_DASH else choice
