"""The inks of the count strip: those of the diagrams, and two for what the check found.

Amber and brick stand for severity only, and never without a shape of their own.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.diagram_inks import Scheme, inks
from shared.core.drawing.picture import Ink

FOUND: Final[Mapping[str, Mapping[Ink, str]]] = MappingProxyType(
    {
        "light": {"bad": "#93291c", "warn": "#7a4b00"},
        "dark": {"bad": "#ffa898", "warn": "#f0bd68"},
        "print": {"bad": "#000000", "warn": "#000000"},
    }
)


def strip_inks(scheme: Scheme) -> Mapping[Ink, str]:
    """The colours of a scheme; those of ``page`` are light until a style sheet speaks."""
    return {**inks(scheme), **FOUND["light" if scheme == "page" else scheme]}
