"""What forms share."""

from __future__ import annotations

from typing import Any

from django import forms


class ClearForm(forms.Form):
    """A form whose fields point at their help and errors, so that a screen reader says them."""

    required_css_class = "required"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)


class ClearModelForm(forms.ModelForm):  # type: ignore[type-arg]
    required_css_class = "required"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
