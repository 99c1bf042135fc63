"""How taps from several phones become one log.

A log is a set of taps: merging is a union by id, so that it does not matter in which order, how
often, or from how many phones the taps arrive (a grow-only set with tombstones; Shapiro et al.
2011, INRIA RR-7506: from memory).
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from practice.core.reps.called import CalledPlay
from practice.core.reps.rep import Rep, Undo

Run = Rep | CalledPlay  # what counts: a rep of a practice, or a play called in a game
Tap = Run | Undo


@dataclass(frozen=True, slots=True)
class Clash:
    """Two different taps with one id: a fault of a phone. The first is the one that counts."""

    id: str
    kept: Tap
    others: tuple[Tap, ...]


@dataclass(frozen=True, slots=True)
class Log:
    """Merged taps. ``taps`` holds every different tap, so that a log can be merged again."""

    taps: tuple[Tap, ...]
    reps: tuple[Rep, ...]
    undone: tuple[Rep, ...]
    called: tuple[CalledPlay, ...]  # those taken back among them
    early_undos: tuple[Undo, ...]
    clashes: tuple[Clash, ...]


def merge(*batches: Iterable[Tap]) -> Log:
    """One log of all batches; the same for every order, grouping and doubling of the taps."""
    taps = tuple(sorted({tap for batch in batches for tap in batch}, key=_order))
    by_id: dict[str, list[Tap]] = {}
    for tap in taps:
        by_id.setdefault(tap.id, []).append(tap)
    first = [same[0] for same in by_id.values()]
    undos = [tap for tap in first if isinstance(tap, Undo)]
    taken_back = {undo.rep for undo in undos}
    reps = [tap for tap in first if isinstance(tap, Rep)]
    called = tuple(tap for tap in first if isinstance(tap, CalledPlay))
    known = {rep.id for rep in reps} | {each.id for each in called}
    return Log(
        taps=taps,
        reps=tuple(rep for rep in reps if rep.id not in taken_back),
        undone=tuple(rep for rep in reps if rep.id in taken_back),
        called=called,
        early_undos=tuple(undo for undo in undos if undo.rep not in known),
        clashes=tuple(
            Clash(key, same[0], tuple(same[1:])) for key, same in by_id.items() if len(same) > 1
        ),
    )


def to_json(tap: Tap) -> dict[str, object]:
    """The tap as the phone sends it; ``tap_file.read_taps`` is the inverse."""
    if isinstance(tap, Undo):
        return {
            "kind": "undo",
            "id": tap.id,
            "rep": tap.rep,
            "at": _moment_text(tap.at),
            "by": tap.by,
        }
    if isinstance(tap, CalledPlay):
        return _called_json(tap)
    # A rep without a call reads as it did before calls were logged: its content is the same.
    called = {} if tap.call is None else {"call": tap.call}
    return {
        "kind": "rep",
        "id": tap.id,
        "practice": tap.practice,
        "play": tap.play,
        "mode": str(tap.mode),
        "at": _moment_text(tap.at),
        "cast": dict(sorted(tap.cast)),
        "clean": tap.clean,
        "erred": tap.erred,
        "slip": None if tap.slip is None else str(tap.slip),
        "unit": tap.unit,
        "by": tap.by,
        "revision": tap.revision,
        **called,
    }


def _called_json(tap: CalledPlay) -> dict[str, object]:
    return {
        "kind": "called",
        "id": tap.id,
        "game": tap.game,
        "play": tap.play,
        "at": _moment_text(tap.at),
        "defence": None if tap.defence is None else str(tap.defence),
        "taken": str(tap.taken),
        "look": tap.look,
        "result": str(tap.result),
        "points": tap.points,
        "cast": dict(sorted(tap.cast)),
        "erred": tap.erred,
        "period": tap.period,
        "clock": tap.clock,
        "by": tap.by,
        "revision": tap.revision,
        "call": tap.call,
    }


def _order(tap: Tap) -> tuple[datetime, str, str]:
    return tap.at, tap.id, json.dumps(to_json(tap), sort_keys=True)


def _moment_text(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")
