"""Passkeys: keys on a device that sign in without a name or a password (W3C Web Authentication).

The device has to have known its owner, by a look, a finger or a number, so that one act shows what
somebody has and who they are: no code is asked for after it. Checking what a device says is the
library's; what is asked, once and for how long, and what is kept is decided here.
"""

from __future__ import annotations

import base64
import json
import secrets
from dataclasses import dataclass
from hashlib import sha256
from ipaddress import ip_address
from typing import Any, Final
from urllib.parse import urlsplit

from django.conf import settings
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.crypto import constant_time_compare

from shared.models import Club, Passkey, User
from shared.record import note_change

# The library is imported where it is used: its parts of certificates take a third of a second.
ASKED: Final = "passkey_asked"  # in the session
LASTS: Final = 5 * 60  # seconds, for a question and for the device's own window
LONGEST: Final = 12_000  # letters of an answer; one of a real device has about 1,000
MOST: Final = 20  # of one person
ADD, SIGN_IN = "add", "sign in"
NOBODYS: Final = "passkey that nobody has"


class PasskeyError(Exception):
    """What the device said does not hold."""


@dataclass(frozen=True, slots=True)
class Site:
    """Whose passkeys these are: the name that devices keep them under, and the whole address."""

    rp_id: str
    origin: str


@dataclass(frozen=True, slots=True)
class PasskeyQuestion:
    """32 bytes of chance that a device has to sign, and by what it knows the account."""

    challenge: bytes
    handle: str


@dataclass(frozen=True, slots=True)
class Said:
    """A device's answer as it came, the question that it has to answer, and where."""

    site: Site
    question: PasskeyQuestion
    text: str


def site_of(request: HttpRequest) -> Site | None:
    """Under which name passkeys work here; None where browsers have none.

    They need https, or this very machine. What the visitor says counts only where it is one of
    the addresses that are set (``COACHBOOK_ORIGINS``); of this machine, the port is the server's.
    """
    host = request.get_host().lower()
    name = urlsplit(f"//{host}").hostname or ""
    if request.is_secure():
        origin = f"https://{host}"
        ours = {each.lower().rstrip("/") for each in settings.CSRF_TRUSTED_ORIGINS}
        return Site(name, origin) if origin in ours and not _is_number(name) else None
    if name != "localhost":
        return None
    port = str(request.META.get("SERVER_PORT", "80"))
    return Site(name, "http://localhost" + ("" if port == "80" else f":{port}"))


def _is_number(name: str) -> bool:
    try:
        return bool(ip_address(name))
    except ValueError:
        return False


def ask(request: HttpRequest, purpose: str, handle: str = "") -> PasskeyQuestion:
    """A new question, the one that counts at this device from now on."""
    challenge = secrets.token_bytes(32)  # WebAuthn, 13.4.3: at least 16
    now = timezone.now().timestamp()
    kept = {"purpose": purpose, "challenge": challenge.hex(), "handle": handle, "at": now}
    request.session[ASKED] = kept
    if not request.user.is_authenticated:
        request.session.set_expiry(LASTS)
        request.session.clear_expired()  # so that asking alone fills no table
    return PasskeyQuestion(challenge, handle)


def asked(request: HttpRequest, purpose: str) -> PasskeyQuestion | None:
    """The question that was asked here, which is then gone; None where none was, or too late."""
    kept: dict[str, Any] = request.session.pop(ASKED, {})
    since = timezone.now().timestamp() - kept.get("at", 0)
    if kept.get("purpose") != purpose or not 0 <= since < LASTS:
        return None
    return PasskeyQuestion(bytes.fromhex(kept["challenge"]), kept["handle"])


def handle_of(user: User) -> str:
    """By which devices know this account: drawn by chance, one for all passkeys of somebody."""
    known = user.passkeys.first()
    return known.handle if known else _base64url(secrets.token_bytes(32))


def as_json_to_add(site: Site, user: User, question: PasskeyQuestion) -> str:
    """What a browser needs to make a passkey."""
    import webauthn  # noqa: PLC0415 - late, see above
    from webauthn.helpers import structs  # noqa: PLC0415

    known = [
        structs.PublicKeyCredentialDescriptor(id=webauthn.base64url_to_bytes(row.credential))
        for row in user.passkeys.all()
    ]
    options = webauthn.generate_registration_options(
        rp_id=site.rp_id,
        rp_name=Club.objects.get().name,
        user_name=user.username,
        user_display_name=user.name,
        user_id=webauthn.base64url_to_bytes(question.handle),
        challenge=question.challenge,
        timeout=LASTS * 1000,
        authenticator_selection=structs.AuthenticatorSelectionCriteria(
            resident_key=structs.ResidentKeyRequirement.REQUIRED,
            user_verification=structs.UserVerificationRequirement.REQUIRED,
        ),
        exclude_credentials=known,
    )
    return webauthn.options_to_json(options)


