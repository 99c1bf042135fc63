"""Where the four corners of the half court are in a photo."""

from __future__ import annotations

from typing import Any, Final

from django import forms
from django.utils.translation import gettext_lazy as _

from shared.core.projective import Corner
from shared.forms import ClearForm

CORNERS: Final = (
    ("baseline_left", _("Baseline, left")),
    ("baseline_right", _("Baseline, right")),
    ("half_right", _("Half-way line, right")),
    ("half_left", _("Half-way line, left")),
)
WAYS: Final = (
    ("x", _("%(corner)s: per cent from the left")),
    ("y", _("%(corner)s: per cent from the top")),
)
EDGES: Final = ((5, 5), (95, 5), (95, 95), (5, 95))  # per cent: where the marks wait


class CornersForm(ClearForm):
    """Two numbers for each corner: per cent of the photo from the left and from the top."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, label in CORNERS:
            for way, said in WAYS:
                named = said % {"corner": label}
                field = forms.FloatField(min_value=0, max_value=100, label=named)
                field.widget.attrs["step"] = "0.1"
                self.fields[f"{name}_{way}"] = field

    def corners(self) -> list[Corner]:
        """As shares of width and height."""
        said = self.cleaned_data
        return [(said[f"{name}_x"] / 100, said[f"{name}_y"] / 100) for name, _label in CORNERS]


def as_said(corners: list[Corner]) -> dict[str, float]:
    """What the form shows of corners that are marked, or of none."""
    places = [(round(100 * x, 1), round(100 * y, 1)) for x, y in corners] or EDGES
    found: dict[str, float] = {}
    for (name, _label), (x, y) in zip(CORNERS, places, strict=True):
        found |= {f"{name}_x": x, f"{name}_y": y}
    return found
