"""The language of whoever is reading: what the cores speak in a request."""

from __future__ import annotations

from django.conf import settings
from django.utils.translation import get_language

from shared.core.language import ENGLISH, Language, language


def language_of(code: str) -> Language:
    """The language for a code, from the site's catalogues. Raises UnknownLanguageError."""
    return language(code, settings.LOCALE_PATHS[0])


def language_now() -> Language:
    """The language that is active, as a core speaks it; English where none is."""
    return language_of(get_language() or ENGLISH.code)
