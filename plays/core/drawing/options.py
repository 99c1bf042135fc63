"""How a diagram is drawn: one value that the address, a sheet or a test fills in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import sqrt
from typing import Final, Literal

from plays.core.drawing.frame import Crop
from plays.core.drawing.inks import Scheme
from plays.core.play import Role
from shared.core.language import ENGLISH, Language

LabelKind = Literal["number", "name", "both"]

WIDTH: Final = 360.0
"""Points: at this width people, lines and letters have the sizes written in the code."""

LEAST: Final = 9.2
"""Points: no letter is smaller on paper."""

PAGE_WIDTH: Final = 300.0
PAGE_LEAST: Final = 12.2
"""A page draws for a phone of 360 px, where a picture is a little wider than 300 px."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a diagram shows of its play, and in what size, colours and language.

    With ``emphasis`` that role's lines are heavy and carry the numbers of its steps, counted
    over the whole play; without it ``numbers`` says by action which number stands beside its
    line. A role without a name in ``names`` keeps its number. ``width`` is in
    points, and so is ``least``, under which no letter is drawn.
    """

    emphasis: Role | None = None
    names: Mapping[Role, str] = field(default_factory=dict)
    label: LabelKind = "number"
    defenders: bool = False
    numbers: Mapping[str, int] = field(default_factory=dict)
    crop: Crop = "half"
    scheme: Scheme = "light"
    language: Language = ENGLISH
    width: float = WIDTH
    least: float = LEAST

    @property
    def marks(self) -> float:
        """How much larger people, lines and letters are than at ``WIDTH``."""
        return sqrt(self.width / WIDTH)

    def letters(self, size: float) -> float:
        """A size of letters at ``WIDTH``, enlarged so that ``least`` holds once it is drawn."""
        return max(size, self.least / self.marks)


PLAIN: Final = Drawing()


def on_page(drawing: Drawing, language: Language) -> Drawing:
    """The same as a page shows it: in the colours around it, and legible on a phone."""
    return replace(drawing, scheme="page", language=language, width=PAGE_WIDTH, least=PAGE_LEAST)
