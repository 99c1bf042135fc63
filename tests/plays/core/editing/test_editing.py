"""Plays drawn gesture by gesture, without a database."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plays.core.court.courts import court
from plays.core.document.file import read_play, write_play
from plays.core.document.form import problems
from plays.core.editing.apply import applied
from plays.core.editing.branch import keeps_ball
from plays.core.editing.commands import (
    Act,
    AddCounter,
    AddPhase,
    Bend,
    Command,
    JoinScreens,
    MovePoint,
    OrderLooks,
    Place,
    RemoveAction,
    RemoveCounter,
    RemovePhase,
    RenamePhase,
    Restore,
    SetAfter,
    SetCue,
    SetHow,
    SetOther,
    SetWhose,
)
from plays.core.editing.looks import makes_room
from plays.core.editing.refused import (
    COUNTER_PLACE,
    EARLIER,
    GONE,
    NO_BALL,
    OFF_COURT,
    RefusedError,
)
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import (
    ROLES,
    ActionKind,
    AgeGroup,
    Cue,
    Cut,
    Defence,
    Formation,
    JointShape,
    Moment,
    PassKind,
    Play,
    Point,
    RuleSet,
    ScreenStyle,
)
from plays.core.sequence.course import scenes, with_counter
from plays.core.sequence.cues import CueGraph, Link, Why
from plays.core.shorthand.places import place_of
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import PLACES, skeleton
from shared.core.language import ENGLISH
from tests.strategies import points, sound_plays

FLOOR = court(RuleSet.FIBA)


def begun(formation: Formation = Formation.BOX) -> Play:
    text = skeleton(formation, "sideline", "right").replace("play: ", "play: Nine", 1)
    return read(text, ENGLISH).play


def at(name: str) -> Point:
    return place_of(FLOOR, name)


def drawn(play: Play, *commands: Command, counter: str | None = None) -> Play:
    for command in commands:
        play = applied(play, command, counter)
    return play


def box() -> Play:
    """Two screens, two looks: 5 for 4 across the lane, 2 for 3 on the other side."""
    return drawn(
        begun(),
        Act("entry", "5", ActionKind.SCREEN, at("right block"), "4"),
        Act("entry", "4", ActionKind.CUT, at("left block")),
        Act("entry", "2", ActionKind.SCREEN, at("nail"), "3"),
        Act("entry", "3", ActionKind.CUT, at("top"), cut=Cut.CURL),
    )


def test_whose_defenders_do_it_is_a_tap_and_a_counter_that_is_gone_is_said() -> None:
    play = applied(box(), AddCounter(Defence.FRONT, box().phases[0].id, "Lob it."))
    named = applied(play, SetWhose(play.counters[0].id, ("5",)))
    assert named.counters[0].whose == ("5",)
    with pytest.raises(RefusedError):
        applied(box(), SetWhose("gone", ("5",)))


def test_a_box_play_is_drawn_in_four_gestures_and_sound() -> None:
    play = box()
    assert problems(play) == ()
    cut = {each.id: each for each in play.actions()}["4-cut"]
    assert cut.cues == (Cue(Moment.SET, "5-screen"),)
    assert [(look.passer, look.receiver) for look in play.looks] == [("1", "4"), ("1", "3")]
    assert play.actions()[0].screen is ScreenStyle.CROSS


@pytest.mark.parametrize("formation", sorted(PLACES))
def test_a_formation_placed_by_hand_is_the_formation_of_the_trade(formation: Formation) -> None:
    """The places are those of the shorthand's skeleton, which says they are common practice."""
    target = begun(formation)
    away = replace(
        target,
        starts=tuple(replace(s, at=Point(-5.0, 9.0 + int(s.role))) for s in target.starts),
    )
    by_hand = drawn(away, *(Place(s.role, s.at) for s in target.starts))
    assert write_play(by_hand) == write_play(target)


