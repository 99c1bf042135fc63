"""A way back in by mail, where a mail server is named: asking, sending, and proving an address.

Asking looks up nobody: the page does the same for every name, and the background finds out
whether there is anybody to write to.
"""

from __future__ import annotations

import logging
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from smtplib import (
    SMTPAuthenticationError,
    SMTPConnectError,
    SMTPException,
    SMTPNotSupportedError,
    SMTPRecipientsRefused,
    SMTPResponseException,
)
from typing import Final

from axes.helpers import get_client_ip_address
from django.conf import settings
from django.core.mail import send_mail
from django.core.signing import BadSignature, TimestampSigner
from django.db import transaction
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import get_language, gettext_lazy, override
from django.utils.translation import gettext as _

from coachbook.accounts.changes import new_link, path_of
from coachbook.faults import reference_of
from shared.models import Club, Mailing, User
from shared.record import note_change
from shared.worker import SILENT, Facts, Pulse, Work, WorkError, launch, look_after

LINK_LASTS: Final = timedelta(hours=1)
PROOF_LASTS: Final = timedelta(days=1)
KEPT: Final = timedelta(days=1)
WITHIN: Final = timedelta(hours=1)
MOST_FROM_ONE_ADDRESS: Final = 20  # a hall's router gives everybody one
MOST_FOR_ONE_NAME: Final = 3
MOST_AT_ONCE: Final = 5  # each is a process of its own
SALT: Final = "mail-address"


LOG: Final = logging.getLogger(__name__)


class MailLack(StrEnum):
    """Why a mail was not taken."""

    ADDRESS = "address"
    LEAVE = "leave"  # the mail server does not let this site in
    REFUSED = "refused"
    ANSWER = "answer"


SAID: Final = {
    MailLack.ADDRESS: gettext_lazy(
        "The mail server takes no mail for this address: is it written right?"
    ),
    MailLack.LEAVE: gettext_lazy(
        "The mail server does not let this site in: tell who runs the server."
    ),
    MailLack.REFUSED: gettext_lazy("The mail server did not take it: tell who runs the server."),
    MailLack.ANSWER: gettext_lazy("The mail server did not answer: try again later."),
}


@dataclass(frozen=True, slots=True)
class MailFault:
    """Why a mail was not sent, in the reader's language, and where the log tells more."""

    sentence: str
    reference: str


class AskedTooOftenError(Exception):
    """So many mails were asked for that this one has to wait."""


@transaction.atomic
def ask(request: HttpRequest, said: str, user: User | None = None) -> None:
    """Have a mail sent in the background. Raises AskedTooOftenError."""
    now = timezone.now()
    Mailing.objects.filter(asked_at__lt=now - KEPT).delete()
    address = get_client_ip_address(request)
    lately = Mailing.objects.filter(asked_from=address, asked_at__gt=now - WITHIN)
    busy = Mailing.objects.filter(state=Work.State.RUNNING, beat_at__gt=now - SILENT)
    if lately.count() >= MOST_FROM_ONE_ADDRESS or busy.count() >= MOST_AT_ONCE:
        raise AskedTooOftenError
    language = get_language() or settings.LANGUAGE_CODE
    launch(Mailing.objects.create(user=user, said=said, asked_from=address, language=language))


def work(row: Mailing, _pulse: Pulse) -> Facts:
    """Write and send one mail, or none: runs in the worker."""
    with override(row.language):
        if row.user is None:
            _send_way_back(row)
        else:
            _send_proof(row.user, row.said)
    return {}


def _send_way_back(row: Mailing) -> None:
    before = Mailing.objects.filter(user=None, said=row.said, asked_at__gt=row.asked_at - WITHIN)
    if before.filter(pk__lt=row.pk).count() >= MOST_FOR_ONE_NAME:
        return
    person = User.objects.filter(username=row.said, is_active=True).exclude(email="").first()
    if person is None:
        return
    link = new_link(person, timezone.now(), lasts=LINK_LASTS)
    note_change(None, "mailed sign-in link", person)
    text = _(
        "Hello %(name)s,\n\nthis link signs you in to %(club)s and lets you choose a new password. "
        "It opens once, within an hour:\n\n%(address)s\n\n"
        "You did not ask for it? Then do nothing: your password stays as it is.\n"
    )
    _send(person, person.email, _("A new password"), text, path_of(link))


def _send_proof(person: User, address: str) -> None:
    text = _(
        "Hello %(name)s,\n\nopen this link where you are signed in to %(club)s, and a forgotten "
        "password can be helped at this address. It opens for a day:\n\n%(address)s\n\n"
        "You do not know what this is about? Then do nothing.\n"
    )
    path = reverse("prove-mail", args=[proof_of(person, address)])
    _send(person, address, _("Is this your address?"), text, path)


def _send(person: User, to: str, subject: str, text: str, path: str) -> None:
    club = Club.objects.get().name
    origin = settings.CSRF_TRUSTED_ORIGINS[0].rstrip("/")
    told = {"name": person.name, "club": club, "address": f"{origin}{path}"}
    try:
        send_mail(f"{subject} · {club}", text % told, None, [to])
    except (SMTPException, OSError) as error:
        raise WorkError(f"{_kind(error)}: {_without_address(error)}") from error


def _kind(error: Exception) -> MailLack:
    if isinstance(error, SMTPRecipientsRefused):
        return MailLack.ADDRESS
    if isinstance(error, SMTPAuthenticationError | SMTPNotSupportedError):
        return MailLack.LEAVE
    if isinstance(error, SMTPResponseException) and not isinstance(error, SMTPConnectError):
        return MailLack.REFUSED
    return MailLack.ANSWER


def _without_address(error: Exception) -> str:
    """What went wrong, for the log: names of faults and numbers of RFC 5321, nobody's address."""
    numbers = [getattr(error, "smtp_code", None), getattr(error, "errno", None)]
    if isinstance(error, SMTPRecipientsRefused):
        numbers += [answer[0] for answer in error.recipients.values()]
    told = [str(number) for number in numbers if isinstance(number, int)]
    return " ".join([type(error).__name__, *told])


def proof_of(person: User, address: str) -> str:
    """What stands in the address of the link that proves a mail address."""
    return TimestampSigner(salt=SALT, sep="~").sign_object([person.pk, person.email, address])


def proved(token: str, person: User) -> str | None:
    """The address that this person proves by a genuine link, which opens once; else None."""
    try:
        said = TimestampSigner(salt=SALT, sep="~").unsign_object(token, max_age=PROOF_LASTS)
    except BadSignature:
        return None
    pk, before, address = said
    return address if [pk, before] == [person.pk, person.email] else None


@transaction.atomic
def set_address(person: User, address: str) -> None:
    """Where a way back in is sent from now on; nowhere if empty."""
    person.email = address
    person.save(update_fields=["email"])
    note_change(person, "set mail address" if address else "took mail address away", person)


def failed_lately(request: HttpRequest, person: User, now: datetime) -> MailFault | None:
    """Why the last mail to prove an address could not be sent; None where it was.

    What went wrong in the mail server's words stands in the log, under the reference that is told.
    """
    row = person.mailings.filter(asked_at__gt=now - KEPT).order_by("-pk").first()
    fault = look_after(row).fault if row else ""
    if not fault:
        return None
    reference = reference_of(request)
    LOG.warning("a mail could not be sent: %s", fault, extra={"request": request})
    kind = fault.partition(":")[0]
    lack = MailLack(kind) if kind in set(MailLack) else MailLack.REFUSED
    return MailFault(str(SAID[lack]), reference)
