"""Dates on pages. Spanish: names of months are written small, short ones too (the Academy's
Ortografía, 2010; from memory)."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.template import Context, Template
from django.utils.timezone import override as in_zone
from django.utils.translation import override


@pytest.mark.parametrize(
    ("language", "form", "said"),
    [
        ("es", "D j M", "sáb 3 oct"),
        ("es", "j F", "3 octubre"),
        ("es", "c", "2026-10-03"),
        ("en", "D j M", "Sat 3 Oct"),
    ],
)
def test_a_month_in_spanish_is_small(language: str, form: str, said: str) -> None:
    with override(language):
        shown = Template("{{ day|date:form }}").render(
            Context({"day": date(2026, 10, 3), "form": form})
        )
    assert shown == said


def test_a_moment_is_told_on_the_clock_of_the_club() -> None:
    """Half an hour before midnight of Greenwich it is the next day in Oslo."""
    late = datetime(2026, 11, 27, 23, 30, tzinfo=UTC)
    with in_zone("Europe/Oslo"):
        shown = Template('{{ at|date:"j M, H:i" }}').render(Context({"at": late}))
    assert shown == "28 Nov, 00:30"
