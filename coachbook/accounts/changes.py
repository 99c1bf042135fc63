"""Accounts of the staff: the first one, invitations, links that sign in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any, Final

from django.db import transaction
from django.db.models import Q
from django.http import HttpRequest
from django.urls import reverse

from roster.models import Staff
from shared.links import new_nonce, nonce_of, token_of
from shared.models import Club, SignInLink, User
from shared.phones import site_address
from shared.record import note_change

PURPOSE = "sign-in"
FIRST_PAGE = "set-up"
INVITATION_LASTS = timedelta(days=7)


# What somebody may do in the whole club, in the order in which the record says it.
RIGHTS: Final = ("runs_club", "keeps_library", "is_guest")


class ClubExistsError(Exception):
    """There is a club already."""


def set_up_path() -> str:
    """Where the first page asks: its address is printed where the site is started.

    The same at every start, so it needs no row; it opens nothing once there is a club.
    """
    return reverse("set-up-link", args=[token_of(FIRST_PAGE, FIRST_PAGE)])


def opens_set_up(token: str) -> bool:
    return nonce_of(token, FIRST_PAGE) == FIRST_PAGE


def rights_of(person: User) -> list[bool]:
    return [getattr(person, name) for name in RIGHTS]


@transaction.atomic
def found_club(club: str, name: str, username: str, password: str) -> User:
    """Make the club and its first head coach. Raises ClubExistsError where there is a club.

    Of several at once one wins: the club's row has one number, for which the database makes
    the others wait and then turns them away.
    """
    if Club.objects.exists() or not Club.objects.get_or_create(pk=1, defaults={"name": club})[1]:
        raise ClubExistsError
    user = User(username=username, name=name, runs_club=True, keeps_library=True)
    user.set_password(password)
    user.save()
    note_change(user, "founded", club)
    return user


@transaction.atomic
def invite(host: User, data: Mapping[str, Any], now: datetime) -> SignInLink:
    """Make an account without a password, its place in a team, and the link that opens it."""
    user = User(username=data["username"], name=data["name"], keeps_library=data["keeps_library"])
    user.is_guest = data["is_guest"]
    user.set_unusable_password()
    user.save()
    note_change(host, "invited", user, after=rights_of(user))
    if (team := data["team"]) is not None:
        Staff.objects.create(team=team, user=user, duty=data["duty"])
        note_change(host, "gave duty", user, team=team.pk, after=data["duty"])
    return new_link(user, now)


def new_link(
    user: User, now: datetime, *, lasts: timedelta = INVITATION_LASTS, once: bool = True
) -> SignInLink:
    """A link that signs this person in until it ends."""
    return SignInLink.objects.create(
        user=user, nonce=new_nonce(), opens_until=now + lasts, once=once
    )


def path_of(link: SignInLink) -> str:
    """The address of a link, without scheme and host."""
    return reverse("sign-in-link", args=[token_of(link.nonce, PURPOSE)])


def address_of(link: SignInLink, request: HttpRequest) -> str:
    return f"{site_address(request)}{path_of(link)}"


def open_link(token: str, now: datetime) -> SignInLink | None:
    """The link behind a token, if it is genuine and still opens."""
    nonce = nonce_of(token, PURPOSE)
    link = SignInLink.objects.select_related("user").filter(nonce=nonce or "").first()
    if link is None or not link.is_open(now) or not link.user.is_active:
        return None
    return link


def use_link(link: SignInLink, now: datetime) -> bool:
    """Use the link up, and whether it was still there: of several at once one gets True."""
    unused = SignInLink.objects.filter(Q(once=False) | Q(used_at=None), pk=link.pk)
    return bool(unused.update(used_at=now))


@transaction.atomic
def choose_password(user: User, password: str) -> None:
    """Set a new password; every link that still signs this person in dies with the old one."""
    user.set_password(password)
    user.save(update_fields=["password"])
    user.sign_in_links.all().delete()
    note_change(user, "chose a password", user)
