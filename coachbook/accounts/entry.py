"""The last step of signing in, however it began: at once, or after a one-time code.

Who has said the password and still owes a code is signed in nowhere: the session holds only who
it would be, for ten minutes, and no page but the one that asks for the code reads it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.contrib import messages
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.translation import gettext as _

from coachbook.accounts.codes import codes_of
from coachbook.accounts.second_step import steps_of
from coachbook.accounts.sign_in_log import WayIn, note_passkey_wanted, note_sign_in
from coachbook.accounts.throttle import remember_device
from shared.models import OneTimeCodes, User
from shared.sure import be_unsure

BACKEND: Final = "django.contrib.auth.backends.ModelBackend"
BY_LINK: Final = "by_link_at"
OWED: Final = "code_owed"
LASTS: Final = 10 * 60  # seconds


@dataclass(frozen=True, slots=True)
class HalfSignedIn:
    """Somebody who owes a code, what it is checked against, and where it leads."""

    user: User
    codes: OneTimeCodes
    leads_to: str
    by_link: bool
    how: WayIn


def enter(
    request: HttpRequest, user: User, leads_to: str, *, how: WayIn, by_link: bool = False
) -> HttpResponse:
    """Sign in who has said the password or opened a link; or ask for the code that is owed.

    ``by_link``: the link opens once, and stands for the old password for a while.
    """
    if (asked := ask_for_passkey(request, user, how)) is not None:
        return asked
    if codes_of(user) is None:
        return sign_in(request, user, leads_to, how=how, by_link=by_link)
    logout(request)  # somebody else may have been signed in here; and the session gets a new key
    request.session[OWED] = {
        "user": user.pk,
        "at": timezone.now().timestamp(),
        "password": user.get_session_auth_hash(),
        "leads_to": leads_to,
        "by_link": by_link,
        "how": WayIn.LINK_AND_CODE if how == WayIn.LINK else WayIn.PASSWORD_AND_CODE,
    }
    return redirect("sign-in-code")


def ask_for_passkey(request: HttpRequest, user: User, how: WayIn) -> HttpResponse | None:
    """Back to the door, where the club asks this person for the passkey that they have."""
    if not steps_of(user).needs_passkey:
        return None
    note_passkey_wanted(request, user, how)
    told = _(
        "Sign in with your passkey: the club asks for more than the password. Lost it? Who runs "
        "the club removes it from your page."
    )
    messages.warning(request, told)
    return redirect("sign-in")


def who_owes(request: HttpRequest) -> HalfSignedIn | None:
    """Who is half signed in at this device; None too late, or after a new password."""
    owed: dict[str, Any] = request.session.get(OWED, {})
    since = timezone.now().timestamp() - owed.get("at", 0)
    if not 0 <= since < LASTS:
        return None
    user = User.objects.filter(pk=owed["user"], is_active=True).first()
    if user is None or not constant_time_compare(owed["password"], user.get_session_auth_hash()):
        return None
    row = codes_of(user)
    if row is None:
        return None
    return HalfSignedIn(user, row, owed["leads_to"], owed["by_link"], WayIn(owed["how"]))


def forget(request: HttpRequest) -> None:
    request.session.pop(OWED, None)


def sign_in(
    request: HttpRequest, user: User, leads_to: str, *, how: WayIn, by_link: bool = False
) -> HttpResponse:
    """Open the session, and let this device be known as one of this person's."""
    forget(request)
    request.session.set_expiry(None)  # a passkey's question had a shorter life
    login(request, user, backend=BACKEND)
    note_sign_in(request, user, how)
    if by_link:
        request.session[BY_LINK] = timezone.now().timestamp()
        if user.has_usable_password():
            be_unsure(request)  # a link that was handed over is not the password
    response = redirect(leads_to)
    remember_device(request, response, user)
    return response
