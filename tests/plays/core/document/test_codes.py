"""Every kind of fault of a play's file has a fault somewhere in the tests that brings it out.

The faults here bring out theirs and no other; most of the rest stand in `test_form.py` and
`broken_documents.py`.
"""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest

from plays.core.court.courts import court
from plays.core.document.file import read_play
from plays.core.document.form import problems
from plays.core.document.review import review
from plays.core.limits import MAX_ACTIONS
from plays.core.play import Counter, Defence, Play, Point, Role, RuleSet
from shared.core.finding import Finding
from tests.plays.core.samples import box

ROOT = Path(__file__).parents[4]
LANTERN = json.loads((ROOT / "tests/data/plays/lantern.json").read_text("utf-8"))


def found(change: Callable[[Any], object]) -> list[tuple[str, str]]:
    """(place, code) of every fault of the sample play after a change."""
    document = deepcopy(LANTERN)
    change(document)
    return told(review(document).problems)


def told(faults: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(each.place, each.code) for each in faults]


def gate(role: str, part: str = "open") -> dict[str, Any]:
    joint = {"name": "door", "shape": "gate", "part": part}
    return {"id": f"post-{role}", "role": role, "kind": "screen", "cutter": "4", "joint": joint}


def begun_too_late(document: Any) -> None:
    """The counter begins with the second phase, and takes away what the first has done."""
    rotating(False)(document)
    document["counters"][0] = {
        "id": "sag",
        "defence": "sag",
        "from_phase": "p0",
        "says": "The 3 stays.",
        "remove": ["clear-3"],
    }


def with_another_role(document: Any) -> None:
    """What the 3 did is replaced by something that the 5 does."""
    instead = {"id": "clear-3", "role": "5", "kind": "cut", "path": [[5.5, 6.5]]}
    document["counters"][0]["replace"] = [instead]


def rotating(*which: bool) -> Callable[[Any], None]:
    """After the first phase others, which are gone through again and again or not."""

    def change(document: Any) -> None:
        for number, rotation in enumerate(which):
            run = {
                "id": f"fill-{number}",
                "role": "3",
                "kind": "cut",
                "path": [[3.0, 7.0 - number]],
            }
            phase = {"id": f"p{number}", "title": "On", "actions": [run], "rotation": rotation}
            document["phases"].append(phase)

    return change


def with_actions(count: int) -> Callable[[Any], None]:
    """So many actions in the play and its counters together."""

    def change(document: Any) -> None:
        here = len(document["phases"][0]["actions"]) + len(document["counters"][0]["add"])
        holds = [{"id": f"h{n}", "role": "2", "kind": "hold"} for n in range(count - here)]
        for begin in range(0, len(holds), 50):  # a list may be only so long
            phase = {"id": f"p{begin}", "title": "Wait", "actions": holds[begin : begin + 50]}
            document["phases"].append(phase)

    return change


def thrown_in_from(along: float) -> Callable[[Any], None]:
    """The spot so far up the sideline, and the thrower at it."""

    def change(document: Any) -> None:
        document["spot"]["along"] = along
        document["starts"][0]["at"] = [-7.92, along]

    return change


def deep(levels: int) -> Any:
    return [deep(levels - 1)] if levels else []


@pytest.mark.parametrize(
    ("change", "place", "code"),
    [
        (begun_too_late, "/counters/0/remove/0", "counter_too_early"),
        (with_another_role, "/counters/0/replace/0/role", "counter_role"),
        (
            lambda d: d["phases"][0]["actions"].extend(gate(role) for role in "235"),
            "/phases/0/actions/7/joint",
            "joint_full",
        ),
        (lambda d: d["looks"][1].update(at=[0.0, 40.0]), "/looks/1/at", "look_off"),
        (rotating(True, False), "/phases/2/rotation", "rotation_first"),
        (thrown_in_from(26.0), "/spot/along", "spot_off"),
        (with_actions(MAX_ACTIONS + 1), "/phases", "too_many"),
    ],
)
def test_a_fault_brings_out_its_own_code_alone(
    change: Callable[[Any], object], place: str, code: str
) -> None:
    assert found(change) == [(place, code)]


@pytest.mark.parametrize(
    "change",
    [
        rotating(False, True),
        rotating(True, True),
        with_actions(MAX_ACTIONS),
        # NFHS Rule 1-1: the largest court is 84 feet long, 25.6 m (from memory).
        thrown_in_from(25.6),
        lambda d: d["phases"][0]["actions"].extend(
            [gate("2"), gate("3"), gate("2", "close") | {"id": "shut"}]
        ),
    ],
)
def test_just_within_the_limit_is_no_fault(change: Callable[[Any], object]) -> None:
    assert found(change) == []


