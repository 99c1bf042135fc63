"""The benchmarks run: what they measure is the product's own way, on a small scale here."""

from __future__ import annotations

from importlib import import_module

import pytest
from django.test import Client

from coachbook.benchmarks import booklets, gestures
from coachbook.demo import factories
from coachbook.demo.files import demo_play
from coachbook.management.commands.benchmark import SUBJECTS


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_subject_can_be_run(subject: str) -> None:
    assert callable(import_module(f"coachbook.benchmarks.{subject}").run)


@pytest.mark.django_db
def test_each_gesture_is_taken_and_makes_another_draft() -> None:
    play = factories.published(demo_play(gestures.PLAY))
    client = Client(headers={"hx-request": "true"})
    user = factories.UserFactory.create(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    drafts = set()
    for _ in range(3):
        cpu, wall = gestures.gesture(client, play)
        assert cpu > 0
        assert wall > 0
        drafts.add(play.revisions.order_by("-number")[0].content_hash)
    assert len(drafts) == 3


def test_more_plays_take_more_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(booklets, "PLAYS", 1)
    seconds, few = booklets.measured("a4")
    monkeypatch.setattr(booklets, "PLAYS", 3)
    assert seconds > 0
    assert booklets.measured("a4")[1] > few >= booklets.PLAYERS
