"""Days and numbers as each language writes them."""

from __future__ import annotations

from datetime import date

import pytest
from django.utils import translation

from shared.said import day_said, figure_said


@pytest.mark.parametrize(
    ("language", "day", "figure"), [("en", "Sun 6 Dec", "0.0236"), ("es", "dom 6 dic", "0,0236")]
)
def test_each_language_has_its_months_and_its_decimal_sign(
    language: str, day: str, figure: str
) -> None:
    """Small months: Real Academia Española (2010), from memory. The comma: its manual, the same."""
    with translation.override(language):
        assert day_said(date(2026, 12, 6), "D j M") == day
        assert figure_said(0.02361) == figure
        assert figure_said(5.0) == "5"
