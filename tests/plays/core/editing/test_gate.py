"""A gate made by one gesture over two people."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import pytest

from plays.core.document.form import problems
from plays.core.editing.apply import applied
from plays.core.editing.commands import (
    Act,
    AddCounter,
    AddPhase,
    JoinScreens,
    MovePoint,
    OpenGate,
    RemoveAction,
    SetOther,
)
from plays.core.editing.refused import GATE_BALL, NOBODY, RefusedError
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import (
    Action,
    ActionKind,
    Cue,
    Defence,
    JointShape,
    Moment,
    Phase,
    Play,
    Point,
)
from tests.plays.core.editing.test_editing import at, begun

OWN = 1e-9


def gate() -> Play:
    """In a box 4 and 5 stand on the blocks, 2 and 3 at the elbows: the two above open."""
    return applied(begun(), OpenGate("entry", ("2", "3"), title="Through"))


def known(play: Play) -> dict[str, Action]:
    return {each.id: each for each in play.actions()}


def test_one_gesture_opens_a_gate_sends_somebody_through_and_closes_it() -> None:
    play = gate()
    actions = known(play)
    assert list(actions) == ["2-screen", "3-screen", "4-cut", "2-screen-2", "3-screen-2"]
    parts = [each.joint.part for each in play.actions() if each.joint]
    assert parts == ["open", "open", "close", "close"]
    assert {each.cutter for each in play.actions() if each.joint} == {"4"}
    assert actions["4-cut"].cues == (Cue(Moment.SET, "2-screen"), Cue(Moment.SET, "3-screen"))
    closing = Cue(Moment.PASSES, "4-cut", 0)
    assert {actions[id_].cues for id_ in ("2-screen-2", "3-screen-2")} == {(closing,)}
    assert [look.receiver for look in play.looks] == ["4"]
    first, second = ([each.id for each in phase.actions] for phase in play.phases)
    assert (first, second[0]) == (["2-screen", "3-screen"], "4-cut")
    assert {each.code for each in problems(play)} == {"idle_role"}  # 5 has nothing to do yet


def test_one_person_fits_between_and_the_two_meet_where_the_chaser_comes() -> None:
    """In time too: nobody is in the gate's middle before it stands, and it closes behind them."""
    play = gate()
    actions = known(play)
    posts = [actions[id_].path[-1] for id_ in ("2-screen", "3-screen")]
    shut = [actions[id_].path[-1] for id_ in ("2-screen-2", "3-screen-2")]
    assert dist(*posts) == pytest.approx(1.7, abs=OWN)
    assert dist(*shut) == pytest.approx(0.72, abs=OWN)
    middle, end = actions["4-cut"].path
    assert dist(middle, end) == pytest.approx(2.5, abs=OWN)
    spans = timeline(play, pace_of(play.level)).spans
    assert all(spans["4-cut"].start > (spans[id_].set or 9) for id_ in ("2-screen", "3-screen"))
    assert spans["2-screen-2"].start > spans["4-cut"].start


def test_a_run_that_is_drawn_already_goes_through_the_middle() -> None:
    play = applied(begun(), Act("entry", "5", ActionKind.CUT, at("top")))
    play = applied(play, OpenGate("entry", ("2", "3"), "5"))
    assert known(play)["5-cut"].path == (Point(0.0, 5.8), at("top"))
    assert [each.id for each in play.actions() if each.role == "5"] == ["5-cut"]
    assert known(play)["2-screen-2"].cues == (Cue(Moment.PASSES, "5-cut", 0),)


def test_phases_after_the_closing_stay() -> None:
    longer = applied(begun(), AddPhase("Second"))
    longer = replace(longer, phases=(*longer.phases, Phase("third", "Third", ())))
    made = applied(longer, OpenGate("entry", ("2", "3")))
    assert [phase.title for phase in made.phases[1:]] == ["Second", "Third"]
    assert [len(phase.actions) for phase in made.phases[1:]] == [3, 0]


def test_who_comes_from_the_side_turns_into_the_gate() -> None:
    play = applied(begun(), OpenGate("entry", ("2", "4"), "3"))  # one above the other on the right
    path = known(play)["3-cut"].path
    assert path == (Point(2.45, 4.3), Point(4.95, 4.3))
    along = applied(begun(), OpenGate("entry", ("3", "5"), "2"))
    beside = applied(begun(), OpenGate("entry", ("4", "5"), "1"))
    assert all(len(known(each)[id_].path) == 2 for each, id_ in ((along, "2-cut"),))
    assert len(known(beside)["1-cut"].path) == 3


@pytest.mark.parametrize(
    ("posts", "cutter", "why"),
    [(("1", "2"), None, GATE_BALL), (("2", "2"), None, NOBODY), (("2", "3"), "3", NOBODY)],
)
def test_who_cannot_be_a_gate_is_told(posts: tuple[str, str], cutter: str | None, why: str) -> None:
    with pytest.raises(RefusedError) as refused:
        applied(begun(), OpenGate("entry", posts, cutter))  # type: ignore[arg-type]
    assert refused.value.template == why


def test_another_person_goes_through_with_a_tap() -> None:
    play = applied(gate(), SetOther("3-screen", "5"))
    assert {each.cutter for each in play.actions() if each.joint} == {"5"}
    assert "4-cut" not in known(play)
    assert known(play)["5-cut"].cues == (Cue(Moment.SET, "2-screen"), Cue(Moment.SET, "3-screen"))
    assert [look.receiver for look in play.looks] == ["5"]
    assert {each.code for each in problems(play)} == {"idle_role"}


def test_a_run_that_somebody_has_changed_stays_when_another_goes_through() -> None:
    play = applied(gate(), MovePoint("4-cut", 1, at("left corner")))
    play = applied(play, SetOther("2-screen", "5"))
    kept = known(play)["4-cut"]
    assert (kept.path[-1], kept.cues) == (at("left corner"), ())
    assert known(play)["3-screen-2"].cues[0].action == "5-cut"
    assert problems(play) == ()


def test_a_gate_without_one_of_its_posts_is_a_plain_screen() -> None:
    play = applied(gate(), RemoveAction("2-screen"))
    assert known(play).keys() == {"3-screen", "4-cut"}
    assert known(play)["3-screen"].joint is None
    assert not [each for each in problems(play) if each.code.startswith("joint")]


def test_a_gate_that_becomes_two_screens_closes_nothing() -> None:
    play = applied(gate(), JoinScreens("2-screen", None))
    assert known(play).keys() == {"2-screen", "3-screen", "4-cut"}
    assert not any(each.joint for each in play.actions())
    side_by_side = applied(gate(), JoinScreens("3-screen", JointShape.DOUBLE))
    assert known(side_by_side).keys() == {"2-screen", "3-screen", "4-cut"}


def test_who_ran_through_does_not_wait_for_the_closing_with_the_next_cut() -> None:
    play = applied(gate(), Act("entry", "4", ActionKind.CUT, at("left corner")))
    assert known(play)["4-cut-2"].cues == ()


def test_a_gate_in_a_counter_is_its_difference() -> None:
    start = applied(begun(), AddCounter(Defence.SWITCH, "entry", "They switch"))
    play = applied(start, OpenGate("entry", ("2", "3")), "switch")
    assert play.phases == start.phases
    assert len(play.counters[0].add) == 5
    assert replace(play, counters=()) == replace(start, counters=())
