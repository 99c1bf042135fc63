"""Cookies of our own: kept for this site alone, and read back under the name that says so.

Behind https a name begins with ``__Host-`` (this host, every path) or ``__Secure-`` (one path), so
that browsers let no other server of the domain, and no answer without https, set one of that name
(RFC 6265bis, 4.1.3). Over plain http browsers refuse these names, so there are none.
"""

from __future__ import annotations

from typing import Final, Literal

from django.conf import settings
from django.contrib.messages.storage.cookie import CookieStorage
from django.contrib.messages.storage.fallback import FallbackStorage
from django.contrib.messages.storage.session import SessionStorage
from django.http import HttpRequest, HttpResponse

HOST: Final = "__Host-"
SECURE: Final = "__Secure-"


def cookie_name(plain: str, path: str = "/") -> str:
    """The name under which browsers keep a cookie of this site."""
    return ((HOST if path == "/" else SECURE) if settings.HTTPS else "") + plain


def set_own_cookie(
    response: HttpResponse,
    plain: str,
    value: str,
    *,
    max_age: int,
    path: str = "/",
    httponly: bool = True,
    samesite: Literal["Lax", "Strict"] = "Lax",
) -> None:
    """Let the browser keep a cookie; ``max_age`` in seconds."""
    response.set_cookie(
        cookie_name(plain, path),
        value,
        max_age=max_age,
        path=path,
        secure=settings.HTTPS,
        httponly=httponly,
        samesite=samesite,
    )


def own_cookie(request: HttpRequest, plain: str, path: str = "/") -> str:
    """What the browser kept; empty where it kept nothing."""
    return request.COOKIES.get(cookie_name(plain, path), "")


class _OwnCookies(CookieStorage):
    cookie_name = cookie_name("messages")


class MessageStorage(FallbackStorage):
    """The framework's own, its cookie under a name like the others."""

    storage_classes = (_OwnCookies, SessionStorage)
