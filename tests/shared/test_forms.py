"""Forms speak plainly: no row of dashes, and limits in words."""

from __future__ import annotations

from django import forms

from shared.forms import ClearForm


class MinutesForm(ClearForm):
    minutes = forms.IntegerField(min_value=1, max_value=60)
    kind = forms.ChoiceField(choices=[("", "---------"), ("live", "Live")])
    mode = forms.ChoiceField(choices=[("", "---------"), ("live", "Live")], required=False)


def test_limits_are_said_in_words() -> None:
    said = [MinutesForm({"minutes": n, "kind": "live"}).errors["minutes"] for n in ("0", "61")]
    assert said == [["Write 1 or more."], ["Write 60 or less."]]


def test_an_empty_choice_is_a_word_where_one_is_needed() -> None:
    form = MinutesForm()
    first = [str(next(iter(form.fields[name].choices))[1]) for name in ("kind", "mode")]  # type: ignore[attr-defined]  # both are choice fields
    assert first == ["choose", "–"]
    assert "---" not in form.as_p()
