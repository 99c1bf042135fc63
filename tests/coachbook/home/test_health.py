"""The watchman's page says no when the site cannot do its work."""

from __future__ import annotations

import shutil
from types import SimpleNamespace

import pytest
from django.db import connection, transaction
from django.test import Client

from shared.models import Change

READ_ONLY = {
    "sqlite": ("PRAGMA query_only=ON", "PRAGMA query_only=OFF"),
    "postgresql": ("SET SESSION CHARACTERISTICS AS TRANSACTION READ ONLY", "RESET ALL"),
}


@pytest.mark.django_db
def test_all_is_well_and_nothing_is_left_behind() -> None:
    answer = Client().get("/health/")
    assert (answer.status_code, answer.content) == (200, b"ok")
    assert not Change.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_a_database_that_takes_no_change() -> None:
    shut, open_again = READ_ONLY[connection.vendor]
    assert transaction.get_autocommit()
    with connection.cursor() as cursor:
        cursor.execute(shut)
    try:
        answer = Client().get("/health/")
    finally:
        with connection.cursor() as cursor:
            cursor.execute(open_again)
        connection.close()
    assert (answer.status_code, answer.content) == (503, b"the database takes no change")


@pytest.mark.django_db
def test_a_disk_that_is_nearly_full(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=1_000_000))
    answer = Client().get("/health/")
    assert (answer.status_code, answer.content) == (503, b"the disk is nearly full")
