"""The table of all checks: right, kept, and never reckoned in a page that is only read."""

from __future__ import annotations

from unittest.mock import patch

import pytest
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from plays.check import results
from plays.check.table import table
from plays.core.check.check import check_many
from plays.core.check.setting import Setting, checked
from plays.core.play import AgeGroup
from plays.models import CheckResult, Play
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


def test_reading_the_table_reckons_nothing(cast: Cast, shelf: list[Play]) -> None:
    client = cast.client(cast.assistant)
    with patch("plays.check.results.check_many", side_effect=AssertionError):
        answer = client.get(reverse("checks"))
    assert b"not reckoned yet" in answer.content
    assert not CheckResult.objects.exists()


def test_each_request_reckons_a_few_until_all_is_there(cast: Cast, shelf: list[Play]) -> None:
    client = cast.client(cast.assistant)
    pairs = len(shelf) * len(AgeGroup)
    rounds = 0
    while b"not reckoned yet" in client.get(reverse("checks"), {"age": "U12"}).content:
        with patch("plays.check.results.check_many", wraps=check_many) as called:
            client.post(reverse("more-checks"), {"age": "U12"})
        assert 1 <= called.call_count <= results.AT_ONCE
        rounds += 1
        if rounds == 1:  # the age group that is looked at comes first
            assert set(CheckResult.objects.values_list("age", flat=True)) >= {"U12"}
        assert rounds <= pairs
    assert CheckResult.objects.count() == pairs * len(results.DEFENCES)
    with patch("plays.check.results.check_many", side_effect=AssertionError):
        client.post(reverse("more-checks"), {"age": "U12"})


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
    answer = client.post(reverse("more-checks"), {"age": "U14"}, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert b"<!doctype html>" not in answer.content
    assert b'id="table"' in answer.content