def test_a_cut_drawn_first_waits_for_the_screen_that_comes_later() -> None:
    play = drawn(
        begun(),
        Act("entry", "4", ActionKind.CUT, at("left block")),
        Act("entry", "5", ActionKind.SCREEN, at("right block"), "4"),
    )
    assert play.actions()[0].cues == (Cue(Moment.SET, "5-screen"),)
    assert {each.code for each in problems(play)} == {"idle_role"}


def test_a_screener_leaves_at_the_shoulder_of_the_cutter_until_told_otherwise() -> None:
    """Common practice: whoever screens stays until the cutter has run past the shoulder."""
    play = applied(box(), Act("entry", "5", ActionKind.CUT, at("basket")))
    leaves = CueGraph(play).waits["5-cut"]
    assert leaves.cues == ()
    assert Link(Why.SHOULDER, Moment.PASSES, "4-cut") in leaves.implied
    spans = timeline(play, pace_of(play.level)).spans
    assert spans["5-cut"].start > spans["4-cut"].start
    told = applied(play, SetCue("5-cut", Cue(Moment.SIGNAL)))
    assert not any(link.why is Why.SHOULDER for link in CueGraph(told).waits["5-cut"].links)


def test_a_person_who_is_new_in_a_later_phase_waits_for_the_one_before() -> None:
    play = drawn(begun(), Act("entry", "4", ActionKind.CUT, at("left block")), AddPhase("Next"))
    play = applied(play, Act("next", "2", ActionKind.CUT, at("top")))
    assert play.actions()[-1].cues == (Cue(Moment.END, "4-cut"),)


def test_a_pass_in_a_later_phase_waits_for_the_run_of_whoever_catches_it() -> None:
    """Not for whoever happened to be drawn last; who has just caught it waits for the catch."""
    play = drawn(
        begun(),
        Act("entry", "5", ActionKind.CUT, at("right block")),
        Act("entry", "3", ActionKind.CUT, at("top")),
        AddPhase("Then"),
    )
    then = play.phases[1].id
    thrown = applied(play, Act(then, "1", ActionKind.PASS, None, "5"))
    assert thrown.phases[1].actions[-1].cues == (Cue(Moment.END, "5-cut"),)
    on = applied(thrown, Act(then, "5", ActionKind.PASS, None, "3"))
    assert on.phases[1].actions[-1].cues == (Cue(Moment.END, thrown.phases[1].actions[-1].id),)


def test_a_thrower_who_steps_in_later_waits_until_the_ball_is_in() -> None:
    """Whoever throws in stays outside until the ball has left the hands (FIBA 2024, 17.3.1)."""
    play = drawn(begun(), Act("entry", "4", ActionKind.CUT, at("left block")), AddPhase("Next"))
    play = applied(play, Act("next", "1", ActionKind.CUT, at("right corner")))
    assert play.actions()[-1].cues == (Cue(Moment.BALL_IN),)


def test_who_goes_elsewhere_in_a_counter_does_not_do_later_what_was_planned() -> None:
    play = drawn(
        box(),
        AddPhase("Next"),
        Act("next", "5", ActionKind.CUT, at("top")),
        Act("next", "2", ActionKind.CUT, at("right corner")),
        AddCounter(Defence.SWITCH, "entry", "They switch"),
    )
    play = applied(play, Act("entry", "5", ActionKind.CUT, at("basket"), cut=Cut.SLIP), "switch")
    (counter,) = play.counters
    planned = {each.role: each.id for each in play.phases[1].actions}
    assert counter.remove == (planned["5"],)
    run = with_counter(play, counter)
    ends = {each.role: each.path[-1] for each in run.actions() if each.path}
    assert (ends["5"], ends["2"]) == (at("basket"), at("right corner"))
    assert planned["5"] not in {look.action for look in counter.looks}
    assert problems(play) == ()


def test_the_thrower_takes_the_spot_along() -> None:
    play = applied(begun(), Place("1", Point(-7.9, 6.0)))
    assert play.spot is not None
    assert (play.spot.edge, play.spot.side, play.spot.along) == ("sideline", "left", 6.0)
    baseline = applied(play, Place("1", Point(3.0, -0.4))).spot
    assert baseline is not None
    assert (baseline.edge, baseline.side, baseline.along) == ("baseline", "right", 3.0)


