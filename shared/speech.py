"""The language of whoever is reading: what the cores speak in a request."""

from __future__ import annotations

from django.utils.translation import get_language

from shared.core.language import ENGLISH, Language, language


def language_now() -> Language:
    """The language that is active, as a core speaks it; English where none is."""
    return language(get_language() or ENGLISH.code)
