"""How a diagram is drawn: one value that the address, a sheet or a test fills in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from plays.core.drawing.frame import Crop
from plays.core.drawing.inks import Scheme
from plays.core.play import Role
from shared.core.language import ENGLISH, Language

LabelKind = Literal["number", "name", "both"]

WIDTH: Final = 360.0
"""Points: at this width people, lines and letters have the sizes written in the code."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a diagram shows of its play, and in what size, colours and language.

    With ``emphasis`` that role's lines are heavy and carry the numbers of its steps, counted
    over the whole play. A role without a name in ``names`` keeps its number. ``width`` is in
    points.
    """

    emphasis: Role | None = None
    names: Mapping[Role, str] = field(default_factory=dict)
    label: LabelKind = "number"
    defenders: bool = False
    crop: Crop = "half"
    scheme: Scheme = "light"
    language: Language = ENGLISH
    width: float = WIDTH


PLAIN: Final = Drawing()
