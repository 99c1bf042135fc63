"""Days and moments as fields: bounded where they are entered, bearable where they are read."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.core.days import DaySpan, bearable_day, bearable_moment, span_around
from shared.said import day_said


def season() -> DaySpan:
    """The days that may be entered today."""
    return span_around(timezone.localdate())


def check_season(day: date | datetime) -> None:
    """Raise ValidationError for a day that no season near today holds."""
    known = season()
    if (day.date() if isinstance(day, datetime) else day) not in known:
        raise ValidationError(
            _("Choose a day between %(first)s and %(last)s."),
            code="season",
            params={
                "first": day_said(known.first, "j M Y"),
                "last": day_said(known.last, "j M Y"),
            },
        )


class SeasonDateField(forms.DateField):
    """A date near today."""

    default_validators = [check_season]


class DayField(models.DateField):  # type: ignore[type-arg]
    """A date column whose forms take days near today; an odd one in a row is read as bearable."""

    def from_db_value(self, value: date | None, *_: object) -> date | None:
        return None if value is None else bearable_day(value)

    def formfield(self, *_args: Any, **kwargs: Any) -> Any:
        return super().formfield(**{"form_class": SeasonDateField, **kwargs})

    def deconstruct(self) -> Any:
        """As the plain column that it is, so that no migration follows from it."""
        name, _path, args, kwargs = super().deconstruct()
        return name, "django.db.models.DateField", args, kwargs


class MomentField(models.DateTimeField):  # type: ignore[type-arg]
    """A moment that came from a phone: one at an end of the calendar is read as bearable."""

    def from_db_value(self, value: datetime | None, *_: object) -> datetime | None:
        return None if value is None else bearable_moment(value)

    def deconstruct(self) -> Any:
        """As the plain column that it is, so that no migration follows from it."""
        name, _path, args, kwargs = super().deconstruct()
        return name, "django.db.models.DateTimeField", args, kwargs
