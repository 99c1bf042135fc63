"""Who comes in to a player's pages: the phone to which the link belongs, and nobody else.

The first GET only asks, because a chat that previews a link must not use it up; the phone on
which "open" is pressed gets a cookie, and from then on the link opens on that phone only.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Final

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.utils import timezone, translation

from roster.access import may_coach
from roster.models import PlayerLink
from roster.squad.guesses import count_guess, guessed_too_often
from roster.squad.links import is_of, link_behind, new_phone
from roster.squad.spoken import PATH, SEASON, others_than, remembering, speaks_here
from shared.cookies import own_cookie, set_own_cookie
from shared.models import User
from shared.pages import page

PHONE: Final = "phone"  # the cookie by which a phone is known

View = Callable[..., HttpResponse]


def own_pages(view: View) -> View:
    """A page of a player: the view gets the link in place of the token."""

    @wraps(view)
    def guarded(request: HttpRequest, token: str, *args: Any, **kwargs: Any) -> HttpResponse:
        link = link_behind(token, timezone.now())
        if link is not None and _may_enter(link, request):
            return view(request, link, *args, **kwargs)
        address = request.META.get("REMOTE_ADDR", "")
        if guessed_too_often(address, timezone.now()):
            return _outside(request, "player/wait.html", status=429)
        if link is None:
            count_guess(address, timezone.now())
            return closed(request)
        if link.phone or request.method not in ("GET", "HEAD"):
            return closed(request)
        return _ask(request, token)

    # By hand, because the decorator's mark has to be on the outermost function.
    return login_not_required(guarded)


def _may_enter(link: PlayerLink, request: HttpRequest) -> bool:
    """The phone of the link, or the head coach who wants to see what the player sees."""
    return _is_from_phone(link, request) or is_coachs(link, request)


def _is_from_phone(link: PlayerLink, request: HttpRequest) -> bool:
    """By either name: phones of before keep the plain one, and no new link is given to that."""
    return is_of(link, own_cookie(request, PHONE, PATH)) or is_of(
        link, request.COOKIES.get(PHONE, "")
    )


def is_coachs(link: PlayerLink, request: HttpRequest) -> bool:
    return isinstance(request.user, User) and may_coach(request.user, link.player.team)


def reads_only(link: PlayerLink, request: HttpRequest) -> bool:
    """Whether who came in may change nothing: a guardian, or a coach who only looks."""
    return link.is_guardians or not _is_from_phone(link, request)


def own_changes(view: View) -> View:
    """A page of a player that changes something: a guardian's copy and a coach only read."""

    @wraps(view)
    def guarded(request: HttpRequest, link: PlayerLink, *args: Any, **kwargs: Any) -> HttpResponse:
        if reads_only(link, request):
            raise PermissionDenied
        return view(request, link, *args, **kwargs)

    return own_pages(guarded)


def token_here(request: HttpRequest) -> str:
    """The token in the address of the page that was asked for."""
    match = request.resolver_match
    return str(match.kwargs["token"]) if match else ""


def phone_of(request: HttpRequest) -> str:
    """What this phone is known by already, else something new."""
    return own_cookie(request, PHONE, PATH) or new_phone()


def remember(response: HttpResponse, phone: str) -> HttpResponse:
    set_own_cookie(response, PHONE, phone, max_age=SEASON, path=PATH)
    return response


def closed(request: HttpRequest) -> HttpResponse:
    """What a link that opens nothing here says: what to do, and nothing about who exists."""
    return _outside(request, "player/closed.html", status=404)


def _ask(request: HttpRequest, token: str) -> HttpResponse:
    """Whether this is the phone that the link shall belong to; no name before that."""
    return _outside(request, "player/door.html", {"token": token}, secret=True)


def _outside(
    request: HttpRequest,
    template: str,
    context: dict[str, Any] | None = None,
    *,
    status: int = 200,
    secret: bool = False,
) -> HttpResponse:
    """A page before the door: of nobody's team, in the language that this phone asks for."""
    speaks = speaks_here(request)
    with translation.override(speaks):
        told = {"others": others_than(speaks), **(context or {})}
        answer = page(request, template, told, status=status, secret=secret)
    return remembering(answer, request, speaks)
