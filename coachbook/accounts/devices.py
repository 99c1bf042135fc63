"""Where somebody is signed in: which devices, when they were last seen, and ending them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from django.conf import settings
from django.contrib.auth import logout
from django.contrib.auth.signals import user_logged_in
from django.contrib.sessions.backends.base import UpdateError
from django.contrib.sessions.models import Session
from django.core.cache import cache
from django.db import DatabaseError, transaction
from django.db.models import QuerySet
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.models import OpenSession, User
from shared.patience import patient_for

SEEN_EVERY: Final = 5 * 60  # seconds; a device is written down as seen no more often
RESTS: Final = timedelta(days=21)  # longer between two practices is a holiday
DAY: Final = 24 * 3600  # seconds; so often at most the session itself says when it was seen
# In the session, in seconds since 1970, so that no query is needed for them.
SEEN: Final = "seen_at"
SINCE: Final = "signed_in_at"
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
    """Write down on which device somebody is signed in, and when it was last seen.

    One that has rested for ``RESTS``, or was signed in too long ago, is signed out before its page
    is asked.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        now = timezone.now()
        if request.session.session_key and _is_over(request, now):
            logout(request)
        response = self.get_response(request)
        key = request.session.session_key
        if key and isinstance(request.user, User) and cache.add(f"seen.{key}", True, SEEN_EVERY):
            # A page that could be read is not lost because nothing can be written now, and does
            # not wait until it can: the next one writes it down.
            try:
                with patient_for(0), transaction.atomic():
                    _see(request, request.user, key, now)
            except (DatabaseError, UpdateError):
                cache.delete(f"seen.{key}")
        return response


@receiver(user_logged_in, dispatch_uid="devices")
def _begins(request: HttpRequest, **_facts: Any) -> None:
    now = timezone.now().timestamp()
    request.session.update({SINCE: now, SEEN: now})


def _is_over(request: HttpRequest, now: datetime) -> bool:
    """Every change of a session would give it a new life: how old it is stands in it."""
    seen, since = (request.session.get(name, now.timestamp()) for name in (SEEN, SINCE))
    rests, lasts = now.timestamp() - seen, now.timestamp() - since
    return bool(rests > RESTS.total_seconds() or lasts > settings.SESSION_COOKIE_AGE)


def _see(request: HttpRequest, user: User, key: str, now: datetime) -> None:
    _note_day(request, now)
    agent = request.headers.get("User-Agent", "")
    told = {"user": user, "agent": agent[:300], "seen_at": now}
    if OpenSession.objects.update_or_create(key=key, defaults=told)[1]:
        gone = now - timedelta(seconds=settings.SESSION_COOKIE_AGE)
        OpenSession.objects.filter(user=user, seen_at__lt=gone).delete()


def _note_day(request: HttpRequest, now: datetime) -> None:
    """Let the session say when it was seen; never back: a clock that was wrong is no rest."""
    session = request.session
    if now.timestamp() < session.get(SEEN, 0) + DAY:
        return
    is_saved_anyway = session.modified
    session[SEEN] = now.timestamp()
    session.setdefault(SINCE, now.timestamp())  # of before this was kept
    if is_saved_anyway:
        return
    try:
        session.save()
    finally:
        session.modified = False  # saved, or to be saved another time


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
