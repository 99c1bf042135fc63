"""A way back in by mail, where a mail server is named: asking, sending, and proving an address.

Asking looks up nobody: the page does the same for every name, and the background finds out
whether there is anybody to write to.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from smtplib import SMTPException
from typing import Final

from axes.helpers import get_client_ip_address
from django.conf import settings
from django.core.mail import send_mail
from django.core.signing import BadSignature, TimestampSigner
from django.db import transaction
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import get_language, override
from django.utils.translation import gettext as _

from coachbook.accounts.changes import new_link, path_of
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
        raise WorkError(str(error)) from error


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


def failed_lately(person: User, now: datetime) -> str:
    """Why the last mail to prove an address could not be sent; empty where it was."""
    row = person.mailings.filter(asked_at__gt=now - KEPT).order_by("-pk").first()
    return look_after(row).fault if row else ""
