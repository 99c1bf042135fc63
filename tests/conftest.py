"""Fixtures that every test may use, and how far Hypothesis looks.

A usual run draws the same examples each time, so that a change is judged by itself and not by
luck; ``HYPOTHESIS_PROFILE=wide`` looks further, with new examples in every run.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator

import pytest
from django.core.cache import cache
from django.core.management import call_command
from django.db import connection
from factory.django import DjangoModelFactory
from hypothesis import HealthCheck, settings
from pytest_django import DjangoDbBlocker

from coachbook.demo import factories
from coachbook.demo.build import build_demo
from plays import values
from shared import worker
from tests import machine, template
from tests.cast import DEMO_DAY, Cast, make_cast

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
settings.register_profile(
    "steady",
    max_examples=30,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=SLOW,
)
settings.register_profile("wide", max_examples=500, deadline=None, suppress_health_check=SLOW)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--only-database",
        action="store_true",
        help="run what asks for a database: the rest says the same on every database",
    )


def pytest_configure(config: pytest.Config) -> None:
    template.know(config)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    for item in items:
        machine.leave_out(item)
    if config.getoption("--only-database"):
        kept = [item for item in items if machine.uses_database(item)]
        config.hook.pytest_deselected(items=[item for item in items if item not in set(kept)])
        items[:] = kept


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    skipped = terminalreporter.stats.get("skipped", [])
    for line in machine.skipped_for_want([str(report.longrepr) for report in skipped]):
        terminalreporter.write_line(line)


@pytest.fixture(scope="session")
def django_db_keepdb(request: pytest.FixtureRequest, django_db_modify_db_settings: None) -> bool:
    """Begin with a copy of a migrated SQLite file, where an earlier run left one.

    Kept by the text of all migrations: a change of one makes the file anew.
    """
    return template.lay(request.config)


@pytest.fixture(scope="session")
def django_db_setup(request: pytest.FixtureRequest, django_db_setup: None) -> None:
    """The test database, left behind as a template once it is migrated."""
    template.keep(request.config)


@pytest.fixture
def cast(db: None) -> Cast:
    """The small cast: a club, two teams, a head coach, an assistant, strangers, a play."""
    return make_cast()


@pytest.fixture(scope="module")
def demo_club(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """The demo club of ``DEMO_DAY``, built once for a module that only reads it.

    It is there as soon as the fixture is asked for, in every test of the module, so that a
    module with other tests has no use for it.
    """
    with django_db_blocker.unblock(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(worker, "spawn", lambda _row: None)
        begin_anew()
        build_demo(DEMO_DAY)
    yield
    with django_db_blocker.unblock():
        call_command("flush", interactive=False, verbosity=0)


@pytest.fixture(autouse=True)
def _as_if_alone() -> None:
    """What a process keeps begins anew with each test, so that no test leans on its neighbours."""
    begin_anew()


def begin_anew() -> None:
    values._kept.clear()
    cache.clear()
    for each in vars(factories).values():
        if isinstance(each, type) and issubclass(each, DjangoModelFactory):
            each.reset_sequence(force=True)


@pytest.fixture(autouse=True)
def spawned(monkeypatch: pytest.MonkeyPatch) -> list[worker.Work]:
    """The workers that were asked for: a process would open another database than the test's."""
    asked: list[worker.Work] = []
    monkeypatch.setattr(worker, "spawn", asked.append)
    return asked


@pytest.fixture
def working(monkeypatch: pytest.MonkeyPatch, transactional_db: None) -> Iterator[None]:
    """Workers do their work, in threads beside the test."""
    threads: list[threading.Thread] = []

    def work(row: worker.Work) -> None:
        try:
            worker.perform(row)
        finally:
            connection.close()

    def spawn(row: worker.Work) -> None:
        threads.append(threading.Thread(target=work, args=(row,)))
        threads[-1].start()

    monkeypatch.setattr(worker, "spawn", spawn)
    yield
    for thread in threads:
        thread.join()
