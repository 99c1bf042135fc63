"""A team's reps as the touches that readiness is counted from, and the club's parameters."""

from __future__ import annotations

from dataclasses import asdict

from django.utils import timezone

from plays.core.play import ROLES
from practice.bridge import moment
from practice.core.readiness import assumptions as core
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.calibration import Calibration
from practice.core.reps.rep import Id, Mode, Rep, Slip, Touch, as_cast, touches
from practice.models import ReadinessSettings, RepRole
from practice.models import Rep as RepRow
from roster.models import Team


def reps_of(team: Team) -> list[Rep]:
    """Every counted rep of a team, oldest first: two queries, however many reps.

    One that was logged on another day than its practice counts on the practice's day.
    """
    rows = RepRow.objects.counted().filter(practice__team=team).select_related("practice")
    fives: dict[object, dict[str, int]] = {}
    roles = RepRole.objects.filter(rep__practice__team=team)
    for rep, role, player in roles.values_list("rep", "role", "player"):
        fives.setdefault(rep, {})[role] = player
    return [_rep(row, fives.get(row.pk, {})) for row in rows.order_by("at", "pk")]


def _rep(row: RepRow, five: dict[str, int]) -> Rep:
    on_the_day = timezone.localdate(row.at) == row.practice.date
    return Rep(
        id=str(row.pk),
        practice=row.practice_id,
        play=row.entry_id,
        mode=Mode(row.mode),
        at=row.at if on_the_day else moment(row.practice.date, row.practice.start),
        cast=as_cast({role: five[role] for role in ROLES if role in five}),
        clean=row.is_clean,
        erred=next((role for role in ROLES if role == row.erred), None),
        slip=Slip(row.slip) if row.slip else None,
    )


def touches_of(team: Team) -> tuple[Touch, ...]:
    return touches(reps_of(team))


def settings_row() -> ReadinessSettings:
    """The club's one row; a fresh one, not saved yet, where there is none."""
    return ReadinessSettings.objects.first() or ReadinessSettings()


def chosen(row: ReadinessSettings) -> Assumptions:
    """The parameters as the club set them by hand."""
    return core.from_json(row.assumptions)


def in_force(row: ReadinessSettings) -> tuple[Assumptions, Offsets]:
    """What readiness is computed with: the calibrated parameters where there are any."""
    found = row.calibration or {}
    if not found.get("calibrated"):
        return chosen(row), Offsets()
    players: dict[Id, float] = {int(pk): float(value) for pk, value in found["players"].items()}
    return core.from_json(found["assumptions"]), Offsets(players=players)


def keep_calibration(row: ReadinessSettings, made: Calibration) -> None:
    """Keep what a calibration found, as plain values."""
    row.calibration = {
        "calibrated": made.calibrated,
        "graded": made.graded,
        "sentence": made.sentence,
        "assumptions": core.to_json(made.candidate.assumptions),
        "players": {str(who): value for who, value in made.candidate.offsets.players.items()},
        "scores": asdict(made.scores) if made.scores else None,
    }
    row.save()
