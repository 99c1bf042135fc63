"""One-time codes of a phone (RFC 6238) and the recovery codes that stand for a lost one.

The parameters are the standard's defaults, which every app reads: HMAC-SHA-1, six digits, thirty
seconds. What the phone has is 160 bits, as RFC 4226 (section 4, R6) recommends.
"""

from __future__ import annotations

import base64
import secrets
from datetime import datetime
from typing import Final

from django.db import transaction
from django.db.models import F
from django.http import HttpRequest
from django.utils import timezone
from django.utils.crypto import constant_time_compare, salted_hmac
from pyotp import TOTP

from shared.models import OneTimeCodes, RecoveryCode, User
from shared.record import note_change

DIGITS: Final = 6
STEP: Final = 30  # seconds
DRIFT: Final = (0, -1, 1)  # steps by which the phone's clock may be off; RFC 6238, section 5.2
MOST_MISSED: Final = 100  # wrong codes in a row, over all addresses: NIST SP 800-63B, 5.2.2
RECOVERY_CODES: Final = 8
RECOVERY_DIGITS: Final = 12  # digits, so that the phone's number keyboard writes both kinds
SECRET_BYTES: Final = 20


def secret_of(nonce: str, user: User) -> str:
    """What the phone keeps, in base32: made of the secret key and this nonce."""
    made = salted_hmac("one-time-codes", f"{user.pk}.{nonce}", algorithm="sha256")
    return base64.b32encode(made.digest()[:SECRET_BYTES]).decode()


def address_for_phone(secret: str, user: User, club: str) -> str:
    """The ``otpauth:`` address that an app for codes reads out of a QR code."""
    return TOTP(secret).provisioning_uri(name=user.username, issuer_name=club)


def step_of(secret: str, code: str, now: float) -> int | None:
    """The half minute whose code this is, no more than one away from ``now`` (s); else None."""
    counted = TOTP(secret, digits=DIGITS, interval=STEP)
    steps = [max(0, int(now // STEP) + off) for off in DRIFT]
    right = (each for each in steps if constant_time_compare(counted.generate_otp(each), code))
    return next(right, None)


def codes_of(user: User) -> OneTimeCodes | None:
    return OneTimeCodes.objects.filter(user=user).first()


@transaction.atomic
def switch_on(user: User, nonce: str, step: int) -> list[str]:
    """Ask this person for a code from now on; the answer is the recovery codes.

    Of two who do so at once the second finds it done, and the codes that it gets are those that
    count.
    """
    made = {"nonce": nonce, "last_step": step}
    row, is_new = OneTimeCodes.objects.get_or_create(user=user, defaults=made)
    if is_new:
        note_change(user, "switched on codes", user)
    return _fresh_recovery_codes(row)


@transaction.atomic
def new_recovery_codes(user: User) -> list[str] | None:
    """Eight new ones in place of all that there were; None where codes are off."""
    row = OneTimeCodes.objects.select_for_update().filter(user=user).first()
    if row is None:
        return None
    note_change(user, "made recovery codes", user)
    return _fresh_recovery_codes(row)


@transaction.atomic
def switch_off(host: User | None, person: User) -> bool:
    """Ask this person for no code any more; whether they were asked before."""
    if not OneTimeCodes.objects.filter(user=person).delete()[0]:
        return False
    note_change(host, "switched off codes", person)
    return True


def recovery_left(row: OneTimeCodes) -> int:
    return row.recovery.filter(used_at=None).count()


def is_closed(row: OneTimeCodes) -> bool:
    """Whether so many wrong codes were said that only a recovery code is taken."""
    return row.missed >= MOST_MISSED


def as_typed(text: str) -> str:
    """The digits of a code, without the gaps that an app or a paper shows."""
    return "".join(text.replace("-", " ").split())


class CodeBackend:
    """Takes a code in place of a password, behind the throttle and the lock.

    So wrong codes count as wrong passwords do. Only who has said the password gets here
    (``coachbook.accounts.entry``).
    """

    def authenticate(self, _request: HttpRequest, username: str, code: str) -> User | None:
        row = OneTimeCodes.objects.select_related("user").filter(user__username=username).first()
        if row is None or not row.user.is_active:
            return None
        return row.user if _take(row, as_typed(code), timezone.now()) else None


@transaction.atomic
def _take(row: OneTimeCodes, code: str, now: datetime) -> bool:
    """Use this code up, and whether it was right and unused: of several at once one gets True."""
    if len(code) == RECOVERY_DIGITS:
        unused = row.recovery.filter(digest=_digest(row, code), used_at=None)
        taken = bool(unused.update(used_at=now))
        if taken:
            OneTimeCodes.objects.filter(pk=row.pk).update(missed=0)
            note_change(row.user, "used recovery code", row.user)
    else:
        taken = _take_step(row, code, now)
    if not taken:
        OneTimeCodes.objects.filter(pk=row.pk).update(missed=F("missed") + 1)
    return taken


def _take_step(row: OneTimeCodes, code: str, now: datetime) -> bool:
    step = step_of(secret_of(row.nonce, row.user), code, now.timestamp())
    if step is None:
        return False
    later = OneTimeCodes.objects.filter(pk=row.pk, last_step__lt=step, missed__lt=MOST_MISSED)
    return bool(later.update(last_step=step, missed=0))


def _fresh_recovery_codes(row: OneTimeCodes) -> list[str]:
    OneTimeCodes.objects.select_for_update().get(pk=row.pk)  # two at once leave eight, not more
    row.recovery.all().delete()
    made: set[str] = set()
    while len(made) < RECOVERY_CODES:
        made.add(f"{secrets.randbelow(10**RECOVERY_DIGITS):0{RECOVERY_DIGITS}}")
    rows = [RecoveryCode(codes=row, digest=_digest(row, code)) for code in made]
    RecoveryCode.objects.bulk_create(rows)
    return [f"{code[:4]} {code[4:8]} {code[8:]}" for code in sorted(made)]


def _digest(row: OneTimeCodes, code: str) -> str:
    """A hash that only this site's key makes: with the rows alone nobody tries codes."""
    return salted_hmac("recovery-code", f"{row.nonce}.{code}", algorithm="sha256").hexdigest()
