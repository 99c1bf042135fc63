"""In which language a phone is spoken to: the one its player asked for, now or before."""

from __future__ import annotations

from typing import Final

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import translation

from shared.cookies import own_cookie, set_own_cookie

SPEAKS: Final = "speaks"  # the cookie that holds the language a player chose
PATH: Final = "/my/"
SEASON: Final = 400 * 24 * 3600  # seconds; browsers keep no cookie for longer


def speaks_here(request: HttpRequest, otherwise: str | None = None) -> str:
    """The language asked for now, or chosen before; else ``otherwise``, else the browser's."""
    asked = request.GET.get("in") or own_cookie(request, SPEAKS, PATH)
    if asked in dict(settings.LANGUAGES):
        return asked
    return otherwise or translation.get_language_from_request(request)


def others_than(speaks: str) -> list[tuple[str, str]]:
    """The languages to choose instead, by code, with their names."""
    return [(code, name) for code, name in settings.LANGUAGES if code != speaks]


def remembering(response: HttpResponse, request: HttpRequest, speaks: str) -> HttpResponse:
    """Keep the language that was asked for just now."""
    if request.GET.get("in") == speaks:
        set_own_cookie(response, SPEAKS, speaks, max_age=SEASON, path=PATH)
    return response
