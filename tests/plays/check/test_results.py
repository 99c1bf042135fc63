"""The table of all checks: right, kept, and never reckoned in a page that is only read."""

from __future__ import annotations

import ast
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest
from django.test import TestCase
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play, demo_plays
from plays.check import results
from plays.check.results import work
from plays.check.table import table
from plays.checking import PAUSE, begin, keep_up
from plays.core.check.setting import Setting, checked
from plays.core.play import AgeGroup
from plays.files.bring_in import bring_in, preview_of
from plays.files.file import read_file, write_library
from plays.library.changes import publish, save_draft
from plays.models import Checking, CheckResult, Play
from shared import worker
from shared.core.language import ENGLISH
from shared.worker import Work
from tests.cast import Cast

KEYS = ("breakwater", "slipway", "lamp-row")


@pytest.fixture
def shelf(cast: Cast) -> list[Play]:
    fresh = [value for value in demo_plays() if value.key in KEYS]
    return [cast.play, *(factories.published(value) for value in fresh)]


def fill() -> None:
    while results.work_off(
        results.rows(Play.objects.on_shelf().select_related("current")), most=50
    ):
        pass


def test_a_result_is_what_the_check_says(shelf: list[Play]) -> None:
    fill()
    for play in shelf:
        content = play.published().content_hash
        for age in (AgeGroup.U10, AgeGroup.U16):
            for defence in ("chase", "switch", "sag"):
                kept = CheckResult.objects.get(content_hash=content, age=age.value, defence=defence)
                report = checked(play.published().value(), Setting(age, defence=defence))
                assert kept.margin == pytest.approx(report.best_margin)
                assert kept.serious == sum(f.severity == "serious" for f in report.findings)
                assert kept.there == sum(v.there for v in report.verdicts)


def test_worst_margin_first_and_marks_by_severity(shelf: list[Play]) -> None:
    fill()
    rows = results.rows(Play.objects.on_shelf().select_related("current"))
    shown = table(rows, "U12")
    worst = [line.worst for line in shown["lines"]]
    assert worst == sorted(worst)
    assert shown["left"] == 0
    by_key = {row.play.key: row for row in rows}
    for line in shown["lines"]:
        for cell, age in zip(line.ages, AgeGroup, strict=True):
            result = by_key[line.play.key].of(age.value, "chase")
            assert result is not None
            assert (cell.mark == "bad") == (not result.suits)


def test_reading_the_table_reckons_nothing_but_has_it_reckoned(
    cast: Cast, shelf: list[Play], spawned: list[Work]
) -> None:
    Checking.objects.all().delete()
    client = cast.client(cast.assistant)
    with (
        patch("plays.check.results.check_many", side_effect=AssertionError),
        TestCase.captureOnCommitCallbacks(execute=True),
    ):
        answer = client.get(reverse("checks"))
        client.get(reverse("checks"))
    said = answer.content.decode()
    assert "24 checks are being worked out" in said
    table = said.partition("<table")[2]
    assert table.count("being checked") == len(shelf) * (len(AgeGroup) + len(results.DEFENCES))
    assert 'hx-trigger="every 2s"' in said
    assert "<button" not in said.partition('id="table"')[2].partition("</table>")[0]
    assert not CheckResult.objects.exists()
    assert [type(work) for work in spawned] == [Checking]


@pytest.mark.django_db(transaction=True)  # the worker's beat has a connection of its own
def test_the_worker_reckons_all_and_the_page_stops_asking(cast: Cast, shelf: list[Play]) -> None:
    run = Checking.objects.get()
    worker.perform(run)
    assert CheckResult.objects.count() == len(shelf) * len(AgeGroup) * len(results.JUDGED)
    assert (Checking.objects.get().state, Checking.objects.get().left) == ("done", 0)
    said = cast.client(cast.assistant).get(reverse("checks")).content.decode()
    assert "being checked" not in said
    assert "every 2s" not in said
    with patch("plays.check.results.check_many", side_effect=AssertionError):
        begin()
        worker.perform(Checking.objects.get(state="running"))  # nothing is left to reckon
    assert Checking.objects.filter(state="done").exists()


def test_a_worker_hears_a_stop_between_two_plays(shelf: list[Play]) -> None:
    pulse = worker.Pulse(Checking.objects.get())
    pulse.stopped = True
    assert work(Checking.objects.get(), pulse) == {"left": len(shelf) * len(AgeGroup) - 1}


def test_publishing_and_bringing_in_have_the_library_checked(
    cast: Cast, spawned: list[Work]
) -> None:
    def asked() -> int:
        return Checking.objects.filter(state="running").count()

    Checking.objects.all().delete()
    draft = save_draft(cast.play, replace(cast.play.published().value(), use="New."), cast.keeper)
    assert asked() == 0  # a draft is in no table
    publish(draft, cast.keeper)
    assert asked() == 1
    Checking.objects.all().delete()
    token = preview_of(read_file(write_library([demo_play("oar-rack")]), ENGLISH)).token
    bring_in(token, {"oar-rack"}, cast.keeper)
    assert asked() == 1
    begin()
    assert asked() == 1  # one worker at a time


def test_a_page_does_not_start_a_failing_worker_over_and_over(cast: Cast) -> None:
    Checking.objects.update(state="failed", beat_at=timezone.now())
    keep_up()
    assert not Checking.objects.filter(state="running").exists()
    Checking.objects.update(beat_at=timezone.now() - 2 * PAUSE)
    keep_up()
    assert Checking.objects.filter(state="running").exists()


def test_a_new_revision_and_new_code_are_reckoned_anew(shelf: list[Play]) -> None:
    fill()
    rows = results.rows(Play.objects.on_shelf().select_related("current"))
    assert results.missing(rows) == []
    with patch("plays.check.results.code_state", return_value="another"):
        assert len(results.missing(results.rows(shelf))) == len(shelf) * len(AgeGroup)
        fill()
        assert set(CheckResult.objects.values_list("code", flat=True)) == {"another"}


def test_htmx_gets_the_table(cast: Cast, shelf: list[Play]) -> None:
    client = cast.client(cast.assistant)
    answer = client.get(reverse("checks"), {"age": "U14"}, headers={"HX-Request": "true"})
    assert b"<!doctype html>" not in answer.content
    assert b'id="table"' in answer.content


def imported(file: Path, seen: set[Path]) -> set[Path]:
    """A module of the cores, and every module of them that it imports, directly or not."""
    seen.add(file)
    for node in ast.walk(ast.parse(file.read_text())):
        names: list[str] = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module, *(f"{node.module}.{each.name}" for each in node.names)]
        elif isinstance(node, ast.Import):
            names = [each.name for each in node.names]
        for name in names:
            other = results.ROOT.joinpath(*name.split(".")).with_suffix(".py")
            if other.is_file() and other not in seen:
                imported(other, seen)
    return seen


def test_a_result_is_forgotten_when_any_module_that_it_rests_on_changes() -> None:
    core = results.ROOT / "plays" / "core"
    needed: set[Path] = set()
    for place in ("check/check.py", "check/setting.py", "check/standing.py", "document/form.py"):
        imported(core / place, needed)
    assert core / "motion" / "sprint.py" in needed
    assert needed <= set(results.sources())