@pytest.mark.parametrize(
    ("command", "why"),
    [
        (Place("2", Point(9.0, 3.0)), OFF_COURT),
        (Act("entry", "2", ActionKind.CUT, Point(0.0, -1.0)), OFF_COURT),
        (Act("entry", "2", ActionKind.PASS, other="3"), NO_BALL),
    ],
)
def test_what_cannot_be_is_refused_with_the_reason(command: Command, why: str) -> None:
    with pytest.raises(RefusedError) as refused:
        applied(begun(), command)
    assert refused.value.template == why


def test_what_points_at_a_removed_screen_goes_with_it() -> None:
    play = applied(box(), RemoveAction("5-screen"))
    assert {each.id: each for each in play.actions()}["4-cut"].cues == ()
    gone = applied(play, RemoveAction("4-cut"))
    assert [look.receiver for look in gone.looks] == ["3"]


def test_who_is_thrown_the_ball_goes_on_when_they_have_it() -> None:
    play = drawn(
        begun(),
        Act("entry", "1", ActionKind.PASS, other="2"),
        Act("entry", "2", ActionKind.DRIBBLE, at("top")),
        Act("entry", "2", ActionKind.HANDOFF, other="3"),
        Act("entry", "3", ActionKind.SHOT),
    )
    thrown, dribbled, handed, shot = play.actions()
    assert thrown.cues == ()
    assert dribbled.cues == (Cue(Moment.END, thrown.id),)
    assert handed.cues == ()  # after their own dribble
    assert shot.cues == (Cue(Moment.END, handed.id),)


def test_looks_follow_the_order_of_the_taps() -> None:
    play = applied(box(), OrderLooks(("3-cut", "4-cut")))
    assert [look.receiver for look in play.looks] == ["3", "4"]
    assert [look.receiver for look in applied(play, OrderLooks(("4-cut",))).looks] == ["4"]


def test_a_second_cue_stands_beside_the_first_and_goes_with_a_second_tap() -> None:
    left = [Cue(Moment.HAS_LEFT, each) for each in ("5-screen", "4-cut")]
    play = applied(box(), SetCue("2-screen", left[0]))
    both = applied(play, SetCue("2-screen", left[1], also=True))
    cues = {each.id: each.cues for each in both.actions()}
    assert cues["2-screen"] == (left[0], left[1])
    assert problems(both) == ()
    assert applied(both, SetCue("2-screen", left[1], also=True)) == play
    assert applied(both, SetCue("2-screen", left[1])) == applied(play, SetCue("2-screen", left[1]))


def test_a_bend_keeps_who_waits_for_a_point_at_the_same_place() -> None:
    play = applied(box(), SetCue("2-screen", Cue(Moment.PASSES, "4-cut", 0)))
    bent = applied(play, Bend("4-cut", 0, at("nail")))
    moved = {each.id: each for each in bent.actions()}
    assert moved["4-cut"].path == (at("nail"), at("left block"))
    assert moved["2-screen"].cues[0].point == 1


def test_a_bend_before_a_later_point_moves_the_wait_by_one() -> None:
    play = applied(box(), Bend("4-cut", 0, at("nail")))
    play = applied(play, SetCue("2-screen", Cue(Moment.PASSES, "4-cut", 1)))
    bent = applied(play, Bend("4-cut", 0, at("left corner")))
    (cue,) = {each.id: each for each in bent.actions()}["2-screen"].cues
    assert cue.point == 2


@pytest.mark.parametrize("point", [-1, 1, 7])
@pytest.mark.parametrize("gesture", [MovePoint, Bend])
def test_a_point_that_the_path_does_not_have_is_refused(
    gesture: type[MovePoint | Bend], point: int
) -> None:
    (cut,) = (each for each in box().actions() if each.id == "4-cut")
    assert len(cut.path) == 1
    with pytest.raises(RefusedError) as refused:
        applied(box(), gesture("4-cut", point, at("nail")))
    assert refused.value.template == GONE


