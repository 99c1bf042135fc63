"""Plays that stood before their calls had a column bring them along."""

from __future__ import annotations

from dataclasses import replace

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.models import Play
from shared.models import User

BEFORE = ("plays", "0004_traced_photo")


def migrated(*to: tuple[str, str]) -> None:
    """To these migrations, or to all the newest."""
    executor = MigrationExecutor(connection)
    executor.migrate(list(to) or executor.loader.graph.leaf_nodes())


@pytest.mark.django_db(transaction=True)
def test_the_calls_of_plays_that_were_there_are_taken_over() -> None:
    keeper = User.objects.create(username="keeper")
    several = demo_play("harbour-light")
    factories.published(several, keeper)
    factories.published(replace(demo_play("gangway"), variants=()), keeper)
    try:
        migrated(BEFORE)
    finally:
        migrated()
    calls = dict(Play.objects.values_list("key", "calls"))
    assert calls == {
        "harbour-light": [several.call, *(each.call for each in several.variants)],
        "gangway": [],
    }