def test_a_play_made_in_code_may_name_no_sixth_role() -> None:
    """A file's sixth role is no choice; a play that was never a file is judged as well."""
    play = read_play(LANTERN)
    odd = replace(play, needs=(replace(play.needs[0], role=cast("Role", "6")),))
    assert told(problems(odd)) == [("/needs/0/role", "unknown_role")]


def test_what_is_nested_without_end_is_told_where_it_gets_too_deep() -> None:
    (fault,) = review({**LANTERN, "teach": [deep(40)]}).problems[:1]
    assert fault.code == "too_deep"
    assert fault.place == "/teach" + "/0" * 9


def test_every_code_is_named_in_a_test() -> None:
    tests = "".join(path.read_text("utf-8") for path in (ROOT / "tests").rglob("*.py"))
    named = set(re.findall(r"\"([a-z_]+)\"", tests))
    codes = {code for path in DOCUMENT for code in codes_in(path)}
    assert len(codes) > 60
    assert codes - named == set()


DOCUMENT = [*(ROOT / "plays/core/document").glob("*.py"), ROOT / "plays/files/file.py"]
SAYING = {"Fault": 1, "_note": 1, "problem": 1, "_unreadable": 1}  # the place of the code


def codes_in(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call):
            where = SAYING.get(ast.unparse(node.func).removeprefix("self."))
            if where is not None and len(node.args) > where:
                code = node.args[where]
                if isinstance(code, ast.Constant):
                    yield str(code.value)


TIDEGATE = json.loads((ROOT / "coachbook/demo/plays/tidegate.json").read_text("utf-8"))


def last_phase(**changes: Any) -> Callable[[Any], object]:
    return lambda document: document["phases"][-1].update(changes)


def thrown_in_writing(document: Any) -> None:
    """The throw-in is written down, so that no look brings the ball in."""
    entry = {"id": "entry", "role": "1", "kind": "pass", "to": "2"}
    document["phases"][1]["actions"].append(entry)


def in_a_phase_of_all(document: Any) -> None:
    del document["phases"][2:]
    document["phases"][1]["after"] = ["corner"]


@pytest.mark.parametrize(
    ("change", "place", "code"),
    [
        (last_phase(after=["nobody"]), "/phases/3/after/0", "after_no_look"),
        (last_phase(after=["corner", "corner"]), "/phases/3/after/1", "after_twice"),
        (last_phase(after=["wing"]), "/phases/3/after/0", "after_no_entry"),
        (thrown_in_writing, "/phases/3/after/0", "after_no_entry"),
        (in_a_phase_of_all, "/phases/1/rotation", "after_rotation"),
        (
            lambda d: d["looks"][1].update(receiver="5", action="5-cut"),
            "/phases/3/after/0",
            "after_late",
        ),
        (last_phase(after=["gate", "corner"]), "/phases/2", "after_never"),
    ],
)
def test_a_rotation_for_a_look_that_cannot_be_is_named(
    change: Callable[[Any], object], place: str, code: str
) -> None:
    document = deepcopy(TIDEGATE)
    assert not review(document).problems
    change(document)
    assert (place, code) in told(review(document).problems)


def test_what_waits_for_something_that_only_another_look_brings_is_told_once() -> None:
    document = deepcopy(TIDEGATE)
    cue = {"on": "end", "action": "5-cut"}
    document["phases"][3]["actions"][1]["cues"] = [cue]
    assert told(review(document).problems) == [
        ("/phases/3/actions/1/cues/0/action", "cue_never"),
    ]


@pytest.mark.parametrize(("metres", "fits"), [(2.0, True), (2.05, False)])
def test_a_thrower_may_use_the_clear_floor_around_the_court(metres: float, *, fits: bool) -> None:
    """FIBA 2022 Art. 2.2: 2 m of it all around."""
    play = drawn_off_by(metres)
    assert ("start_off" in {found.code for found in problems(play)}) is not fits


def drawn_off_by(metres: float) -> Play:
    floor = court(RuleSet.FIBA)
    start = Point(floor.half_width + metres, 8.325)
    play = box()
    starts = tuple(replace(each, at=start) if each.role == "1" else each for each in play.starts)
    return replace(play, starts=starts)


def test_a_new_action_of_a_counter_may_take_the_id_of_one_that_it_leaves_out() -> None:
    new = replace(next(a for a in box().actions() if a.id == "r4"), cues=())
    counter = Counter("c", Defence.SWITCH, "p2", "Slip.", add=(new,))
    taken = replace(box(), counters=(counter,))
    assert "id_twice" in {found.code for found in problems(taken)}
    free = replace(box(), counters=(replace(counter, remove=("r4",)),))
    assert "id_twice" not in {found.code for found in problems(free)}
