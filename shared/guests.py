"""The library's guest: another coach, who reads published plays, saves copies, and no more.

What a guest may open is listed here, and all else is shut before its view is asked: a page that is
added later is shut to guests by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse

from shared.models import User

PAGES: Final = frozenset(
    {"home", "library", "play", "revision", "play-file", "play-picture", "play-card", "sign-out"}
)
OWN: Final = "account/"  # where the pages of one's own account live
LIBRARY: Final = "library/"


class GuestDoor:
    """The club is strange to a guest, 404; in the library they may only read, 403."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable[..., HttpResponse], *_facts: Any
    ) -> None:
        """Raise Http404 or PermissionDenied. What is open to anybody is open to a guest, too."""
        match = request.resolver_match
        if match is None or not getattr(view, "login_required", True):
            return
        if not (isinstance(request.user, User) and request.user.is_guest):
            return
        if match.url_name in PAGES or match.route.startswith(OWN):
            return
        if match.route.startswith(LIBRARY):
            raise PermissionDenied
        raise Http404
