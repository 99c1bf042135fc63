"""Removing and demoting staff, their links, and that somebody always runs the club."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connections
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.accounts import staff as changes
from coachbook.accounts.changes import new_link, path_of
from roster.models import Staff
from shared.models import Change, SignInLink, User
from tests.cast import Cast, make_cast


def staff_url(name: str, person: User) -> str:
    return reverse(name, args=[person.pk])


def place_url(name: str, cast: Cast, person: User) -> str:
    return reverse(name, args=[cast.team.pk, person.pk])


def verbs() -> list[str]:
    """What the record says, after the furnishing of the cast."""
    rows = Change.objects.exclude(verb="published").order_by("pk")
    return list(rows.values_list("verb", flat=True))


def test_a_removed_person_is_out_at_once_and_everywhere(cast: Cast) -> None:
    phone = cast.client(cast.assistant)
    link = path_of(new_link(cast.assistant, timezone.now()))
    host = cast.client(cast.runner)
    asked = host.get(staff_url("remove-person", cast.assistant)).content.decode()
    assert "Remove Arne from the site?" in asked
    assert phone.get("/library/").status_code == 200  # asking removes nobody
    assert host.post(staff_url("remove-person", cast.assistant)).status_code == 302
    assert phone.get("/library/").status_code == 302
    assert Client().post(link).status_code == 404
    assert not Staff.objects.filter(user=cast.assistant).exists()
    assert "removed person" in verbs()
    assert host.post(staff_url("remove-person", cast.assistant)).status_code == 404  # twice


def test_who_comes_back_has_no_rights_and_no_old_session(cast: Cast) -> None:
    phone = cast.client(cast.keeper)
    host = cast.client(cast.runner)
    host.post(staff_url("remove-person", cast.keeper))
    answer = host.post(staff_url("bring-back-person", cast.keeper))
    path = answer.context["address"].removeprefix("http://testserver")
    assert phone.get("/library/").status_code == 302
    assert Client().post(path).status_code == 302
    cast.keeper.refresh_from_db()
    assert (cast.keeper.is_active, cast.keeper.keeps_library) == (True, False)


def test_the_last_who_runs_the_club_stays(cast: Cast) -> None:
    client = cast.client(cast.runner)
    for answer in (
        client.post(staff_url("remove-person", cast.runner)),
        client.post(staff_url("staff-person", cast.runner), {"keeps_library": "on"}),
    ):
        assert answer.status_code == 422
        assert "Somebody has to run the club" in answer.content.decode()
    cast.runner.refresh_from_db()
    assert cast.runner.runs_club
    assert cast.runner.is_active


def test_with_a_second_the_first_may_go(cast: Cast) -> None:
    client = cast.client(cast.runner)
    client.post(staff_url("staff-person", cast.head), {"runs_club": "on"})
    gone = client.post(staff_url("staff-person", cast.runner), {})
    assert gone.headers["Location"] == "/"
    assert client.get("/staff/").status_code == 403
    assert cast.client(cast.head).get("/staff/").status_code == 200
    assert verbs().count("gave rights") == 2


@pytest.mark.django_db(transaction=True)
def test_of_two_who_go_at_once_one_stays() -> None:
    cast = make_cast()
    User.objects.filter(pk=cast.head.pk).update(runs_club=True)
    barrier = threading.Barrier(2, timeout=30)

    def go(person: User) -> bool:
        barrier.wait()
        try:
            changes.remove(person, User.objects.get(pk=person.pk))
        except changes.LastRunnerError:
            return False
        finally:
            connections.close_all()
        return True

    with ThreadPoolExecutor(2) as pool:
        assert sorted(pool.map(go, (cast.runner, cast.head))) == [False, True]
    assert User.objects.filter(runs_club=True, is_active=True).count() == 1


def test_a_head_coach_changes_and_removes_assistants(cast: Cast) -> None:
    client = cast.client(cast.head)
    phone = cast.client(cast.assistant)
    page = client.get(reverse("team-staff", args=[cast.team.pk])).content.decode()
    assert place_url("leave-staff", cast, cast.assistant) in page
    assert place_url("leave-staff", cast, cast.head) not in page
    assert client.get(place_url("leave-staff", cast, cast.assistant)).status_code == 200
    assert phone.get(f"/teams/{cast.team.pk}/").status_code == 200
    assert client.post(place_url("leave-staff", cast, cast.assistant)).status_code == 302
    assert phone.get(f"/teams/{cast.team.pk}/").status_code == 404
    assert phone.get("/library/").status_code == 200  # the account is not touched
    assert verbs() == ["took from team"]


def test_about_a_head_coach_the_club_decides(cast: Cast) -> None:
    client = cast.client(cast.head)
    promoted = client.post(place_url("change-duty", cast, cast.assistant), {"duty": "head"})
    assert promoted.status_code == 302
    assert Staff.objects.get(user=cast.assistant).duty == "head"
    for person in (cast.assistant, cast.head):
        demoted = client.post(place_url("change-duty", cast, person), {"duty": "assistant"})
        assert demoted.status_code == 403
        assert client.post(place_url("leave-staff", cast, person)).status_code == 403
    runner = cast.client(cast.runner)
    runner.post(place_url("change-duty", cast, cast.assistant), {"duty": "assistant"})
    assert Staff.objects.get(user=cast.assistant).duty == "assistant"
    assert verbs() == ["gave duty", "gave duty"]


@pytest.mark.parametrize("duty", ["", "owner"])
def test_a_duty_that_does_not_exist_changes_nothing(duty: str, cast: Cast) -> None:
    client = cast.client(cast.runner)
    client.post(place_url("change-duty", cast, cast.assistant), {"duty": duty})
    given = {"team": cast.team.pk, "duty": duty}
    assert client.post(staff_url("staff-place", cast.assistant), given).status_code == 422
    assert Staff.objects.get(user=cast.assistant).duty == "assistant"


def test_a_place_is_given_twice_and_there_is_one(cast: Cast) -> None:
    client = cast.client(cast.runner)
    for _ in range(2):
        given = {"team": cast.other_team.pk, "duty": "assistant"}
        assert client.post(staff_url("staff-place", cast.assistant), given).status_code == 302
    assert Staff.objects.filter(user=cast.assistant).count() == 2
    assert verbs() == ["gave duty"]


def test_open_invitations_are_seen_renewed_and_withdrawn(cast: Cast) -> None:
    client = cast.client(cast.runner)
    first = path_of(new_link(cast.assistant, timezone.now()))
    assert "Link open until" in client.get("/staff/").content.decode()
    answer = client.post(staff_url("staff-link", cast.assistant))
    second = answer.context["address"].removeprefix("http://testserver")
    assert Client().get(first).status_code == 404  # the older one is closed
    assert Client().get(second).status_code == 200
    client.post(staff_url("withdraw-staff-link", cast.assistant))
    assert Client().get(second).status_code == 404
    assert not SignInLink.objects.exists()
    assert "Link open until" not in client.get("/staff/").content.decode()
    assert verbs() == ["made sign-in link", "withdrew sign-in link"]
