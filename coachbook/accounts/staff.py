"""Changes to the staff: places in teams, rights, links, who is removed and who comes back."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.db.models import Prefetch, QuerySet
from django.utils import timezone

from coachbook.accounts.changes import RIGHTS, new_link, rights_of
from coachbook.accounts.devices import end_others
from roster.models import Duty, Staff, Team
from shared.models import OneTimeCodes, Passkey, SignInLink, User
from shared.record import note_change


class LastRunnerError(Exception):
    """Nobody would run the club any more."""


class GuestError(Exception):
    """A guest of the library has no place in a team and no other right."""


def people() -> QuerySet[User]:
    """The staff with places and open links, by name."""
    links = SignInLink.objects.filter(opens_until__gt=timezone.now(), once=True, used_at=None)
    return User.objects.order_by("name", "pk").prefetch_related(
        "staff_places__team", Prefetch("sign_in_links", queryset=links, to_attr="open_links")
    )


def may_change(host: User, place: Staff) -> bool:
    """Whether this head coach may change or end this place in their team.

    A head coach decides about assistants; about another head coach, who runs the club does.
    """
    return host.runs_club or (place.duty == Duty.ASSISTANT and place.user_id != host.pk)


@transaction.atomic
def give_place(host: User, person: User, team: Team, duty: str) -> None:
    """A place in a team with this duty, or another duty in the place that there is.

    Raises GuestError for a guest of the library.
    """
    if User.objects.select_for_update().get(pk=person.pk).is_guest:
        raise GuestError
    before = Staff.objects.select_for_update().filter(team=team, user=person).first()
    Staff.objects.update_or_create(team=team, user=person, defaults={"duty": duty})
    old = before.duty if before else None
    if old != duty:
        note_change(host, "gave duty", person, team=team.pk, before=old, after=duty)


@transaction.atomic
def end_place(host: User, place: Staff) -> None:
    """Take somebody out of a team: its pages are closed to them with the next request."""
    place.delete()
    note_change(host, "took from team", place.user, team=place.team_id, before=place.duty)


@transaction.atomic
def set_rights(
    host: User, person: User, *, runs_club: bool, keeps_library: bool, is_guest: bool = False
) -> None:
    """What somebody may do in the whole club. Raises LastRunnerError, GuestError."""
    if is_guest and (runs_club or keeps_library or person.staff_places.exists()):
        raise GuestError
    if not runs_club:
        _keep_a_runner(person)
    before = rights_of(person)
    person.runs_club, person.keeps_library, person.is_guest = runs_club, keeps_library, is_guest
    person.save(update_fields=RIGHTS)
    after = rights_of(person)
    if before != after:
        note_change(host, "gave rights", person, before=before, after=after)


@transaction.atomic
def remove(host: User, person: User) -> None:
    """Close somebody's account. Raises LastRunnerError.

    The row stays, because reps and the record point at it. Their sessions end with the next
    request: nobody inactive is signed in, and the password that each session was opened with
    is gone, so that they stay ended when the person comes back.
    """
    _keep_a_runner(person)
    for place in person.staff_places.all():
        end_place(host, place)
    person.sign_in_links.all().delete()
    OneTimeCodes.objects.filter(user=person).delete()
    Passkey.objects.filter(user=person).delete()
    person.is_active = person.runs_club = person.keeps_library = person.is_guest = False
    person.email = ""
    person.set_unusable_password()
    end_others(person, None)
    person.save(update_fields=["is_active", "email", "password", *RIGHTS])
    note_change(host, "removed person", person)


@transaction.atomic
def bring_back(host: User, person: User, now: datetime) -> SignInLink:
    """Open a closed account again, without rights and places, and the link that opens it."""
    person.is_active = True
    person.save(update_fields=["is_active"])
    note_change(host, "brought back person", person)
    return issue_link(host, person, now)


@transaction.atomic
def issue_link(host: User, person: User, now: datetime) -> SignInLink:
    """A fresh sign-in link; those made before open nothing any more."""
    person.sign_in_links.all().delete()
    note_change(host, "made sign-in link", person)
    return new_link(person, now)


@transaction.atomic
def withdraw_links(host: User, person: User) -> None:
    if person.sign_in_links.all().delete()[0]:
        note_change(host, "withdrew sign-in link", person)


def _keep_a_runner(person: User) -> None:
    """Of two who go at once, the second waits here and then counts again."""
    runners = User.objects.select_for_update().filter(runs_club=True, is_active=True)
    if {runner.pk for runner in runners.order_by("pk")} == {person.pk}:
        raise LastRunnerError
