"""Problems of form: each found at its place, all at once, in sentences for a coach."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from plays.core.court.courts import court
from plays.core.document.file import read_play
from plays.core.document.floor import SPOT_REACH
from plays.core.document.form import problems
from plays.core.document.review import review
from plays.core.play import Role

LANTERN = json.loads(
    (Path(__file__).parents[3] / "data" / "plays" / "lantern.json").read_text(encoding="utf-8")
)
TAKEN = "“cut-4” waits for “screen-5”, which this counter takes away."
Change = Callable[[Any], Any]


def told(*changes: Change) -> dict[str, str]:
    """Pointer to sentence, for the sample play after these changes."""
    document = deepcopy(LANTERN)
    for change in changes:
        change(document)
    return {problem.place: problem.sentence for problem in problems(read_play(document))}


def action(number: int, **words: Any) -> Change:
    return lambda document: document["phases"][0]["actions"][number].update(words)


def added(*actions: dict[str, Any]) -> Change:
    return lambda document: document["phases"][0]["actions"].extend(actions)


def whole(**words: Any) -> Change:
    return lambda document: document.update(words)


def post(role: Role, **words: Any) -> dict[str, Any]:
    joint = {"name": "door", "shape": "gate", **words}
    return {"id": f"post-{role}", "role": role, "kind": "screen", "cutter": "4", "joint": joint}


def test_the_sample_is_sound() -> None:
    assert told() == {}


def test_all_problems_come_at_once_in_the_order_of_the_document() -> None:
    document = deepcopy(LANTERN)
    document["looks"][0]["action"] = "nothing"
    document["starts"][1]["at"] = [9, 9]
    document["name"] = " "
    document["counters"][0]["from_phase"] = "later"
    found = problems(read_play(document))
    assert [(problem.place, problem.code) for problem in found] == [
        ("/name", "empty_text"),
        ("/starts/1/at", "start_off"),
        ("/looks/0/action", "look_nobody"),
        ("/counters/0/from_phase", "counter_no_phase"),
    ]


@pytest.mark.parametrize(
    ("changes", "pointer", "sentence"),
    [
        # people and places
        ([lambda d: d["starts"].pop(2)], "/starts", "The 3 has no start."),
        (
            [lambda d: d["starts"].append({"role": "2", "at": [0, 9]})],
            "/starts/5/role",
            "The 2 starts in two places. Keep one.",
        ),
        (
            [lambda d: d["starts"][2].update(at=[-1.7, 5.9])],
            "/starts/2/at",
            "The 2 and the 3 start in the same place.",
        ),
        (
            [lambda d: d["starts"][0].update(at=[-7.5, 8.534])],
            "/starts/0/at",
            "The 1 throws in but starts inside the lines.",
        ),
        (
            [lambda d: d["starts"][0].update(at=[-7.92, 4])],
            "/starts/0/at",
            "The 1 throws in but starts 4.5 m away from the throw-in spot.",
        ),
        ([whole(thrower=None)], "/spot", "There is a throw-in spot but nobody throws in."),
        (
            [whole(spot=None, situation="half_court")],
            "/thrower",
            "The 1 throws in, but the play has no throw-in spot.",
        ),
        (
            [whole(situation="baseline")],
            "/situation",
            "A baseline inbound needs a throw-in spot on the baseline.",
        ),
        (
            [action(1, path=[[0, 2.2], [8, 2.8]])],
            "/phases/0/actions/1/path/1",
            "In “cut-4” the 4 runs off the court.",
        ),
        (
            [whole(defenders=[{"guards": "2", "at": [9, 9]}])],
            "/defenders/0/at",
            "The defender of the 2 stands off the court.",
        ),
        # actions
        (
            [action(4, cut=None)],
            "/phases/0/actions/4/path",
            "In “seal-5” the 5 cuts to nowhere: the path is empty.",
        ),
        (
            [added({"id": "t", "role": "1", "kind": "pass"})],
            "/phases/0/actions/5/to",
            "In “t” the 1 gives the ball to nobody.",
        ),
        (
            [action(0, cutter="5")],
            "/phases/0/actions/0/cutter",
            "In “screen-5” the 5 screens for the 5.",
        ),
        (
            [action(2, pass_kind="lob")],
            "/phases/0/actions/2/pass_kind",
            "In “clear-3” the word “pass_kind” has no meaning: it is not for a cut.",
        ),
        (
            [action(2, id="pop-2")],
            "/phases/0/actions/3/id",
            "The id “pop-2” is used twice. Each needs its own.",
        ),
        (
            [lambda d: d["phases"][0]["actions"].pop(2)],
            "/starts/2",
            "The 3 does nothing in the whole play.",
        ),
        # joint screens
        (
            [added(post("2"))],
            "/phases/0/actions/5/joint",
            "“post-2” is half of “door”, but no other role screens with the 2.",
        ),
        (
            [added(post("2"), post("3", shape="double"))],
            "/phases/0/actions/6/joint/shape",
            "“door” is said to be a gate and a double. It can be one only.",
        ),
        (
            [added(post("2", shape="double"), post("3", shape="double", part="close"))],
            "/phases/0/actions/6/joint/part",
            "“post-3” closes “door”, but only a gate is closed.",
        ),
        (
            [added(post("2"), post("3") | {"cutter": "5"})],
            "/phases/0/actions/6/cutter",
            "“door” is for the 4 in one screen and for the 5 in the next.",
        ),
        # cues
        (
            [action(1, cues=[{"on": "set", "action": "screen"}])],
            "/phases/0/actions/1/cues/0/action",
            "“cut-4” waits for “screen”, and there is no such action in this play.",
        ),
        (
            [action(1, cues=[{"on": "end"}])],
            "/phases/0/actions/1/cues/0/action",
            "“cut-4” waits for another action, but does not say for which.",
        ),
        (
            [action(1, cues=[{"on": "set", "action": "clear-3"}])],
            "/phases/0/actions/1/cues/0/on",
            "“cut-4” waits until “clear-3” is set, but that is not a screen.",
        ),
        (
            [action(3, cues=[{"on": "passes", "action": "cut-4", "point": 2}])],
            "/phases/0/actions/3/cues/0/point",
            "“pop-2” waits for point 3 on the way of “cut-4”, which has only 2.",
        ),
        (
            [action(3, cues=[{"on": "passes", "action": "seal-5", "point": 0}])],
            "/phases/0/actions/3/cues/0/action",
            "“pop-2” waits for a point on the way of “seal-5”, which has no path.",
        ),
        (
            [action(3, cues=[{"on": "has_left", "action": "seal-5"}])],
            "/phases/0/actions/3/cues/0/on",
            "“pop-2” waits until the 5 has left, but “seal-5” is done on the spot.",
        ),
        (
            [action(0, cues=[{"on": "start", "action": "cut-4"}])],
            "/phases/0/actions/0/cues",
            "These wait for one another, so none of them can begin: “screen-5”, “cut-4”.",
        ),
        (
            [action(2, cues=[{"on": "end", "action": "clear-3"}])],
            "/phases/0/actions/2/cues",
            "“clear-3” waits for itself.",
        ),
        (
            [
                added({"id": "stay", "role": "3", "kind": "hold"}),
                action(3, cues=[{"on": "end", "action": "stay"}]),
            ],
            "/phases/0/actions/3/cues/0/on",
            "“pop-2” waits for the end of “stay”, but the 3 holds that to the end.",
        ),
        (
            [whole(looks=[], counters=[]), action(2, cues=[{"on": "ball_in"}])],
            "/phases/0/actions/2/cues/0",
            "“clear-3” waits for the ball to come in, but nobody throws it in.",
        ),
        # the ball
        (
            [added({"id": "on", "role": "2", "kind": "pass", "to": "3"})],
            "/phases/0/actions/5/role",
            "In “on” the 2 gives the ball away, but the 1 has it by then.",
        ),
        (
            [added({"id": "drive", "role": "2", "kind": "dribble", "path": [[0, 4]]})],
            "/phases/0/actions/5/role",
            "In “drive” the 2 has the ball, but so has the 1.",
        ),
        (
            [
                added(
                    {"id": "in", "role": "1", "kind": "pass", "to": "4"},
                    {"id": "shot", "role": "4", "kind": "shot"},
                    {"id": "late", "role": "4", "kind": "pass", "to": "2"},
                )
            ],
            "/phases/0/actions/7/role",
            "In “late” the 4 gives the ball away, but it has been shot by then.",
        ),
        (
            [whole(ball="2")],
            "/ball",
            "The 1 throws in, so the ball cannot be with the 2.",
        ),
        # looks
        (
            [lambda d: d["looks"][1].update(action="clear-3")],
            "/looks/1/action",
            "Look “two” is for the 2, but “clear-3” is done by the 3.",
        ),
        (
            [lambda d: d["looks"][1].update(passer="3")],
            "/looks/1/passer",
            "In look “two” the 3 passes, but never has the ball.",
        ),
        # counters
        (
            [lambda d: d["counters"][0].update(remove=["nothing"])],
            "/counters/0/remove/0",
            "Counter “switch” changes “nothing”, and the play has no such action.",
        ),
        (
            [lambda d: d["counters"][0].update(remove=["screen-5"])],
            "/counters/0",
            "When counter “switch” is run: " + TAKEN,
        ),
        (
            [lambda d: d["counters"][0]["add"][0].update(cues=[{"on": "end", "action": "x"}])],
            "/counters/0/add/0/cues/0/action",
            "“slip-5” waits for “x”, and there is no such action in this play.",
        ),
        # words and numbers
        (
            [whole(call="Lantern {6}")],
            "/call",
            "The call names “6” in braces, but the roles are 1 to 5.",
        ),
        (
            [whole(call="Lantern {5")],
            "/call",
            "The call has a brace without its partner. Write a role as {4}.",
        ),
        (
            [lambda d: d["needs"][0].update(level=6)],
            "/needs/0/level",
            "Need 1, “level” is 6; it must lie between 1 and 5.",
        ),
        (
            [action(1, teach=["Go.", " "])],
            "/phases/0/actions/1/teach/1",
            "Phase 1, action 2, teaching cue 2 is empty. Write something, or leave it out.",
        ),
        (
            [whole(conditions={"margin_from": 3, "margin_to": -3})],
            "/conditions/margin_from",
            "The conditions, “margin_from”: “from” is more than “to”.",
        ),
    ],
)
def test_each_problem_is_told_at_its_place(
    changes: list[Change], pointer: str, sentence: str
) -> None:
    assert told(*changes).get(pointer) == sentence


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        (whole(defenders=[{"guards": "2", "at": [9, 9]}]), "/defenders/0/at", "defender_off"),
        (whole(spot=None, situation="half_court"), "/thrower", "no_spot"),
        (whole(thrower=None), "/spot", "no_thrower"),
        (whole(situation="baseline"), "/situation", "situation_spot"),
        (lambda d: d["starts"][0].update(at=[-7.92, 4]), "/starts/0/at", "thrower_far"),
        (lambda d: d["spot"].update(far=True), "/spot/far", "far_sideline"),
        (action(0, cutter="5"), "/phases/0/actions/0/cutter", "own_screen"),
        (added(post("2")), "/phases/0/actions/5/joint", "joint_alone"),
        (
            added(post("2"), post("3", shape="double")),
            "/phases/0/actions/6/joint/shape",
            "joint_mixed",
        ),
        (
            added(post("2", shape="double"), post("3", shape="double", part="close")),
            "/phases/0/actions/6/joint/part",
            "joint_close",
        ),
        (
            added(post("2"), post("3") | {"cutter": "5"}),
            "/phases/0/actions/6/cutter",
            "joint_cutters",
        ),
        (action(1, cues=[{"on": "end"}]), "/phases/0/actions/1/cues/0/action", "cue_no_action"),
        (lambda d: d["phases"][0]["actions"].pop(2), "/starts/2", "idle_role"),
        (whole(call="Lantern {6}"), "/call", "call_unknown_role"),
        (whole(call="Lantern {5"), "/call", "call_braces"),
    ],
)
def test_each_fault_has_a_code_of_its_own(change: Change, pointer: str, code: str) -> None:
    document = deepcopy(LANTERN)
    change(document)
    found = {problem.place: problem.code for problem in problems(read_play(document))}
    assert found.get(pointer) == code


def test_on_the_line_is_out_of_bounds_for_the_thrower() -> None:
    """FIBA 2022 Art. 23.1, NFHS 7-1: a player on the boundary line is out (from memory)."""
    assert told(lambda d: d["starts"][0].update(at=[-7.62, 8.534])) == {}


def test_a_team_mate_may_stand_behind_the_baseline_of_a_press_break() -> None:
    """After a goal the ball may be passed along behind the line: FIBA 2022 Art. 17.2.10."""
    baseline = whole(
        situation="press_break",
        spot={"edge": "baseline", "side": "right", "along": 2, "far": True},
    )
    thrower = lambda d: d["starts"][0].update(at=[2, 25.9])  # noqa: E731 (one line, used once)
    behind = lambda d: d["starts"][2].update(at=[-2, 26])  # noqa: E731 (one line, used once)
    assert told(baseline, thrower, behind) == {}
    assert "/starts/2/at" in told(behind)


def test_the_thrower_behind_the_own_baseline() -> None:
    spot = whole(
        situation="press_break",
        spot={"edge": "baseline", "side": "right", "along": 2, "far": True},
    )
    inside = lambda d: d["starts"][0].update(at=[2, 25])  # noqa: E731 (one line, used once)
    assert told(spot, inside)["/starts/0/at"] == "The 1 throws in but starts inside the lines."
    other_end = lambda d: d["starts"][0].update(at=[2, -0.3])  # noqa: E731 (one line, used once)
    assert told(spot, other_end)["/starts/0/at"] == (
        "The 1 throws in but starts 26.2 m away from the throw-in spot."
    )
    assert told(spot, other_end, whole(situation="baseline"))["/situation"] == (
        "A baseline inbound is thrown in beside the basket that is attacked;"
        " from behind your own baseline it is a press break."
    )


def test_a_sideline_has_no_far_one() -> None:
    far = lambda d: d["spot"].update(far=True)  # noqa: E731 (one line, used once)
    assert told(far)["/spot/far"] == (
        "Only a baseline has a far one: a sideline reaches the whole court."
    )


def test_a_look_may_follow_another_look() -> None:
    chain = {"id": "three", "passer": "4", "receiver": "2", "action": "pop-2"}
    assert told(lambda d: d["looks"].append(chain)) == {}


def test_a_counter_is_not_blamed_for_what_is_wrong_without_it() -> None:
    found = told(action(3, cues=[{"on": "end", "action": "nothing"}]))
    assert list(found) == ["/phases/0/actions/3/cues/0/action"]


def test_review_lists_faults_of_writing_and_of_sense_together() -> None:
    document = deepcopy(LANTERN)
    document["formation"] = "boxx"
    document["looks"][0]["conditon"] = document["looks"][0].pop("condition")
    document["looks"][1]["action"] = "nothing"
    document["needs"][0]["level"] = 9
    found = review(json.dumps(document))
    assert found.play is None
    assert {(problem.place, problem.code) for problem in found.problems} == {
        ("/formation", "choice"),
        ("/looks/0/conditon", "unknown_key"),
        ("/looks/1/action", "look_nobody"),
        ("/needs/0/level", "out_of_range"),
    }


def test_review_blames_nobody_for_what_it_mended_itself() -> None:
    """An action of an unknown kind may have moved the ball: so nothing is said of the ball."""
    document = deepcopy(LANTERN)
    document["phases"][0]["actions"] += [
        {"id": "in", "role": "1", "kind": "chuck", "to": "3"},
        {"id": "on", "role": "3", "kind": "pass", "to": "2"},
    ]
    found = review(document).problems
    assert [problem.place for problem in found] == ["/phases/0/actions/5/kind"]


def test_review_of_what_is_no_play_says_just_that() -> None:
    assert [problem.code for problem in review(b"no play").problems] == ["no_json"]
    assert [problem.code for problem in review(b"[]").problems] == ["no_play"]


def test_a_thrower_may_be_drawn_as_far_from_the_spot_as_the_sentence_says() -> None:
    """1.5 m is ours; numbers that a computer writes exactly, so that the bound itself is met."""
    sample = read_play(deepcopy(LANTERN))
    assert sample.spot is not None
    spot = court(sample.court).spot_place(replace(sample.spot, along=8.0))

    def standing(y: float) -> dict[str, str]:
        return told(
            lambda d: d["spot"].update(along=8.0), lambda d: d["starts"][0].update(at=[spot.x, y])
        )

    assert "/starts/0/at" not in standing(8.0 + SPOT_REACH)
    assert "/starts/0/at" in standing(8.0 + SPOT_REACH + 0.125)
