"""The lines in which a checked file is told."""

from __future__ import annotations

from dataclasses import replace

from plays.core.check.check import check
from plays.core.check.files import Checked
from plays.core.play import AgeGroup
from tests.plays.core.samples import box


def test_a_finding_of_a_counter_names_it() -> None:
    report = check(box(), age=AgeGroup.U10)
    finding = report.findings[0]
    told = replace(report, findings=(replace(finding, counter="front"), finding))
    named, plain = Checked("box.json", told).lines()
    assert ", counter front: " in named
    assert "counter" not in plain
    assert named.replace(", counter front", "") == plain
