"""The worker that reckons what the table of all checks lacks, one play and age group at a time."""

from __future__ import annotations

from plays.check.results import library_rows, work_off
from plays.models import Checking
from shared.worker import Facts, Pulse


def work(_run: Checking, pulse: Pulse) -> Facts:
    """Go on until nothing is missing, plays published meanwhile included."""
    left = work_off(library_rows())
    while left and pulse.report(left=left):
        left = work_off(library_rows())
    return {"left": left}
