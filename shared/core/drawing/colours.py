"""The one table of colours: pages, diagrams and the count strip take theirs from here.

Each has a colour for light screens, dark screens and paper. Print is black on white and greys that
a copier keeps. Contrast on paper, light: ink 16 to 1, faint 7, accent 6.9 (WCAG 2.2, success
criteria 1.4.3 and 1.4.6). A wash lies behind a note of that severity and is never printed alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

Medium = Literal["light", "dark", "print"]


class Colour(NamedTuple):
    """One name's colour on each medium."""

    light: str
    dark: str
    print: str

    def on(self, medium: Medium) -> str:
        """The colour on a medium."""
        return str(getattr(self, medium))


COLOURS: Final[Mapping[str, Colour]] = MappingProxyType(
    {
        "paper": Colour("#faf8f3", "#171614", "#ffffff"),
        "sheet": Colour("#ffffff", "#201f1c", "#ffffff"),
        "shade": Colour("#f0ece2", "#2a2824", "#ffffff"),
        "rule": Colour("#d9d3c4", "#3d3a34", "#888888"),
        "edge": Colour("#857e6e", "#938c7d", "#857e6e"),
        "ink": Colour("#1c1b19", "#efece4", "#000000"),
        "faint": Colour("#57534a", "#bdb7a9", "#222222"),
        "accent": Colour("#0b5f6a", "#63c7d2", "#000000"),
        "on-accent": Colour("#ffffff", "#0d1a1c", "#ffffff"),
        "accent-wash": Colour("#e1eff0", "#173238", "#e1eff0"),
        "amber": Colour("#7a4b00", "#f0bd68", "#000000"),
        "amber-wash": Colour("#fbefd6", "#38290f", "#fbefd6"),
        "brick": Colour("#93291c", "#ffa898", "#000000"),
        "brick-wash": Colour("#fae5e1", "#3f1d17", "#fae5e1"),
        "green": Colour("#255a30", "#97d6a4", "#000000"),
        "green-wash": Colour("#e3f0e4", "#18331e", "#e3f0e4"),
        # The same on every medium: a code that cameras read, the veil behind a dialogue.
        "always-dark": Colour("#000000", "#000000", "#000000"),
        "always-light": Colour("#ffffff", "#ffffff", "#ffffff"),
        # The court of a diagram: its lines, the tint of its lane, and people who stand back.
        "court": Colour("#b3aa98", "#5f5a50", "#3a3a3a"),
        "lane": Colour("#f1ede3", "#201f1c", "#ffffff"),
        "quiet": Colour("#6f6a60", "#9d978a", "#303030"),
    }
)


def declared(medium: Medium) -> str:
    """The table as custom properties of a style sheet, one a line."""
    return "".join(f"--{name}: {colour.on(medium)};\n" for name, colour in COLOURS.items())
