"""Plays are read once: no page loads a document that this process has read before."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from unittest.mock import patch

from django.db import connection
from django.test.utils import CaptureQueriesContext

from coachbook.demo.factories import published
from coachbook.demo.files import demo_play, demo_plays
from plays.core.document import file
from plays.files.bring_in import bring_in, preview_of
from plays.files.file import read_file, write_library
from plays.library.changes import save_draft
from plays.models import Play, Revision
from plays.values import play_value, read_ahead
from shared.core.language import ENGLISH
from tests.cast import Cast


def rows() -> list[Revision]:
    return list(Revision.objects.defer("document").order_by("pk"))


def test_many_plays_are_read_in_one_query_and_then_in_none(
    cast: Cast, django_assert_num_queries: Any
) -> None:
    values = [play for play in demo_plays() if play.key != cast.play.key][:4]
    for value in values:
        published(value)
    fresh = [row for row in rows() if row.play_id != cast.play.pk]
    with django_assert_num_queries(1):
        read_ahead(fresh)
    with django_assert_num_queries(0):
        read_ahead(fresh)
        assert [play_value(row) for row in fresh] == values


def test_a_draft_that_was_changed_is_read_anew(cast: Cast) -> None:
    draft = save_draft(cast.play, replace(demo_play("gangway"), use="One."), cast.keeper)
    assert play_value(draft).use == "One."
    save_draft(cast.play, replace(demo_play("gangway"), use="Two."), cast.keeper)
    assert play_value(Revision.objects.get(pk=draft.pk)).use == "Two."


def test_bringing_in_writes_a_play_down_once(cast: Cast) -> None:
    """Queries: a savepoint and its release; is it held already, the play, its revision, which one
    is current, the record; and whether a check is asked for already."""
    new = demo_play("oar-rack")
    token = preview_of(read_file(write_library([new]), ENGLISH)).token
    with (
        patch.object(file, "to_json", wraps=file.to_json) as writes,
        CaptureQueriesContext(connection) as queries,
    ):
        bring_in(token, {new.key}, cast.keeper)
    assert writes.call_count == 1
    assert len(queries) == 8
    assert play_value(Play.objects.get(key=new.key).published()) == new
