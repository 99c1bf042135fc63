"""A second step to sign in that the club asks for: of whom, until when, what is shut without.

The second step is a code from the phone or a passkey. Who is asked for one has ``GRACE`` from the
first page that they open; each sign-in shows them how long that still is. Afterwards only the
pages are open on which they get one. Nothing is asked of a guest of the library, who reads what
is published.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django_htmx.http import HttpResponseClientRedirect

from roster.models import Duty, Staff
from shared.models import AskedOf, Club, OneTimeCodes, Passkey, User
from shared.record import note_change

GRACE: Final = timedelta(days=14)
TOLD: Final = "second_step_told"
OPEN: Final = frozenset(
    {
        *("second-step", "account", "sign-out"),
        *("codes", "new-recovery-codes", "passkeys", "ask-to-add-passkey"),
    }
)


@dataclass(frozen=True, slots=True)
class AskedStep:
    """What is asked of somebody, and what they have."""

    is_asked: bool
    has_codes: bool
    has_passkey: bool

    @property
    def owes(self) -> bool:
        """Whether a second step is asked for that is not there."""
        return self.is_asked and not (self.has_codes or self.has_passkey)

    @property
    def needs_passkey(self) -> bool:
        """Whether the password alone opens nothing, and there is no code to say after it."""
        return self.is_asked and self.has_passkey and not self.has_codes


def steps_of(user: User) -> AskedStep:
    """In one query. Nothing is asked where there is no club yet, and of guests."""
    mine = {"user": user.pk}
    facts = Club.objects.annotate(
        has_codes=Exists(OneTimeCodes.objects.filter(**mine)),
        has_passkey=Exists(Passkey.objects.filter(**mine)),
        leads=Exists(Staff.objects.filter(duty=Duty.HEAD, **mine)),
    ).values("asks_second_step", "has_codes", "has_passkey", "leads")
    found = facts.first()
    if found is None:
        return AskedStep(is_asked=False, has_codes=False, has_passkey=False)
    asked = is_asked(user, AskedOf(found["asks_second_step"]), leads=found["leads"])
    return AskedStep(asked, found["has_codes"], found["has_passkey"])


def is_asked(user: User, of: AskedOf, *, leads: bool) -> bool:
    """Whether the club's rule means this person; ``leads``: is head coach of some team."""
    if user.is_guest or of == AskedOf.NOBODY:
        return False
    if user.runs_club or of == AskedOf.STAFF:
        return True
    return of == AskedOf.LEADERS and (leads or user.keeps_library)


def due_for(user: User, now: datetime) -> datetime:
    """When the grace of this person ends; it begins with the first page, and only once."""
    if user.second_step_by is None:
        User.objects.filter(pk=user.pk, second_step_by=None).update(second_step_by=now + GRACE)
        user.refresh_from_db(fields=["second_step_by"])
    return user.second_step_by or now + GRACE


@transaction.atomic
def ask_for_second_step(host: User, of: AskedOf) -> bool:
    """Make this the club's rule, and whether it is another one. Asked of nobody, grace is anew."""
    club = Club.objects.select_for_update().get()
    before = club.asks_second_step
    if before == of:
        return False
    club.asks_second_step = of
    club.save(update_fields=["asks_second_step"])
    if of == AskedOf.NOBODY:
        User.objects.exclude(second_step_by=None).update(second_step_by=None)
    note_change(host, "set who needs a second step", club, before=before, after=str(of))
    return True


def people_with_steps() -> QuerySet[User, User]:
    """The staff by name, with ``has_codes``, ``has_passkey`` and ``leads``."""
    own = {"user": OuterRef("pk")}
    return (
        User.objects.filter(is_active=True, is_guest=False)
        .annotate(
            has_codes=Exists(OneTimeCodes.objects.filter(**own)),
            has_passkey=Exists(Passkey.objects.filter(**own)),
            leads=Exists(Staff.objects.filter(duty=Duty.HEAD, **own)),
        )
        .order_by("name", "pk")
    )


class SecondStepDoor:
    """Leads who owes a second step to the page about it: once in a session, later from all else."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable[..., HttpResponse], *_facts: Any
    ) -> HttpResponse | None:
        user, match = request.user, request.resolver_match
        if not isinstance(user, User) or match is None or match.url_name in OPEN:
            return None
        if not getattr(view, "login_required", True) and match.url_name != "home":
            return None  # open to anybody, and nobody's own
        if not steps_of(user).owes:
            return None
        now = timezone.now()
        is_late = now >= due_for(user, now)
        is_first = request.method == "GET" and TOLD not in request.session
        if not is_late and not is_first:
            return None
        return _to_the_page(request)


def _to_the_page(request: HttpRequest) -> HttpResponse:
    address = reverse("second-step")
    if request.method == "GET":
        address += "?" + urlencode({"next": request.get_full_path()})
    if getattr(request, "htmx", False):
        return HttpResponseClientRedirect(address)
    return redirect(address)
