"""A rep that is found wrong days later: found on its practice's page, and taken back once."""

from __future__ import annotations

import uuid
from typing import Any

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from coachbook.demo import factories
from practice.models import RepSum, Undo
from tests.cast import Cast
from tests.practice.reps.test_log import counted, send, tap


def test_one_of_several_is_taken_back_and_the_sums_follow(cast: Cast) -> None:
    """By an assistant, who logs too; what a second press sends does no harm."""
    first, wrong = tap(cast), tap(cast, clean=False, erred="3", slip="late")
    send(cast, first, wrong)
    client = cast.client(cast.assistant)
    practice = client.get(reverse("practice", args=[cast.practice.pk])).content.decode()
    page = reverse("practice-reps", args=[cast.practice.pk])
    assert page in practice
    text = " ".join(client.get(page).content.decode().split())
    assert "too late" in text
    back = [reverse("take-rep-back", args=[cast.practice.pk, one["id"]]) for one in (first, wrong)]
    assert all(each in text for each in back)
    for _ in range(2):
        assert client.post(back[1]).status_code == 302
    assert counted(cast) == 1
    assert cast.team.undos.count() == 1
    assert not RepSum.objects.filter(is_clean=False).exists()
    text = client.get(page).content.decode()
    assert back[0] in text
    assert back[1] not in text


def test_a_rep_is_nobody_elses(cast: Cast) -> None:
    """Neither a stranger's, nor under another practice of the same team."""
    one = tap(cast)
    send(cast, one)
    other = factories.PracticeFactory.create(team=cast.team)
    tries: list[tuple[Any, int, Any]] = [
        (cast.stranger, cast.practice.pk, one["id"]),
        (cast.head, other.pk, one["id"]),
        (cast.head, cast.practice.pk, uuid.uuid4()),
    ]
    for user, practice, rep in tries:
        path = reverse("take-rep-back", args=[practice, rep])
        assert cast.client(user).post(path).status_code == 404
    assert not Undo.objects.exists()


def test_as_many_queries_for_a_long_evening_as_for_one_rep(cast: Cast) -> None:
    client = cast.client(cast.head)

    def queries() -> int:
        with CaptureQueriesContext(connection) as seen:
            path = reverse("practice-reps", args=[cast.practice.pk])
            assert client.get(path).status_code == 200
        return len(seen)

    send(cast, tap(cast))
    queries()  # what the first visit of a sign-in asks for stands apart
    one = queries()
    send(cast, *[tap(cast) for _ in range(40)])
    assert queries() == one
