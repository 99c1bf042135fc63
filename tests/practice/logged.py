"""Every rep of a team, one by one: what sums and calibration have to agree with."""

from __future__ import annotations

from practice.core.reps.rep import Rep
from practice.models import Rep as RepRow
from practice.reps.sums import values_of
from roster.models import Team


def reps_of(team: Team) -> list[Rep]:
    """Every counted rep, oldest first."""
    return values_of(RepRow.objects.counted().filter(practice__team=team).order_by("at", "pk"))
