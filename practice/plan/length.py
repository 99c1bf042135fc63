"""How long a practice lasts for those outside, and telling them when that changes.

A calendar program takes a new end over only where the event's SEQUENCE has grown (RFC 5545,
3.8.7.4), so every change of a plan that moves the end counts it up.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from django.db import transaction
from django.db.models import F, Sum
from django.utils import timezone

from practice.bridge import moment
from practice.core.instants import minutes_between
from practice.models import Practice

USUAL_MINUTES: Final = 90  # of a game, and of a practice without plan and booking


def lasting(practice: Practice, planned: int | None) -> float:
    """Minutes from the start, where the blocks take ``planned``: the booking has the last word."""
    if practice.hall_until is None:
        # A plan half written ends no practice early.
        return max(planned or 0, USUAL_MINUTES)
    starts = moment(practice.date, practice.start)
    return max(1.0, minutes_between(starts, moment(practice.date, practice.hall_until)))


@contextmanager
def length_followed(practice: Practice) -> Iterator[None]:
    """Around a change of the blocks, in one transaction: a new end is told to calendars."""
    with transaction.atomic():
        before = lasting(practice, _planned(practice))
        yield
        if lasting(practice, _planned(practice)) != before:
            Practice.objects.filter(pk=practice.pk).update(
                sequence=F("sequence") + 1, changed_at=timezone.now()
            )


def _planned(practice: Practice) -> int | None:
    found: int | None = practice.blocks.aggregate(planned=Sum("minutes"))["planned"]
    return found
