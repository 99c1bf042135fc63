"""The club's parameters of readiness: as set by hand, as calibrated, and those in force."""

from __future__ import annotations

from dataclasses import asdict

from practice.core.readiness import assumptions as core
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.calibration import Calibration
from practice.core.reps.rep import Id
from practice.models import ReadinessSettings


def settings_row(*, held: bool = False) -> ReadinessSettings:
    """The club's one row; a fresh one, not saved yet, where there is none.

    ``held``: nobody else changes it before the transaction ends.
    """
    rows = ReadinessSettings.objects.all()
    return (rows.select_for_update() if held else rows).first() or ReadinessSettings()


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


def keep_calibration(row: ReadinessSettings, made: Calibration, *, is_sample: bool = False) -> None:
    """Keep what a calibration found, as plain values; ``is_sample`` where it saw a part only."""
    row.calibration = {
        "calibrated": made.calibrated,
        "graded": made.graded,
        "is_sample": is_sample,
        "sentence": made.sentence,
        "assumptions": core.to_json(made.candidate.assumptions),
        "players": {str(who): value for who, value in made.candidate.offsets.players.items()},
        "scores": asdict(made.scores) if made.scores else None,
    }
    row.save()
