"""What the check says of each play of the demo stays as it was until somebody means it.

No source outside says a demo play's margin; what is held to sources stands in the other files
here. This one shows in a change's own diff which verdicts and sentences it has moved.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest

from plays.core.check.check import Report
from plays.core.check.setting import DRAWN, Setting, checked, usual_defence
from plays.core.defence.verdict import Tactic
from plays.core.play import AgeGroup, Play
from tests.kept import assert_same
from tests.plays.core.demo_plays import DEMO


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_a_play_is_judged_as_before(play: Play) -> None:
    usual = Setting(play.level, defence=usual_defence(play))
    other = Setting(
        AgeGroup.ADULT, defence=Tactic.SWITCH.value if usual.defence != DRAWN else DRAWN
    )
    lines = [line for setting in (usual, other) for line in told(checked(play, setting))]
    assert_same("\n".join(lines) + "\n", __file__, f"{play.key}.txt")


def told(report: Report) -> Iterator[str]:
    """A report as lines: the heading, then each look, counter and finding on one."""
    data = report.to_json()
    lists = [data.pop(name) for name in ("looks", "counters", "findings")]
    yield json.dumps(data)
    for each in lists:
        yield from map(json.dumps, each)
