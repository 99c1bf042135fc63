"""Who signs in, and who tries to: a line of the log for each, without what opens a door.

What was typed as a name stands there only where somebody signs in with it: else it may be a
password that slipped into the wrong field. OWASP's Logging Cheat Sheet (from memory) asks for
these events, with who, when and from where, and for no secret among them.
"""

from __future__ import annotations

import logging
from enum import StrEnum
from typing import Any, Final

# Imported before this module listens, so that the lock is decided when it hears of a wrong try.
import axes.signals  # noqa: F401
from axes.helpers import get_client_ip_address
from django.contrib.auth.signals import user_logged_out, user_login_failed
from django.dispatch import receiver
from django.http import HttpRequest

from shared.models import User

SIGN_INS: Final = logging.getLogger("coachbook.sign_ins")
UNKNOWN: Final = "a name that nobody has"
NOBODY: Final = "nobody"


class WayIn(StrEnum):
    """By what somebody signed in, or tried to; a code may be a recovery code."""

    PASSWORD = "password"
    LINK = "link"
    PASSWORD_AND_CODE = "password and code"
    LINK_AND_CODE = "link and code"
    PASSKEY = "passkey"
    CODE = "code"
    FIRST_PAGE = "first page"


def note_sign_in(request: HttpRequest, user: User, how: WayIn) -> None:
    _write(logging.INFO, "signed in", request, user.username, how)


def note_closed_link(request: HttpRequest) -> None:
    """Somebody has a link that opens nothing any more, or never did."""
    _write(logging.WARNING, "refused", request, NOBODY, WayIn.LINK)


def note_passkey_wanted(request: HttpRequest, user: User, how: WayIn) -> None:
    """What was said is right, and is not enough: the club asks this person for the passkey."""
    _write(logging.WARNING, "refused", request, user.username, how)


@receiver(user_login_failed, dispatch_uid="sign-in log")
def _has_failed(
    credentials: dict[str, Any], request: HttpRequest | None = None, **_facts: Any
) -> None:
    if request is None:
        return
    said = str(credentials.get("username", ""))
    how = WayIn.CODE if "code" in credentials else WayIn.PASSWORD
    if "passkey" in credentials:
        said, how = said.removeprefix("passkey of "), WayIn.PASSKEY
    is_known = User.objects.filter(username=said).exists() if "\x00" not in said else False
    is_locked = getattr(request, "axes_locked_out", False)
    what = "locked" if is_locked else "refused"
    _write(logging.WARNING, what, request, said if is_known else UNKNOWN, how)


@receiver(user_logged_out, dispatch_uid="sign-out log")
def _has_left(request: HttpRequest, user: User | None = None, **_facts: Any) -> None:
    if user is not None:
        _write(logging.INFO, "signed out", request, user.username, None)


def _write(level: int, what: str, request: HttpRequest, who: str, how: WayIn | None) -> None:
    address = get_client_ip_address(request)
    by = f" by {how}" if how else ""
    facts = {"event": what, "who": who, "how": how and str(how), "from": address}
    known = {name: value for name, value in facts.items() if value}
    SIGN_INS.log(level, "%s: %s%s from %s", what, who, by, address, extra={"sign_in": known})
