"""One address that tries many names: it is stopped, and who works in the same hall is not.

The lock of a name at an address meets who tries one name often; a few tries at each of many
names pass under it. A hall's router gives everybody one address, so past ``MOST`` wrong tries
only devices are let on at which the named person has signed in before: they carry a signed
cookie. A sign-in link opens all the same.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any, Final

from axes.helpers import get_client_ip_address
from axes.models import AccessAttempt
from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.core.signing import BadSignature, Signer
from django.db.models import Sum
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from shared.cookies import own_cookie, set_own_cookie
from shared.models import User

MOST: Final = 50  # wrong tries from one address, over all names, within the time of a lock
COOKIE: Final = "known_device"
LASTS: Final = 365 * 24 * 60 * 60  # seconds
PEOPLE: Final = 8  # a club's laptop is everybody's


class ManyNames:
    """Stands before the other backends and turns away; it signs nobody in and knows nobody."""

    def authenticate(
        self, request: HttpRequest | None, username: str | None = None, **said: Any
    ) -> None:
        if request is None or username is None or _tries_from_here(request) < MOST:
            return
        # Nobody guesses a passkey: the hall keeps a door that a guesser cannot shut.
        if "passkey" in said:
            return
        user = User.objects.filter(username=username).only("pk").first()
        here = [request.user.pk, *known_people(request)]  # signed in, and asked once more
        if user is None or user.pk not in here:
            request.axes_locked_out = True  # type: ignore[attr-defined]  # the page that axes shows
            raise PermissionDenied


def _tries_from_here(request: HttpRequest) -> int:
    since = timezone.now() - timedelta(hours=settings.AXES_COOLOFF_TIME)
    rows = AccessAttempt.objects.filter(
        ip_address=get_client_ip_address(request), attempt_time__gt=since
    )
    return rows.aggregate(n=Sum("failures_since_start"))["n"] or 0


def known_people(request: HttpRequest) -> list[int]:
    """Who has signed in on this device before, the last one first."""
    try:
        said = Signer(salt=COOKIE).unsign(own_cookie(request, COOKIE))
    except BadSignature:
        return []
    return [int(pk) for pk in said.split(".")]


def remember_device(request: HttpRequest, response: HttpResponse, user: User) -> None:
    """Let this device be known as one on which this person has signed in."""
    people = [user.pk, *(pk for pk in known_people(request) if pk != user.pk)][:PEOPLE]
    signed = Signer(salt=COOKIE).sign(".".join(map(str, people)))
    set_own_cookie(response, COOKIE, signed, max_age=LASTS)
