"""Every field of a form is called by a sentence of the catalogue, never by its name in the code."""

from __future__ import annotations

import importlib
import pkgutil

import pytest
from django import forms
from django.utils.functional import Promise

# What is called when the form is made, and what only stands in an address.
LATER = {
    "SignInForm": ["username"],
    "ViewForm": ["turn"],
    "BeginForm": ["name", "situation", "level"],
}
APPS = ("coachbook", "plays", "roster", "practice", "shared")


def of_ours() -> list[type[forms.BaseForm]]:
    """Every form of the apps whose fields stand in its class."""
    for app in APPS:
        package = importlib.import_module(app)
        for found in pkgutil.walk_packages(package.__path__, f"{app}."):
            if "form" in found.name.rpartition(".")[2]:
                importlib.import_module(found.name)
    known, todo = set(), [forms.BaseForm]
    while todo:
        for each in todo.pop().__subclasses__():
            if each not in known:
                known.add(each)
                todo.append(each)
    return sorted(
        (each for each in known if each.__module__.partition(".")[0] in APPS),
        key=lambda each: f"{each.__module__}.{each.__qualname__}",
    )


def in_the_codes_words(form: type[forms.BaseForm]) -> list[str]:
    return [
        name
        for name, field in getattr(form, "base_fields", {}).items()
        if not isinstance(field.label, Promise) and not field.widget.is_hidden
    ]


@pytest.mark.parametrize("form", of_ours(), ids=lambda form: form.__qualname__)
def test_a_field_is_called_by_a_sentence(form: type[forms.BaseForm]) -> None:
    assert in_the_codes_words(form) == LATER.get(form.__name__, [])


def test_a_field_without_a_label_is_found() -> None:
    class Bare(forms.Form):
        shoe_size = forms.CharField()

    assert in_the_codes_words(Bare) == ["shoe_size"]
