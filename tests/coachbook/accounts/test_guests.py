"""A guest of the library: invited by a link, reads published plays, saves copies, and no more."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import get_resolver, reverse

from coachbook.accounts import staff as changes
from coachbook.demo import factories
from plays.core.document.file import read_play
from plays.core.moves.origins import step_words, steps
from plays.library.changes import save_draft
from roster.models import Staff
from shared.guests import PAGES
from shared.models import Change, User
from shared.speech import language_of
from tests.cast import Cast
from tests.coachbook.test_access import named_routes


@pytest.fixture
def guest(cast: Cast) -> User:
    return factories.UserFactory.create(username="guest", name="Gro", is_guest=True)


def invite(cast: Cast, **said: object) -> Any:
    data = {"name": "Gro", "username": "gro", "duty": "assistant", "is_guest": "on", **said}
    return cast.client(cast.runner).post(reverse("staff"), data)


def test_a_guest_is_invited_by_a_link_and_comes_to_the_library(cast: Cast) -> None:
    shown = cast.client(cast.runner).get(invite(cast).url).content.decode()
    path = "/sign-in/" + shown.split("/sign-in/")[1].split("/")[0] + "/"
    phone = Client()
    assert phone.post(path, follow=True).status_code == 200
    assert phone.get("/").headers["Location"] == reverse("library")
    assert cast.play.name in phone.get(reverse("library")).content.decode()
    assert User.objects.get(username="gro").is_guest


@pytest.mark.parametrize("more", ["team", "keeps_library"])
def test_a_guest_is_invited_to_nothing_else(cast: Cast, more: str) -> None:
    answer = invite(cast, **{more: cast.team.pk if more == "team" else "on"})
    assert answer.status_code == 422
    assert "no team and no other right" in answer.content.decode()
    assert not User.objects.filter(username="gro").exists()


def test_the_right_is_given_and_taken_on_the_staff_page(cast: Cast) -> None:
    person = factories.UserFactory.create(username="new", name="Nils")
    host, page = cast.client(cast.runner), reverse("staff-person", args=[person.pk])
    host.post(page, {"is_guest": "on"})
    person.refresh_from_db()
    assert person.is_guest
    assert "guest of the library" in host.get(reverse("staff")).content.decode()
    assert Change.objects.get(verb="gave rights").after == [False, False, True]
    host.post(page, {"initial-is_guest": "on"})
    person.refresh_from_db()
    assert not person.is_guest


def test_who_has_a_team_becomes_no_guest_and_a_guest_gets_no_team(cast: Cast, guest: User) -> None:
    host = cast.client(cast.runner)
    answer = host.post(reverse("staff-person", args=[cast.assistant.pk]), {"is_guest": "on"})
    assert answer.status_code == 422
    assert "no team and no other right" in answer.content.decode()
    place = {"team": cast.team.pk, "duty": "assistant"}
    answer = host.post(reverse("staff-place", args=[guest.pk]), place)
    assert answer.status_code == 422
    assert "end that right first" in answer.content.decode()
    assert not Staff.objects.filter(user=guest).exists()
    with pytest.raises(changes.GuestError):
        changes.give_place(cast.runner, guest, cast.team, "head")


def test_a_removed_guest_comes_back_as_none(cast: Cast, guest: User) -> None:
    changes.remove(cast.runner, guest)
    guest.refresh_from_db()
    assert not guest.is_guest


def test_a_copy_says_where_it_is_from_and_is_in_the_record(cast: Cast, guest: User) -> None:
    address = reverse("play-file", args=[cast.play.key, 1])
    data = cast.client(guest).get(address).content
    play = read_play(data)
    (step,) = steps(play)
    source = f"{factories.ClubFactory._meta.model.objects.get()}, {cast.play.name} 1"
    assert step_words(step, language_of("en")) == f"copied from {source}"
    assert play.origin is not None
    assert play.origin.content == cast.play.published().content_hash
    assert Change.objects.get(verb="took a copy").user == guest
    own = cast.client(cast.head).get(address).content  # the staff's file is the revision itself
    assert "origin" not in json.loads(own)


def test_a_draft_is_not_there_for_a_guest(cast: Cast, guest: User) -> None:
    save_draft(cast.play, cast.play.published().value(), cast.keeper)
    client = cast.client(guest)
    for name in ("revision", "play-file", "play-picture"):
        assert client.get(reverse(name, args=[cast.play.key, 2])).status_code == 404


def test_no_page_leads_a_guest_to_a_closed_door(cast: Cast, guest: User) -> None:
    client = cast.client(guest)
    for page in (reverse("library"), reverse("play", args=[cast.play.key]), reverse("account")):
        text = client.get(page).content.decode()
        for part in text.split('href="/')[1:]:
            path = "/" + part.split('"')[0].replace("&amp;", "&")
            if not path.startswith("/static/"):
                assert client.get(path, follow=True).status_code == 200, path


def test_the_doors_that_are_listed_are_there() -> None:
    assert named_routes() >= PAGES


def test_a_page_that_is_added_later_is_shut_to_guests(
    cast: Cast, guest: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The door asks for no mark on the page: it opens what it knows."""
    found = next(each for each in get_resolver().url_patterns if each.name == "help")  # type: ignore[union-attr]
    client = cast.client(guest)
    assert client.get("/help/").status_code == 200

    def later(_request: HttpRequest) -> HttpResponse:
        return HttpResponse("for the staff")

    monkeypatch.setattr(found, "callback", later)
    assert client.get("/help/").status_code == 404
    assert cast.client(cast.assistant).get("/help/").status_code == 200
    monkeypatch.setattr(found, "callback", login_not_required(later))
    assert client.get("/help/").status_code == 200
