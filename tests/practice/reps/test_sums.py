"""The sums that readiness is made of say the same as all the reps that they are sums of."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from importlib import import_module
from typing import Any

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.play import ROLES
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.grid import grid, ledger, standings
from practice.core.reps.log import Tap
from practice.core.reps.rep import Mode, Rep, Touch, Undo, as_cast, touches
from practice.dates.series import save_change
from practice.models import Practice, RepSum
from practice.readiness.page import team_readiness
from practice.reps.store import decide, store
from practice.reps.sums import touches_of
from tests.cast import Cast
from tests.practice.logged import reps_of

NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)
OTHER = Assumptions(massing=0.8, walk_through=0.1, half_speed=0.9, error=0.2, decay=0.7)
WITHOUT_RESET = settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@st.composite
def histories(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Steps of a season: reps, reps taken back (some before they arrive), practices moved."""
    number = st.integers(0, 30)
    rep = st.fixed_dictionaries(
        {
            "do": st.just("rep"),
            "key": number,
            "practice": st.integers(0, 2),
            "play": st.integers(0, 1),
            "mode": st.sampled_from(list(Mode)[:3]),
            "minute": st.integers(0, 3000),
            "turn": st.integers(0, 6),
            "erred": st.sampled_from([None, "", *ROLES]),
        }
    )
    undo = st.fixed_dictionaries({"do": st.just("undo"), "key": number})
    move = st.fixed_dictionaries(
        {"do": st.just("move"), "practice": st.integers(0, 2), "days": st.integers(-9, 9)}
    )
    return draw(st.lists(st.one_of(rep, rep, rep, undo, move), min_size=1, max_size=25))


def run(cast: Cast, practices: list[Practice], plays: list[Any], step: dict[str, Any]) -> None:
    if step["do"] == "move":
        moved = Practice.objects.get(pk=practices[step["practice"]].pk)
        before = Practice.objects.get(pk=moved.pk)
        moved.date += timedelta(days=step["days"])
        if not cast.team.practices.filter(date=moved.date).exclude(pk=moved.pk).exists():
            save_change(moved, before, following=False)
        return
    key = str(uuid.UUID(int=step["key"] + 1))
    tap: Tap = Undo(str(uuid.UUID(int=step["key"] + 100)), key, NOW)
    if step["do"] == "rep":
        turned = [*cast.players[step["turn"] :], *cast.players[: step["turn"]]]
        tap = Rep(
            id=key,
            practice=practices[step["practice"]].pk,
            play=plays[step["play"]].pk,
            mode=step["mode"],
            at=datetime(2026, 9, 1, 16, tzinfo=UTC) + timedelta(minutes=step["minute"]),
            cast=as_cast({role: who.pk for role, who in zip(ROLES, turned, strict=False)}),
            clean=step["erred"] is None,
            erred=step["erred"] or None,
        )
    store([tap], cast.team, cast.head)


def same_readiness(cast: Cast, sums: tuple[Touch, ...], single: tuple[Touch, ...]) -> None:
    players = [player.pk for player in cast.players]
    plays = list(cast.team.package.values_list("pk", flat=True))
    for assumptions in (Assumptions(), OTHER):
        books = [ledger(history, players, plays, assumptions) for history in (sums, single)]
        values = [grid(book, NOW).strength for book in books]
        assert values[0] == pytest.approx(values[1], rel=1e-12)
        marks = [standings(book, NOW) for book in books]
        assert (marks[0] == marks[1]).all()


@pytest.mark.django_db
@WITHOUT_RESET
@given(steps=histories())
def test_sums_are_worth_what_all_reps_are_worth(cast: Cast, steps: list[dict[str, Any]]) -> None:
    with rolled_back():
        oar_rack = factories.published(demo_play("oar-rack"))
        other = factories.PackagePlayFactory.create(team=cast.team, play=oar_rack)
        days = [date(2026, 9, day) for day in (11, 12, 13)]
        practices = [factories.PracticeFactory.create(team=cast.team, date=day) for day in days]
        for step in steps:
            run(cast, practices, [cast.entry, other], step)
        single, sums = touches(reps_of(cast.team)), touches_of(cast.team)
        assert sum(touch.count for touch in sums) == len(single)
        same_readiness(cast, sums, single)
        kept = sorted_rows()
        RepSum.objects.all().delete()
        import_module("practice.migrations.0003_rep_sums").fill(apps, None)
        assert sorted_rows() == kept  # the migration counts as the site does


def sorted_rows() -> list[tuple[Any, ...]]:
    names = ("practice", "entry", "player", "role", "mode", "is_clean", "count", "first_at")
    return sorted(RepSum.objects.values_list(*names))


@contextmanager
def rolled_back() -> Iterator[None]:
    """What one example writes is gone before the next begins."""
    point = transaction.savepoint()
    try:
        yield
    finally:
        transaction.savepoint_rollback(point)


def logged(cast: Cast, **more: Any) -> None:
    five = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
    factories.RepFactory.create(practice=cast.practice, entry=cast.entry, cast=five, **more)


def test_only_the_player_who_erred_has_an_error(cast: Cast) -> None:
    logged(cast, is_clean=False, erred="2")
    assert set(RepSum.objects.values_list("role", "is_clean")) == {
        (role, role != "2") for role in ROLES
    }


def test_a_held_rep_counts_from_its_decision_on(cast: Cast) -> None:
    cast.players[0].delete()
    five = as_cast({role: who.pk or 0 for role, who in zip(ROLES, cast.players, strict=False)})
    rep = Rep(str(uuid.uuid4()), cast.practice.pk, cast.entry.pk, Mode.LIVE, NOW, five)
    store([rep], cast.team, cast.head)
    assert not RepSum.objects.exists()
    bench = as_cast({role: who.pk for role, who in zip(ROLES, cast.players[1:], strict=False)})
    decide(cast.team.held_reps.get(), replace(rep, cast=bench), cast.head)
    assert RepSum.objects.count() == 5


def test_sums_go_with_the_person(cast: Cast) -> None:
    logged(cast)
    cast.players[0].delete()
    assert RepSum.objects.count() == 4


def test_they_can_be_made_anew_by_hand(cast: Cast, capsys: pytest.CaptureFixture[str]) -> None:
    logged(cast)
    kept = sorted_rows()
    RepSum.objects.all().delete()
    call_command("sum_reps")
    assert sorted_rows() == kept
    assert "Summed" in capsys.readouterr().out


def test_readiness_reads_no_single_rep(cast: Cast) -> None:
    logged(cast)
    with CaptureQueriesContext(connection) as queries:
        team_readiness(cast.team)
    assert not [q["sql"] for q in queries if "practice_reprole" in q["sql"]]
