"""Where somebody is signed in: which devices, when they were last seen, and ending them."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from django.conf import settings
from django.contrib.sessions.models import Session
from django.core.cache import cache
from django.db import DatabaseError, transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.models import OpenSession, User

SEEN_EVERY: Final = 5 * 60  # seconds; a device is written down as seen no more often
# In this order, because most browsers name others beside themselves.
SYSTEMS: Final = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Macintosh", "Mac"),
    ("CrOS", "ChromeOS"),
    ("Linux", "Linux"),
)
BROWSERS: Final = (
    (r"Edg\w*/", "Edge"),
    (r"OPR/", "Opera"),
    (r"SamsungBrowser/", "Samsung"),
    (r"Firefox/|FxiOS/", "Firefox"),
    (r"Chrome/|CriOS/", "Chrome"),
    (r"Safari/", "Safari"),
)


@dataclass(frozen=True, slots=True)
class Device:
    """One open session in plain words; ``here`` where it is the one that asks."""

    row: OpenSession
    words: str
    here: bool


class SeenDevices:
    """Write down on which device somebody is signed in, and when it was last seen."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        key = request.session.session_key
        if key and isinstance(request.user, User) and cache.add(f"seen.{key}", True, SEEN_EVERY):
            # A page that could be read is not lost because nothing can be written now.
            with suppress(DatabaseError), transaction.atomic():
                _see(request.user, key, request.headers.get("User-Agent", ""))
        return response


def _see(user: User, key: str, agent: str) -> None:
    now = timezone.now()
    told = {"user": user, "agent": agent[:300], "seen_at": now}
    if OpenSession.objects.update_or_create(key=key, defaults=told)[1]:
        gone = now - timedelta(seconds=settings.SESSION_COOKIE_AGE)
        OpenSession.objects.filter(user=user, seen_at__lt=gone).delete()


def open_sessions(user: User) -> QuerySet[OpenSession]:
    """Somebody's sessions that live, the one seen last first."""
    living = Session.objects.filter(expire_date__gt=timezone.now()).values("session_key")
    return user.open_sessions.filter(key__in=living)


def devices_of(user: User, here: str | None) -> list[Device]:
    return [Device(row, in_words(row.agent), row.key == here) for row in open_sessions(user)]


@transaction.atomic
def end(rows: QuerySet[OpenSession]) -> int:
    """End these sessions at once; how many there were."""
    keys = list(rows.values_list("key", flat=True))
    Session.objects.filter(session_key__in=keys).delete()
    OpenSession.objects.filter(key__in=keys).delete()
    return len(keys)


def end_others(user: User, here: str | None) -> int:
    """End all of somebody's sessions but this one."""
    return end(user.open_sessions.exclude(key=here or ""))


def in_words(agent: str) -> str:
    """What a browser says of itself, as a person would: "Firefox on Android"."""
    system = next((words for sign, words in SYSTEMS if sign in agent), None)
    browser = next((words for sign, words in BROWSERS if re.search(sign, agent)), None)
    if browser is None or system is None:
        return browser or system or _("A device that does not say what it is")
    return _("%(browser)s on %(system)s") % {"browser": browser, "system": system}
