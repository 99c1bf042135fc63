"""The inks of a diagram and their colours in each scheme: one table for all formats.

- paper: the sheet; lane: the tint of the lane; court: the court's lines
- ink: people, paths and words; quiet: the same where another role is emphasised
- own: the emphasised role; on_own: a number on a shape filled with ``own``

Print is pure black on white, and greys that a copier keeps. Contrast against paper and lane:
ink at least 7 to 1, own 6, quiet 4.5 (WCAG 2.2, success criteria 1.4.3 and 1.4.6).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from shared.core.drawing.picture import Ink
from shared.core.drawing.svg import CLASS_PREFIX

Scheme = Literal["light", "dark", "print", "page"]
"""``page`` follows the web page it stands in, light, dark or printed, by CSS classes."""

SCHEMES: Final[Mapping[str, Mapping[Ink, str]]] = MappingProxyType(
    {
        "light": {
            "paper": "#faf8f3",
            "lane": "#f1ede3",
            "court": "#b3aa98",
            "ink": "#1c1b19",
            "quiet": "#6f6a60",
            "own": "#0b5f6a",
            "on_own": "#ffffff",
        },
        "dark": {
            "paper": "#171614",
            "lane": "#201f1c",
            "court": "#5f5a50",
            "ink": "#efece4",
            "quiet": "#9d978a",
            "own": "#63c7d2",
            "on_own": "#0d1a1b",
        },
        "print": {
            "paper": "#ffffff",
            "lane": "#ffffff",
            "court": "#8c8c8c",
            "ink": "#000000",
            "quiet": "#5a5a5a",
            "own": "#000000",
            "on_own": "#ffffff",
        },
    }
)


def inks(scheme: Scheme) -> Mapping[Ink, str]:
    """The colours of a scheme; those of ``page`` are light until a style sheet speaks."""
    return SCHEMES["light" if scheme == "page" else scheme]


def stylesheet() -> str:
    """The text of ``static/css/diagram.css``, which a page with diagrams loads.

    Whoever changes a colour writes this text into that file; a test compares the two.
    """
    head = (
        "/* Colours of the diagrams on web pages, written from plays/core/drawing/inks.py.\n"
        f"   .{CLASS_PREFIX} is the drawing, .{CLASS_PREFIX}-s-INK a line and "
        f".{CLASS_PREFIX}-f-INK an area or text in that ink. */\n"
        f".{CLASS_PREFIX} {{ max-width: 100%; height: auto; }}\n"
    )
    dark = _indented(_rules("dark"))
    plain = _indented(_rules("print"))
    return (
        f"{head}{_rules('light')}"
        f"@media (prefers-color-scheme: dark) {{\n{dark}}}\n"
        f"@media print {{\n{plain}}}\n"
    )


def _rules(scheme: str) -> str:
    return "".join(
        f".{CLASS_PREFIX}-s-{ink} {{ stroke: {colour}; }}\n"
        f".{CLASS_PREFIX}-f-{ink} {{ fill: {colour}; }}\n"
        for ink, colour in SCHEMES[scheme].items()
    )


def _indented(rules: str) -> str:
    return "".join(f"  {rule}\n" for rule in rules.splitlines())


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
