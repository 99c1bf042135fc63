"""A press break from behind one's own baseline, from the file to the sheet and the picture."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.check import check
from plays.core.court.courts import court
from plays.core.defence.verdict import Tactic
from plays.core.document.file import content_hash, read_play, to_json, write_play
from plays.core.document.form import problems
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import AgeGroup, RuleSet, Spot
from plays.core.words.part import part_of
from plays.core.words.speaker import near_side
from shared.core.drawing.picture import Circle
from shared.core.finding import Severity
from tests.languages import language
from tests.plays.core.drawing.drawn_plays import QUAYSIDE
from tests.shared.core.drawing.shapes import parts


def test_the_file_names_the_far_baseline_and_nothing_else_is_new() -> None:
    assert problems(QUAYSIDE) == ()
    assert read_play(write_play(QUAYSIDE)) == QUAYSIDE
    spot = to_json(QUAYSIDE)["spot"]
    assert spot == {"edge": "baseline", "side": "right", "along": 3.364, "far": True}
    near = replace(QUAYSIDE, spot=Spot("baseline", "right", 3.364))
    assert "far" not in to_json(near)["spot"]
    assert content_hash(near) != content_hash(QUAYSIDE)


@pytest.mark.parametrize(
    ("code", "sentence"),
    [
        ("en", "You throw the ball in from behind our own baseline, right of the lane."),
        ("es", "Sacas desde detrás de nuestra línea de fondo, a la derecha de la zona."),
    ],
)
def test_the_thrower_is_told_which_baseline(code: str, sentence: str) -> None:
    assert part_of(QUAYSIDE, "1", language=language(code)).start[0] == sentence


def test_near_is_the_side_of_the_throw_in_here_too() -> None:
    assert near_side(QUAYSIDE.spot) == "right"
    assert near_side(Spot("baseline", "right", 0.2, far=True)) is None
    assert part_of(QUAYSIDE, "2").start == ("Start a step inside our own far elbow.",)


def test_the_picture_shows_the_whole_court_with_the_thrower_behind_the_line() -> None:
    for crop in ("half", "full"):
        picture = diagram(QUAYSIDE, "free", Drawing(crop=crop))
        assert picture.height > 1.4 * picture.width
        circles = {
            dict(group.marks)["role"]: next(s for s in group.shapes if isinstance(s, Circle))
            for group in parts(picture, "person")
        }
        lowest = max(circle.center[1] for circle in circles.values())
        thrower = circles["1"]
        assert thrower.center[1] == lowest  # the basket attacked is at the top
        assert thrower.center[1] + thrower.radius < picture.height
        metre = picture.width / (2 * (court(RuleSet.FIBA).half_width + 1.15))
        assert thrower.center[1] > (28.0 + 1.15) * metre  # behind the line


@pytest.mark.parametrize("rule_set", [RuleSet.FIBA, RuleSet.NFHS, RuleSet.NBA])
def test_no_rule_is_against_it(rule_set: RuleSet) -> None:
    report = check(QUAYSIDE, age=AgeGroup.U16, rule_set=rule_set, defence=Tactic.CHASE)
    codes = {f.code for f in report.findings if f.severity is not Severity.NOTE}
    assert not codes & {"thrower_moves", "two_out", "behind_board", "backcourt", "closed_up"}
    assert "count_over" not in codes
