"""Forms speak plainly: no row of dashes, and limits in words."""

from __future__ import annotations

import pytest
from django import forms
from django.forms import modelform_factory
from django.utils import translation

from practice.models import Drill
from shared.forms import ClearForm, ClearModelForm


class OfTheClub(forms.CharField):
    default_error_messages = {"required": "The club has a name."}


class AllForm(ClearForm):
    day = forms.DateField()
    start = forms.TimeField()
    minutes = forms.IntegerField()
    seconds = forms.FloatField()
    kind = forms.ChoiceField(choices=[("live", "Live")])
    notes = forms.CharField(max_length=5)
    club = OfTheClub()


class MinutesForm(ClearForm):
    minutes = forms.IntegerField(min_value=1, max_value=60)
    kind = forms.ChoiceField(choices=[("", "---------"), ("live", "Live")])
    mode = forms.ChoiceField(choices=[("", "---------"), ("live", "Live")], required=False)


def test_limits_are_said_in_words() -> None:
    said = [MinutesForm({"minutes": n, "kind": "live"}).errors["minutes"] for n in ("0", "61")]
    assert said == [["Write 1 or more."], ["Write 60 or less."]]


def test_the_limits_of_a_row_are_said_in_the_same_words() -> None:
    """Those that only the model's column holds: the form checks them when it builds the row."""
    limited = modelform_factory(Drill, form=ClearModelForm, fields=["name", "minutes"])
    said = [
        limited({"name": name, "minutes": n}).errors for name, n in (("a", "121"), ("x" * 61, "8"))
    ]
    assert said[0] == {"minutes": ["Write 120 or less."]}
    assert said[1] == {"name": ["At most 60 characters; these are 61."]}


WRONG = {
    "day": "1234-56-78",
    "start": "25:99",
    "minutes": "abc",
    "seconds": "abc",
    "kind": "zzz",
    "notes": "too long",
}


@pytest.mark.parametrize(
    ("language", "said"),
    [
        (
            "en",
            [
                "Write a day of the calendar.",
                "Write a time, as in 18:30.",
                "Write a whole number.",
                "Write a number.",
                "This is none of the choices. Choose again.",
                "At most 5 characters; these are 8.",
                "The club has a name.",
            ],
        ),
        (
            "es",
            [
                "Escribe un día del calendario.",
                "Escribe una hora, como 18:30.",
                "Escribe un número entero.",
                "Escribe un número.",
                "Esto no es ninguna de las opciones. Elige otra vez.",
                "Como mucho 5 caracteres; aquí hay 8.",
                "The club has a name.",
            ],
        ),
    ],
)
def test_a_fault_is_said_as_the_site_speaks(language: str, said: list[str]) -> None:
    """Never the framework's words, which talk of values, in Spanish to another person than ours."""
    with translation.override(language):
        assert [one for found in AllForm(WRONG).errors.values() for one in found] == said
        missing = AllForm({}).errors
        assert [str(one) for found in missing.values() for one in found] == [
            *["Fill this in." if language == "en" else "Rellena esto."] * 6,
            "The club has a name.",
        ]


def test_an_empty_choice_is_a_word_where_one_is_needed() -> None:
    form = MinutesForm()
    first = [str(next(iter(form.fields[name].choices))[1]) for name in ("kind", "mode")]  # type: ignore[attr-defined]  # both are choice fields
    assert first == ["choose", "–"]
    assert "---" not in form.as_p()
