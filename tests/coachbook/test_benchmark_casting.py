"""The benchmark of casting runs through, its comparisons agree, and so do two runs of it."""

from __future__ import annotations

import re
from io import StringIO
from itertools import count

import pytest

from coachbook.benchmarks import casting


def test_every_comparison_agrees(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(casting, "PLAYERS", 8)
    monkeypatch.setattr(casting, "PLAYS", 4)
    monkeypatch.setattr(casting, "REPEATS", 1)
    out = StringIO()
    casting.run(out)
    told = out.getvalue()
    assert "different answers: 0 of 23\n" in told  # every tenth of 56 fives x 4 plays
    assert "different answers: 0 of 224\n" in told
    assert "what to teach next" in told


def test_two_runs_agree_however_fast_the_machine_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """The second run is told at every look at the clock that another hour is over."""
    monkeypatch.setattr(casting, "PLAYERS", 9)
    monkeypatch.setattr(casting, "PLAYS", 6)
    monkeypatch.setattr(casting, "REPEATS", 1)
    told = []
    for _ in range(2):
        out = StringIO()
        casting._casting(out)
        told.append(
            [line for line in out.getvalue().splitlines() if "value" in line or "cast " in line]
        )
        hours = count(step=3600.0)
        monkeypatch.setattr(casting, "monotonic", lambda hours=hours: next(hours))
    assert told[0] == told[1]
    assert re.search(r"(proved|settled), gap \d+\.\d\d %, cast [0-9a-f]{8}$", told[0][-1])
