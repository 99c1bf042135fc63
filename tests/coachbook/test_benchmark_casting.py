"""The benchmark of casting runs through, and its comparisons agree."""

from __future__ import annotations

from io import StringIO

import pytest

from coachbook.benchmarks import casting


def test_every_comparison_agrees(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(casting, "PLAYERS", 8)
    monkeypatch.setattr(casting, "PLAYS", 4)
    monkeypatch.setattr(casting, "REPEATS", 1)
    monkeypatch.setattr(casting, "SECONDS", 2.0)
    out = StringIO()
    casting.run(out)
    told = out.getvalue()
    assert "different answers: 0 of 23\n" in told  # every tenth of 56 fives x 4 plays
    assert "different answers: 0 of 224\n" in told
    assert "what to teach next" in told
