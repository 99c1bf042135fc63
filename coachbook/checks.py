"""What is checked before the site starts; each finding says how to mend it."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, register
from django.core.checks import Warning as Caution

OPEN_HOSTS = {"*", ".", ""}


@register()
def hosts_are_named(**_: Any) -> list[CheckMessage]:
    """Without the names by which it is reached the site answers nobody, or anybody."""
    if settings.DEBUG or not OPEN_HOSTS & set(settings.ALLOWED_HOSTS):
        return []
    return [
        Error(
            "COACHBOOK_HOSTS lets any host name in.",
            hint="Write the names and addresses under which people open the site, with commas.",
            id="coachbook.E001",
        )
    ]


@register()
def origins_have_schemes(**_: Any) -> list[CheckMessage]:
    """An origin without its scheme never matches, and every form would fail."""
    wrong = [o for o in settings.CSRF_TRUSTED_ORIGINS if not o.startswith(("http://", "https://"))]
    return [
        Error(
            f"COACHBOOK_ORIGINS: {origin!r} has no scheme.",
            hint=f"Write https://{origin}.",
            id="coachbook.E002",
        )
        for origin in wrong
    ]


@register()
def proxy_is_named(**_: Any) -> list[CheckMessage]:
    """Over https without a known proxy every page would send the browser to itself for ever."""
    if not settings.HTTPS or settings.PROXY:
        return []
    return [
        Error(
            "COACHBOOK_HTTPS is on, and no proxy is named.",
            hint="Write the address from which the proxy comes: COACHBOOK_PROXY=127.0.0.1 where "
            "it runs on this machine.",
            id="coachbook.E003",
        )
    ]


@register(deploy=True)
def travels_encrypted(**_: Any) -> list[CheckMessage]:
    """Outside the machine itself, sign-in and sheets should travel over https."""
    if settings.HTTPS:
        return []
    return [
        Caution(
            "COACHBOOK_HTTPS is off.",
            hint="Behind a proxy that speaks https set COACHBOOK_HTTPS=yes and COACHBOOK_PROXY.",
            id="coachbook.W001",
        )
    ]