def test_how_a_cut_or_pass_is_done_is_a_tap_and_what_it_has_not_stays() -> None:
    play = drawn(box(), Act("entry", "1", ActionKind.PASS, other="4"))
    thrown = applied(play, SetHow("1-pass", cut=Cut.CURL, pass_kind=PassKind.LOB))
    change = {each.id: each for each in thrown.actions()}
    assert (change["1-pass"].pass_kind, change["1-pass"].cut) == (PassKind.LOB, None)
    popped = applied(play, SetHow("4-cut", cut=Cut.POP, pass_kind=PassKind.LOB, easy=False))
    cut = {each.id: each for each in popped.actions()}["4-cut"]
    assert (cut.cut, cut.pass_kind, cut.easy, cut.decoy) == (Cut.POP, None, False, False)
    assert popped.looks == play.looks


@pytest.mark.parametrize("shape", list(JointShape))
def test_two_screens_for_one_cutter_are_joined_by_a_tap_and_parted_again(
    shape: JointShape,
) -> None:
    play = drawn(box(), SetOther("2-screen", "4"))
    together = applied(play, JoinScreens("2-screen", shape))
    joints = {each.id: each.joint for each in together.actions() if each.joint}
    assert set(joints) == {"5-screen", "2-screen"}
    assert {each.shape for each in joints.values() if each} == {shape}
    assert [each.code for each in problems(together) if each.code.startswith("joint")] == []
    assert applied(together, JoinScreens("5-screen", None)) == play
    with pytest.raises(RefusedError):
        applied(box(), JoinScreens("5-screen", shape))


def test_a_cut_that_becomes_a_decoy_takes_its_look_along() -> None:
    bait = applied(box(), SetHow("4-cut", decoy=True))
    assert [look.receiver for look in bait.looks] == ["3"]
    assert problems(bait) == ()


def test_a_renamed_phase_keeps_what_points_at_it() -> None:
    play = applied(box(), AddCounter(Defence.SWITCH, "entry", "Dive"))
    named = applied(play, RenamePhase("entry", "Across the lane"))
    assert [phase.title for phase in named.phases] == ["Across the lane"]
    assert named.counters == play.counters
    with pytest.raises(RefusedError):
        applied(play, RenamePhase("gone", "Anything"))


def test_a_counter_holds_the_difference_only() -> None:
    play = applied(box(), AddCounter(Defence.SWITCH, "entry", "They switch"))
    play = applied(play, Act("entry", "5", ActionKind.CUT, at("basket"), cut=Cut.SLIP), "switch")
    play = applied(play, MovePoint("4-cut", 0, at("left corner")), "switch")
    (counter,) = play.counters
    assert [each.id for each in counter.add] == ["5-cut"]
    assert [each.path for each in counter.replace] == [(at("left corner"),)]
    assert counter.remove == ()
    assert [look.receiver for look in counter.looks] == ["5", "4", "3"]  # the answer first
    assert problems(play) == ()
    assert play.phases == box().phases


def test_who_throws_to_somebody_else_in_a_counter_throws_the_planned_ball() -> None:
    """One ball: what was to be done with it after the planned pass is done no more."""
    play = drawn(
        box(),
        Act("entry", "1", ActionKind.PASS, None, "4"),
        AddPhase("Next"),
        Act("next", "4", ActionKind.DRIBBLE, at("nail")),
        Act("next", "2", ActionKind.CUT, at("right corner")),
        AddCounter(Defence.SWITCH, "entry", "They switch"),
    )
    slip = Act("entry", "5", ActionKind.CUT, at("basket"), cut=Cut.SLIP)
    play = drawn(play, slip, counter="switch")
    thrown = Act("entry", "1", ActionKind.PASS, None, "5")
    assert keeps_ball(with_counter(play, play.counters[0]), thrown)
    play = drawn(play, thrown, counter="switch")
    (counter,) = play.counters
    run = with_counter(play, counter)
    passes = [(each.role, each.to) for each in run.actions() if each.kind is ActionKind.PASS]
    assert passes == [("1", "5")]
    order = [each.id for each in run.actions()]
    assert order.index("5-cut") < order.index(counter.add[-1].id)  # caught where the slip ends
    assert not [each for each in run.actions() if each.kind is ActionKind.DRIBBLE]
    assert run.looks[0].receiver == "5"
    ends = {each.role: each.path[-1] for each in run.actions() if each.path}
    assert ends["2"] == at("right corner")
    assert problems(play) == ()
    assert [each.to for each in play.actions() if each.kind is ActionKind.PASS] == ["4"]
    kept = applied(play, Act("entry", "1", ActionKind.SHOT), "switch")
    assert [a.kind for a in kept.counters[0].add][1:] == [ActionKind.SHOT]  # beside the slip
    with pytest.raises(RefusedError) as refused:
        applied(play, thrown)
    assert refused.value.template == NO_BALL


