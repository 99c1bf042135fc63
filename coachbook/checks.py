"""What is checked before the site starts; each finding says how to mend it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, register
from django.core.checks import Warning as Caution

OPEN_HOSTS = {"*", ".", ""}
HERE = {"localhost", "127.0.0.1", "::1"}


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


def proves_itself(database: Mapping[str, Any]) -> bool:
    """Whether these settings reach a database on this machine, or one that proves who it is."""
    said = database["OPTIONS"]
    host = said.get("host") or database.get("HOST", "")
    return not host or host.startswith("/") or host in HERE or said.get("sslmode") == "verify-full"


@register(deploy=True)
def database_is_known(**_: Any) -> list[CheckMessage]:
    """A database on another machine is asked who it is, and talked to over TLS."""
    if proves_itself(settings.DATABASES["default"]):
        return []
    return [
        Caution(
            "COACHBOOK_DATABASE is on another machine, and nobody asks that machine who it is.",
            hint="Write ?sslmode=verify-full after the address, and &sslrootcert= with the "
            "certificate of the authority that the server's own is proved by.",
            id="coachbook.W002",
        )
    ]
