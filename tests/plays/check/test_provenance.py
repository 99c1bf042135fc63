"""Every constant of the check is listed with where it comes from: a source, or ours."""

from __future__ import annotations

import ast
from dataclasses import fields
from pathlib import Path

import pytest

import plays.core
from plays.check.inputs import fixed
from plays.core.defence.guarding import ABOUT, Guarding
from plays.core.defence.uncertain import Constants
from plays.core.motion.meaning import MEANING, Footing, Meaning, meaning
from plays.core.motion.pace import Pace
from plays.core.play import AgeGroup

OF_PACE = tuple(field.name for field in fields(Pace))
OF_GUARDING = tuple(field.name for field in fields(Guarding))
ABOUT_ALL = [
    *ABOUT.values(),
    *(meaning(age, name) for age in AgeGroup for name in OF_PACE),
]


def test_each_constant_of_the_frozen_value_has_its_line_and_nothing_else_has() -> None:
    assert {field.name for field in fields(Constants)} == {"pace", "guarding"}
    assert set(MEANING) == set(OF_PACE)
    assert set(ABOUT) == set(OF_GUARDING)


@pytest.mark.parametrize("about", ABOUT_ALL, ids=lambda about: about.says)
def test_what_is_not_ours_names_its_source(about: Meaning) -> None:
    assert about.says
    assert about.basis is Footing.OURS or about.source


def test_the_arms_length_behind_a_post_player_is_ours() -> None:
    assert ABOUT["at_back"].basis is Footing.OURS


# How finely something is computed, or what no verdict turns on: nothing of basketball.
COMPUTES = {
    "check.bands.BETWEEN": "the share of the draws that an interval holds",
    "check.bands.DRAWS": "how many draws",
    "check.live.STEP": "step in time",
    "check.samples.DIGITS": "rounding",
    "check.space.STEP": "step in time",
    "defence.around.LOOKED": "step in time",
    "defence.margin.FEWER": "points of a lane",
    "defence.margin.POINTS": "points of a lane",
    "defence.margin.SAFE": "stands for never",
    "defence.reach.NEVER": "stands for never",
    "defence.reach.REFINED": "Newton steps",
    "defence.switches.LOOKED": "step in time",
    "defence.uncertain.USUAL": "shown as the range of each constant that is drawn",
    "defence.verdict.ALL": "lines at once",
    "motion.busy.SLACK": "seconds below which two moments count as one",
    "motion.clock.AFTER": "how long the animation stands at its end",
    "motion.flight.AIR_DENSITY": "within the drag k, which has a line",
    "motion.flight.DRAG_COEFFICIENT": "within the drag k, which has a line",
    "motion.flight.STEP": "step in time",
    "motion.pace.EFFORT": "the row's own line",
    "motion.path.CHORDS": "pieces of a curve",
    "motion.sprint.BEHIND_GATE": "of a sprint test, not of a check",
    "motion.sprint.FREE_SPLITS": "of a sprint test, not of a check",
    "motion.sprint.TINY": "series near zero",
    "motion.team_pace.SPREAD": "limit of what a team may enter",
}
LISTED_ELSEWHERE = {"motion.windows.COUNT": "the first line, with the rule book"}


def is_numeric(node: ast.expr | None) -> bool:
    """Whether this is a number, or numbers put together, written out."""
    return node is not None and all(
        isinstance(part, (ast.operator, ast.unaryop, ast.BinOp, ast.UnaryOp, ast.Tuple, ast.Load))
        or (isinstance(part, ast.Constant) and isinstance(part.value, (int, float)))
        for part in ast.walk(node)
    )


def numbers_of_the_check() -> set[str]:
    """Each number with a name of its own in the motion, the defence and the check."""
    top = Path(plays.core.__path__[0])
    return {
        f"{path.parent.name}.{path.stem}.{target.id}"
        for package in ("motion", "defence", "check")
        for path in (top / package).glob("*.py")
        for node in ast.parse(path.read_text()).body
        if isinstance(node, (ast.Assign, ast.AnnAssign)) and is_numeric(node.value)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name) and not target.id.startswith("_")
    }


def test_each_number_in_the_code_of_the_check_has_a_line_or_decides_nothing() -> None:
    listed = {f"{one.module.__name__.removeprefix('plays.core.')}.{one.name}" for one in fixed()}
    found = numbers_of_the_check()
    assert len(found) > 60
    assert found - listed == COMPUTES.keys() | LISTED_ELSEWHERE.keys()
    assert listed <= found


def test_a_number_that_is_not_ours_names_its_source_here_too() -> None:
    for one in fixed():
        assert one.value
        assert one.basis is Footing.OURS or one.sources


MEASURED = {
    # Aggregates of publicly posted player tracking of adult professionals, 2015-16: how fast runs
    # from standing are (n = 3,909 over 4 m), where defenders stand (20,210 frames), how fast passes
    # fly (4,840), how fast who catches on the run is (1,382), how late a marker follows (815).
    *("effort", "to_ball", "to_basket", "on_ball", "direct_speed", "arrive_speed", "follow"),
}


def test_what_was_measured_on_adults_is_called_so_and_nothing_else_is() -> None:
    adult = {name: meaning(AgeGroup.ADULT, name) for name in OF_PACE} | dict(ABOUT)
    assert {name for name, one in adult.items() if one.basis is Footing.MEASURED} == MEASURED
    for name in MEASURED:
        assert "2015-16" in adult[name].source, name


@pytest.mark.parametrize("name", ["direct_speed", "arrive_speed", "follow"])
def test_what_was_not_measured_on_the_young_is_ours_there(name: str) -> None:
    for age in set(AgeGroup) - {AgeGroup.ADULT}:
        assert meaning(age, name).basis is Footing.OURS