def test_who_runs_much_farther_than_a_pass_goes_makes_room() -> None:
    """Under 14 plans passes up to 10.5 m (our table); across the court to the corner is 16."""
    far = Act("entry", "5", ActionKind.CUT, at("left corner"))
    young = replace(begun(), level=AgeGroup.U14)
    assert applied(young, far).looks == ()
    assert [look.receiver for look in applied(replace(young, level=AgeGroup.ADULT), far).looks] == [
        "5"
    ]
    tapped = applied(applied(young, far), OrderLooks(("5-cut",)))
    assert [look.receiver for look in tapped.looks] == ["5"]


def test_who_cuts_after_the_planned_shot_is_looked_at_once_the_ball_is_thrown_there() -> None:
    """While the planned shot is in the air nobody can throw; instead it is never taken."""
    play = drawn(
        box(),
        Act("entry", "1", ActionKind.PASS, None, "4"),
        Act("entry", "4", ActionKind.SHOT),
        AddCounter(Defence.CHASE, "entry", "They chase"),
    )
    play = drawn(play, Act("entry", "5", ActionKind.CUT, at("right wing")), counter="chase")
    assert not makes_room(with_counter(play, play.counters[0]), play.counters[0].add[0])
    play = drawn(play, Act("entry", "1", ActionKind.PASS, None, "5"), counter="chase")
    run = with_counter(play, play.counters[0])
    assert (run.looks[0].passer, run.looks[0].receiver) == ("1", "5")
    assert problems(play) == ()


def test_looks_tapped_in_a_counter_stay_in_the_tapped_order() -> None:
    play = applied(box(), AddCounter(Defence.SWITCH, "entry", "They switch"))
    play = applied(play, Act("entry", "5", ActionKind.CUT, at("basket"), cut=Cut.SLIP), "switch")
    for order in (("4-cut", "3-cut"), ("4-cut", "3-cut", "5-cut")):
        play = applied(play, OrderLooks(order), "switch")
    assert [look.receiver for look in play.counters[0].looks] == ["4", "3", "5"]


def test_a_counter_changes_nothing_that_is_over() -> None:
    play = drawn(box(), AddPhase("Next"), AddCounter(Defence.SAG, "next", "They sag"))
    with pytest.raises(RefusedError) as refused:
        applied(play, MovePoint("4-cut", 0, at("nail")), "sag")
    assert refused.value.template == EARLIER
    with pytest.raises(RefusedError) as refused:
        applied(play, Place("4", at("nail")), "sag")
    assert refused.value.template == COUNTER_PLACE


def test_a_circle_of_cues_is_kept_and_told() -> None:
    play = applied(box(), SetCue("5-screen", Cue(Moment.END, "4-cut")))
    assert CueGraph(play).cycles()
    assert problems(play)
    assert applied(play, Restore(box())) == box()


