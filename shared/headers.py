"""Headers that every answer carries: not for search engines, no powers of the device."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

POWERS = "camera=(), geolocation=(), microphone=(), payment=(), usb=()"

KEPT_NOWHERE = "private, no-store"


class PrivacyHeaders:
    """Add the headers that Django and the content security policy leave out."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("X-Robots-Tag", "noindex, nofollow")
        response.headers.setdefault("Permissions-Policy", POWERS)
        # What says nothing itself is kept nowhere: downloads, answers to forms, pages of errors.
        response.headers.setdefault("Cache-Control", KEPT_NOWHERE)
        return response
