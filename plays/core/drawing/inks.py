"""The inks of a diagram: which colour of the one table each takes.

- paper: the sheet; lane: the tint of the lane; court: the court's lines
- ink: people, paths and words; quiet: the same where another role is emphasised
- own: the emphasised role; on_own: a number on a shape filled with ``own``
- bad, warn: what the check found, in the count strip

Contrast against paper and lane: ink at least 7 to 1, own 6, quiet 4.5 (WCAG 2.2, success
criteria 1.4.3 and 1.4.6).
"""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import indent
from types import MappingProxyType
from typing import Final, Literal

from shared.core.drawing.colours import COLOURS, Medium, declared
from shared.core.drawing.picture import Ink
from shared.core.drawing.svg import CLASS_PREFIX

Scheme = Literal["light", "dark", "print", "page"]
"""``page`` follows the web page it stands in, light, dark or printed, by CSS classes."""

INKS: Final[Mapping[Ink, str]] = MappingProxyType(
    {
        **{name: name for name in ("paper", "lane", "court", "ink", "quiet")},
        "own": "accent",
        "on_own": "on-accent",
    }
)
FOUND: Final[Mapping[Ink, str]] = MappingProxyType({"bad": "brick", "warn": "amber"})


def inks(scheme: Scheme) -> Mapping[Ink, str]:
    """The colours of a scheme; those of ``page`` are light until a style sheet speaks."""
    return _coloured(INKS, scheme)


def strip_inks(scheme: Scheme) -> Mapping[Ink, str]:
    """The inks of a diagram, and those of findings."""
    return _coloured({**INKS, **FOUND}, scheme)


def stylesheet() -> str:
    """The text of ``static/css/colours.css``, which every page loads.

    ``python3 -m coachbook.colours`` writes it after a change; a test compares the two.
    """
    rules = "".join(
        f".{CLASS_PREFIX}-s-{ink} {{ stroke: var(--{name}); }}\n"
        f".{CLASS_PREFIX}-f-{ink} {{ fill: var(--{name}); }}\n"
        for ink, name in {**INKS, **FOUND}.items()
    )
    return (
        "/* Written by python3 -m coachbook.colours from shared/core/drawing/colours.py.\n"
        f"   .{CLASS_PREFIX} is a drawing, .{CLASS_PREFIX}-s-INK a line and "
        f".{CLASS_PREFIX}-f-INK an area or text in that ink. */\n"
        f"{_root('light')}"
        f"@media (prefers-color-scheme: dark) {{\n{indent(_root('dark'), '  ')}}}\n"
        f"@media print {{\n{indent(_root('print'), '  ')}}}\n"
        f".{CLASS_PREFIX} {{ max-width: 100%; height: auto; }}\n{rules}"
    )


def _root(medium: Medium) -> str:
    return f":root {{\n{indent(declared(medium), '  ')}}}\n"


def _coloured(names: Mapping[Ink, str], scheme: Scheme) -> Mapping[Ink, str]:
    medium: Medium = "light" if scheme == "page" else scheme
    return MappingProxyType({ink: COLOURS[name].on(medium) for ink, name in names.items()})