def as_json_to_sign_in(site: Site, question: PasskeyQuestion) -> str:
    """What a browser needs to offer the passkeys of this site, whoever's they are."""
    import webauthn  # noqa: PLC0415
    from webauthn.helpers import structs  # noqa: PLC0415

    options = webauthn.generate_authentication_options(
        rp_id=site.rp_id,
        challenge=question.challenge,
        timeout=LASTS * 1000,
        user_verification=structs.UserVerificationRequirement.REQUIRED,
    )
    return webauthn.options_to_json(options)


@transaction.atomic
def add(user: User, name: str, said: Said) -> Passkey:
    """Keep the key that a device has made. Raises PasskeyError."""
    import webauthn  # noqa: PLC0415

    User.objects.select_for_update().get(pk=user.pk)  # of two at once the second counts the first
    if user.passkeys.count() >= MOST:
        raise PasskeyError
    try:
        made = webauthn.verify_registration_response(
            credential=said.text,
            expected_challenge=said.question.challenge,
            expected_rp_id=said.site.rp_id,
            expected_origin=said.site.origin,
            require_user_verification=True,
        )
    except Exception as error:  # what is sent may be anything, and the library says so variously
        raise PasskeyError from error
    credential = _base64url(made.credential_id)
    if Passkey.objects.filter(credential=credential).exists():
        raise PasskeyError
    row = Passkey.objects.create(
        user=user,
        name=name,
        credential=credential,
        public_key=_base64url(made.credential_public_key),
        handle=said.question.handle,
        sign_count=made.sign_count,
    )
    note_change(user, "added passkey", user, after=name)
    return row


@transaction.atomic
def remove(user: User, row: Passkey) -> None:
    """End one of one's own passkeys: it opens nothing any more."""
    row.delete()
    note_change(user, "removed passkey", user, before=row.name)


@transaction.atomic
def remove_all(host: User | None, person: User) -> bool:
    """End all passkeys of somebody who has lost a device; whether there were any."""
    if not person.passkeys.all().delete()[0]:
        return False
    note_change(host, "removed passkeys", person)
    return True


def found(text: str) -> Passkey | None:
    """The passkey that an answer is said to be of; None where there is none of that name."""
    try:
        credential = json.loads(text)["id"]
    except (ValueError, TypeError, LookupError, RecursionError):
        return None
    if not isinstance(credential, str) or not credential.isascii() or "\x00" in credential:
        return None
    rows = Passkey.objects.select_related("user").filter(user__is_active=True)
    return rows.filter(credential=credential).first()


def counted_as(row: Passkey | None) -> str:
    """Under which name wrong answers are counted: apart from the passwords of the same person.

    So who guesses passwords in a hall locks nobody's passkey; no name to sign in with has a space.
    """
    return f"passkey of {row.user.username}" if row else NOBODYS


class PasskeyBackend:
    """Takes a device's answer in place of a password, behind the throttle and the lock."""

    def authenticate(self, _request: HttpRequest, username: str, passkey: Said) -> User | None:
        row = found(passkey.text)
        if row is None or username != counted_as(row):
            return None
        try:
            return row.user if _take(row, passkey) else None
        except PasskeyError:
            return None


def _take(row: Passkey, said: Said) -> bool:
    """Whether the answer holds and is the first to this question: of several at once one is."""
    count = _checked(row, said)
    digest = sha256(said.question.challenge).hexdigest()
    as_it_was = Passkey.objects.filter(pk=row.pk, sign_count=row.sign_count)
    fresh = as_it_was.exclude(last_challenge=digest)
    kept = {"sign_count": count, "last_challenge": digest, "used_at": timezone.now()}
    return bool(fresh.update(**kept))


def _checked(row: Passkey, said: Said) -> int:
    """How often the device says that the key was used. Raises PasskeyError.

    WebAuthn, 7.2: a count that does not grow is the sign of a copied key.
    """
    import webauthn  # noqa: PLC0415
    from webauthn.helpers import parse_authentication_credential_json  # noqa: PLC0415

    try:
        answer = parse_authentication_credential_json(said.text)
        proved = webauthn.verify_authentication_response(
            credential=answer,
            expected_challenge=said.question.challenge,
            expected_rp_id=said.site.rp_id,
            expected_origin=said.site.origin,
            credential_public_key=webauthn.base64url_to_bytes(row.public_key),
            credential_current_sign_count=row.sign_count,
            require_user_verification=True,
        )
    except Exception as error:  # what is sent may be anything, and the library says so variously
        raise PasskeyError from error
    handle = _base64url(answer.response.user_handle or b"")
    if not constant_time_compare(handle, row.handle):
        raise PasskeyError
    return proved.new_sign_count


def _base64url(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).decode().rstrip("=")
