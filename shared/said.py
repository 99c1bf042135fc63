"""Days, moments and numbers as a sentence says them, and where a number is from."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django.utils.formats import date_format, get_format
from django.utils.translation import get_language, gettext


def day_said(value: date | datetime, form: str) -> str:
    """A day or moment in words, by one of Django's formats such as ``j M Y``."""
    said: str = small_month(date_format(value, form), form)
    return said


def small_month(said: Any, form: str | None) -> Any:
    """In Spanish a short month is small too ("3 oct"), as the long one is.

    Orthography of the Real Academia Española (2010), I, 4.2.4.11: names of months and days are
    written small. (From memory.)
    """
    is_short = "M" in (form or "") and (get_language() or "").startswith("es")
    return said.lower() if is_short else said


def figure_said(value: float) -> str:
    """A number to three figures, with the decimal sign of the language."""
    return f"{value:.3g}".replace(".", get_format("DECIMAL_SEPARATOR"))


def sources_said(sources: tuple[str, ...]) -> str:
    """The sources of a number, each a sentence of its own."""
    return " ".join(map(gettext, sources))
