"""Days as words, beside the framework's."""

from __future__ import annotations

from datetime import date

import pytest
from django.utils import translation
from django.utils.formats import date_format

from shared.core.days import day_of_month, day_said
from shared.speech import language_of


@pytest.mark.parametrize(("code", "written"), [("en", "j F Y"), ("es", r"j \d\e F \d\e Y")])
def test_a_day_is_written_as_the_framework_writes_it(code: str, written: str) -> None:
    """Django's own names of the twelve months, and its formatting of a date."""
    for month in range(1, 13):
        day = date(2026, month, 3)
        with translation.override(code):
            assert day_said(day, language_of(code)) == date_format(day, written)
            short = written.replace(r" \d\e Y", "").replace(" Y", "")
            assert day_of_month(day, language_of(code)) == date_format(day, short)