@st.composite
def commands(draw: Any, play: Play) -> Command:
    """A command such as a browser might send, some of them about what is not there."""
    action = draw(st.sampled_from([each.id for each in play.actions()] or ["none"]))
    phase = draw(st.sampled_from([each.id for each in play.phases]))
    place = draw(points(court(play.court)))
    role, other = draw(st.sampled_from(ROLES)), draw(st.sampled_from(ROLES))
    cue = st.one_of(
        st.none(),
        st.builds(Cue, st.sampled_from([Moment.START, Moment.SET, Moment.END]), st.just(action)),
    )
    made: Command = draw(
        st.one_of(
            st.just(Place(role, place)),
            st.builds(
                Act,
                st.just(phase),
                st.just(role),
                st.sampled_from(ActionKind),
                st.just(place),
                st.sampled_from([None, other]),
            ),
            st.builds(MovePoint, st.just(action), st.integers(0, 2), st.just(place)),
            st.builds(Bend, st.just(action), st.integers(0, 2), st.just(place)),
            st.builds(SetCue, st.just(action), cue, st.booleans()),
            st.just(SetOther(action, other)),
            st.permutations([each.id for each in play.actions()]).map(
                lambda all_: OrderLooks(tuple(all_[:3]))
            ),
            st.just(AddPhase("And then")),
            st.just(AddCounter(draw(st.sampled_from(Defence)), phase, "They do")),
            st.just(RemoveAction(action)),
            st.just(RemovePhase(phase)),
            st.just(RemoveCounter(draw(st.sampled_from([c.id for c in play.counters] or ["no"])))),
        )
    )
    return made


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_any_gestures_give_a_play_that_is_read_back_and_whose_faults_are_told(
    data: st.DataObject,
) -> None:
    play = data.draw(sound_plays())
    for _ in range(data.draw(st.integers(1, 8))):
        counters: list[str | None] = [None, *(each.id for each in play.counters)]
        counter = data.draw(st.sampled_from(counters))
        command = data.draw(commands(play))
        try:
            after = applied(play, command, counter)
        except RefusedError:
            continue
        assert read_play(write_play(after)) == after
        assert all(found.sentence for found in problems(after))
        assert applied(after, Restore(play)) == play
        play = after
        for each in play.counters:
            with_counter(play, each)


def test_no_phase_is_begun_after_one_in_which_nothing_happens() -> None:
    first = applied(begun(), AddPhase("Then"))
    assert len(first.phases) == 2
    assert applied(first, AddPhase("Then")) == first


def test_what_comes_once_the_ball_is_in_is_drawn_anew_for_another_look() -> None:
    """Two looks bring the ball in: a phase for each, begun from where all of them have ended."""
    first, second = box().looks
    play = applied(box(), AddPhase("Inside"))
    play = applied(play, SetAfter(play.phases[-1].id, (first.id,)))
    play = drawn(play, Act(play.phases[-1].id, "2", ActionKind.CUT, at("left corner")))
    play = applied(play, AddPhase("Outside"))
    assert play.phases[-1].after == (first.id,)  # goes on with what was drawn last
    play = applied(play, SetAfter(play.phases[-1].id, (second.id,)))
    play = drawn(play, Act(play.phases[-1].id, "5", ActionKind.CUT, at("basket")))
    assert problems(play) == ()
    inside, outside = scenes(play)[-2:]
    assert inside.places == outside.places
    assert (inside.holder, outside.holder) == ("4", "3")

    with pytest.raises(RefusedError):
        applied(play, SetAfter(play.phases[-1].id, ("gone",)))
    with pytest.raises(RefusedError):
        applied(play, SetAfter("gone", (first.id,)))
    with pytest.raises(RefusedError):  # the looks come in this phase itself
        applied(play, SetAfter(play.phases[0].id, (first.id,)))


def test_a_phase_forgets_a_look_that_is_taken_out() -> None:
    first, second = box().looks
    play = applied(box(), AddPhase("Outside"))
    play = applied(play, SetAfter(play.phases[-1].id, (first.id, second.id)))
    play = drawn(
        play, Act(play.phases[-1].id, "5", ActionKind.CUT, at("basket"), cut=Cut.CLEAR_OUT)
    )
    assert applied(play, OrderLooks((first.action,))).phases[-1].after == (first.id,)
    gone = applied(play, RemoveAction(first.action))
    assert gone.phases[-1].after == (second.id,)
    assert [each.code for each in problems(gone)] == ["idle_role"]  # who did nothing else
