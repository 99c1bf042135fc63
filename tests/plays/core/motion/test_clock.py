"""The timeline: reactions, runs, braking, turns, cues, passes, release windows."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.motion.clock import CLEAR, timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.path import path_through
from plays.core.motion.run import Legs, run
from plays.core.motion.sprint import moving_time, time
from plays.core.motion.windows import SoFar
from plays.core.play import (
    Action,
    ActionKind,
    AgeGroup,
    Cue,
    Cut,
    Defence,
    DefenceRead,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    Situation,
)
from plays.core.sequence.course import legs
from tests.plays.core.samples import (
    after,
    box,
    cut,
    mirrored,
    on_set,
    still,
    throw,
    thrown_in,
    with_cues,
)

U14 = pace_of(AgeGroup.U14)
LEGS = Legs(7.0, 1.0, 4.0, 0.35)


def test_a_straight_run_without_stopping_takes_the_sprint_time() -> None:
    path = path_through((Point(0, 0), Point(0, 8)))
    assert run(path, LEGS, finish=None).seconds == pytest.approx(float(time(8.0, 7.0, 1.0)))
    moving = run(path, LEGS, speed=3.0, finish=None).seconds
    assert moving == pytest.approx(float(moving_time(8.0, 3.0, 7.0, 1.0)))


def test_arriving_to_stand_takes_longer_and_ends_at_rest() -> None:
    path = path_through((Point(0, 0), Point(0, 8)))
    stopping = run(path, LEGS)
    assert (
        stopping.seconds
        > run(path, LEGS, finish=2.5).seconds
        > run(path, LEGS, finish=None).seconds
    )
    assert stopping.exit_speed == pytest.approx(0.0, abs=1e-6)
    push, brake = stopping.pieces
    assert brake.lasts == pytest.approx(brake.speed / 4.0)
    assert push.lasts + brake.lasts == pytest.approx(stopping.seconds)


@pytest.mark.parametrize("left", [0.03, 0.01, 0.002])
def test_even_braking_takes_the_time_of_the_textbook_in_a_short_step(
    left: float,
) -> None:
    """Who brakes at b to stand has sqrt(2 s / b) seconds left with s metres to go."""
    step = run(path_through((Point(0, 0), Point(0, 0.1))), LEGS)
    assert step.peak < 1.0
    assert step.seconds - step.when(0.1 - left) == pytest.approx(math.sqrt(2 * left / 4.0))


@given(
    st.lists(st.tuples(st.floats(-7, 7), st.floats(0, 14)), min_size=2, max_size=5),
    st.floats(0.0, 5.0),
    st.sampled_from([0.0, 2.5, None]),
)
def test_any_run_is_continuous_and_ends_at_its_end(
    points: list[tuple[float, float]], speed: float, finish: float | None
) -> None:
    path = path_through(tuple(Point(*point) for point in points))
    made = run(path, LEGS, speed=speed, finish=finish)
    times = np.linspace(0.0, made.seconds + 0.5, 400)
    along = made.along(times)
    assert along[-1] == pytest.approx(path.length, abs=1e-6)
    steps = np.diff(along)
    assert steps.min() >= -1e-6
    assert steps.max() <= 7.0 * (times[1] - times[0]) + 1e-6
    for share in (0.25, 0.5, 1.0):
        when = made.when(share * path.length)
        assert made.along(np.array([when]))[0] == pytest.approx(share * path.length, abs=1e-5)


def test_speed_is_the_slope_of_the_way() -> None:
    path = path_through((Point(0, 0), Point(3, 4), Point(-1, 7), Point(4, 8)))
    made = run(path, LEGS)
    times = np.linspace(0.0, made.seconds, 4001)
    slope = np.gradient(made.along(times), times)
    corners = [piece.begin for piece in made.pieces] + [
        piece.begin + piece.lasts for piece in made.pieces
    ]
    clear = np.min(np.abs(times[:, None] - np.array(corners)), axis=1) > 0.01
    planted = [p for p in made.pieces if p.way == "plant"]
    for p in planted:
        clear &= (times < p.begin) | (times > p.begin + p.lasts)
    assert made.speeds(times)[clear] == pytest.approx(slope[clear], abs=0.02)


def test_turns_cost_time_by_their_angle() -> None:
    straight = run(path_through((Point(0, 0), Point(0, 5), Point(0, 10))), LEGS).seconds
    right = run(path_through((Point(0, 0), Point(0, 5), Point(5, 5))), LEGS).seconds
    back = run(path_through((Point(0, 0), Point(0, 5), Point(0.01, 0))), LEGS).seconds
    assert straight < right < back


def test_the_turn_of_a_505_test_costs_what_the_literature_says() -> None:
    """COD deficit = 505 time - 10 m time (Nimphius et al. 2016): 0.45 to 0.65 s from memory.

    10 m from a standing start at a gate 0.5 m ahead, 15 m and back with the clock on over the
    last five and first five metres.
    """
    fast = Legs(7.5, 1.0, 4.0, 0.35)
    out_and_back = path_through((Point(0, 0), Point(0, 15), Point(0.001, 10)))
    turning = run(out_and_back, fast, finish=None)
    five_o_five = turning.seconds - turning.when(10.0)
    straight = run(path_through((Point(0, 0), Point(0, 10.5))), fast, finish=None)
    deficit = five_o_five - (straight.seconds - straight.when(0.5))
    assert 0.4 < deficit < 0.7


def test_first_moves_wait_for_signal_and_reaction() -> None:
    line = timeline(box(), U14)
    assert line.signal == U14.signal
    assert line.spans["s4"].start == pytest.approx(U14.signal + U14.reaction)


def test_cutter_goes_after_the_set_and_a_look_at_it() -> None:
    line = timeline(box(), U14)
    screen = line.spans["s4"]
    assert screen.set == pytest.approx(screen.arrive + U14.settle)
    assert line.spans["c2"].start == pytest.approx((screen.set or 0) + U14.read)


def test_a_wait_is_added_to_the_second() -> None:
    plain, late = timeline(box(), U14), timeline(with_cues(box(), "c2", on_set("s4", 0.7)), U14)
    assert late.spans["c2"].start - plain.spans["c2"].start == pytest.approx(0.7)


def test_the_screener_leaves_a_moment_after_the_cutter_ran_past_the_shoulder() -> None:
    line = timeline(box(), U14)
    move = line.move("c2")
    assert move is not None
    past = line.spans["r4"].start - U14.hold
    before = abs(line.tracks["2"].at(past) - complex(3.0, 3.6))
    for moment in (past - 0.15, past + 0.15):
        assert abs(line.tracks["2"].at(moment) - complex(3.0, 3.6)) > before - 1e-6


def test_who_waits_until_another_has_left_goes_once_the_place_is_free() -> None:
    play = with_cues(box(), "r5", Cue(Moment.HAS_LEFT, "c2"))
    line = timeline(play, U14)
    free = line.spans["r5"].start - U14.read
    assert abs(line.tracks["2"].at(free) - line.tracks["2"].start) == pytest.approx(CLEAR, abs=0.01)
    leaving = timeline(with_cues(box(), "r5", Cue(Moment.START, "c2")), U14)
    assert free > leaving.spans["r5"].start - U14.read


def test_a_step_shorter_than_a_free_place_counts_when_it_is_done() -> None:
    short = replace(box().phases[0].actions[0], id="s", path=(Point(0.5, 5.0),))
    move = replace(short, role="2", kind=ActionKind.CUT, screen=None, cutter=None, cues=())
    play = box()
    start = play.start_of("2")
    step = replace(move, path=(Point(start.x + 0.3, start.y),))
    later = cut("late", "3", (4.0, 9.0), cues=(Cue(Moment.HAS_LEFT, "s"),))
    made = replace(play, phases=(replace(play.phases[0], actions=(step, later)),), looks=())
    line = timeline(made, U14)
    assert line.spans["late"].start == pytest.approx(line.spans["s"].arrive + U14.read)


def test_passing_a_waypoint_is_the_moment_it_is_reached() -> None:
    play = with_cues(box(), "r5", Cue(Moment.PASSES, "c2", 0))
    line = timeline(play, U14)
    there = line.tracks["2"].at(line.spans["r5"].start - U14.read)
    assert there == pytest.approx(complex(3.8, 4.2), abs=1e-3)


def test_positions_begin_and_end_where_the_course_says() -> None:
    play = box()
    line = timeline(play, U14)
    places = line.places(np.array([0.0, line.end]))
    for k, start in enumerate(play.starts):
        assert places[0, k] == pytest.approx(complex(*start.at))
    assert places[1, 1] == pytest.approx(complex(*legs(play)["c2"].end), abs=1e-6)


def test_two_cuts_in_a_row_are_run_through() -> None:
    def two(cues: tuple[Cue, ...]) -> Play:
        play = still()
        more = cut("d2", "2", (0.0, 11.0), cues=cues)
        phase = replace(play.phases[0], actions=(*play.phases[0].actions, more))
        return replace(play, phases=(phase,))

    flowing = timeline(two(()), U14)
    stopping = timeline(two((Cue(Moment.END, "c2"),)), U14)
    assert flowing.spans["d2"].end < stopping.spans["d2"].end
    one = timeline(still(8.0), U14).spans["c2"].end
    assert flowing.spans["d2"].end == pytest.approx(one, abs=1e-6)  # straight on: no turn


def test_the_ball_meets_the_receiver_at_the_catch() -> None:
    line = timeline(box(), pace_of(AgeGroup.ADULT))
    for window in line.windows:
        catch = window.catch(window.earliest)
        assert catch >= window.arrival - 1e-9
        assert catch == pytest.approx(max(window.arrival, window.earliest + window.throw.seconds))
        assert window.earliest >= window.ready


def test_looks_in_turn_leave_a_glance_between() -> None:
    line = timeline(box(), U14)
    turns = [window.in_turn for window in line.windows]
    assert all(b - a >= U14.glance - 1e-9 for a, b in pairwise(turns))


@pytest.mark.parametrize("play", [box(), still()], ids=["box", "still"])
def test_a_slower_age_group_never_makes_a_release_earlier(play: Play) -> None:
    lines = [timeline(play, pace_of(age)) for age in AgeGroup]
    for younger, older in pairwise(lines):
        for slow, fast in zip(younger.windows, older.windows, strict=True):
            assert slow.earliest >= fast.earliest - 1e-9
            assert slow.in_turn >= fast.in_turn - 1e-9
        for id_ in younger.spans:
            assert younger.spans[id_].end >= older.spans[id_].end - 1e-9


@given(st.floats(0.5, 1.0), st.floats(0.5, 1.0), st.floats(1.0, 3.0))
def test_a_person_slower_in_anything_never_makes_a_release_earlier(
    top: float, grip: float, lag: float
) -> None:
    pace = U14
    slow = replace(
        pace,
        top_speed=pace.top_speed * top,
        braking=pace.braking * grip,
        reaction=pace.reaction * lag,
        read=pace.read * lag,
        turn_180=pace.turn_180 * lag,
    )
    plain, slowed = timeline(box(), pace).windows, timeline(box(), slow).windows
    for fast, late in zip(plain, slowed, strict=True):
        assert late.earliest >= fast.earliest - 1e-6


def test_mirror_changes_no_time() -> None:
    here, there = timeline(box(), U14), timeline(mirrored(box()), U14)
    for id_, span in here.spans.items():
        assert there.spans[id_].start == pytest.approx(span.start, abs=1e-9)
        assert there.spans[id_].end == pytest.approx(span.end, abs=1e-9)
    for one, other in zip(here.windows, there.windows, strict=True):
        assert other.earliest == pytest.approx(one.earliest, abs=1e-9)


def test_a_pass_after_a_pass_leaves_from_the_catch_of_the_one_before() -> None:
    """1 to 2, or 1 to 5 who passes on to 3: 5 has the ball when 5 has caught it, and where."""
    five = cut("c5", "5", (2.0, 9.0))
    three = cut("c3", "3", (-5.0, 3.0), (-2.0, 1.5))
    play = still()
    play = replace(
        play,
        phases=(replace(play.phases[0], actions=(*play.phases[0].actions, five, three)),),
        looks=(
            Look("to2", "1", "2", "c2"),
            Look("to5", "1", "5", "c5", at=Point(3.0, 9.0)),
            Look("on", "5", "3", "c3"),
        ),
    )
    first, second, onward = timeline(play, U14).windows
    assert onward.ready == pytest.approx(second.catch(second.in_turn) + U14.handle)
    assert onward.ready > first.catch(first.in_turn) + U14.handle
    assert onward.origin == pytest.approx(complex(3.0, 9.0))
    assert not onward.counted


def test_a_role_moves_as_fast_as_the_person_cast_in_it() -> None:
    quick = replace(U14, top_speed=9.0)
    plain, cast = timeline(box(), U14), timeline(box(), U14, {"2": quick})
    assert cast.spans["c2"].end < plain.spans["c2"].end
    assert cast.spans["c3"] == plain.spans["c3"]


def test_who_has_the_ball() -> None:
    line = timeline(still(), U14)
    (flight,) = line.flights
    assert line.holder(0.0) == "1"
    assert line.holder((flight.release + flight.catch) / 2) is None
    assert line.holder(flight.catch + 0.01) == "2"
    assert line.ball_in == flight.catch


def test_turning_angle_is_counted_at_corners_only() -> None:
    path = path_through((Point(0, 0), Point(0, 4), Point(4, 4)))
    ((along, angle),) = path.corners
    assert angle == pytest.approx(math.pi / 2, abs=0.1)  # all but the ends of a wide curve
    assert abs(path.at(np.array([along]))[0] - 4j) < 0.3


def test_a_passer_who_gets_the_ball_back_throws_after_that() -> None:
    """1 passes to 2 as written, and a look brings the ball back: only then 1 can find the 3."""
    play = replace(
        thrown_in(
            "back",
            ((0.0, 9.0), (6.0, 6.0), (-6.0, 5.6), (-2.8, 2.2), (0.0, 6.0)),
            Phase(
                "p",
                "Swing",
                (
                    throw("pass", "1", "2", PassKind.DIRECT),
                    cut("back", "1", (-1.6, 9.0), cues=(after(Moment.END, "pass"),), cut=Cut.FADE),
                    cut("drop", "3", (-6.2, 4.4), cues=(after(Moment.END, "pass"),), cut=Cut.POP),
                ),
            ),
            looks=(Look("swing", "2", "1", "back"), Look("far", "1", "3", "drop")),
        ),
        thrower=None,
        spot=None,
        situation=Situation.HALF_COURT,
    )
    line = timeline(play, U14)
    swing, far = line.window("swing"), line.window("far")
    assert far.given == "swing"
    assert far.earliest >= swing.catch(swing.in_turn) + U14.handle - 1e-6


def test_who_threw_in_and_got_the_ball_back_passes_from_that_look() -> None:
    """The thrower has the ball from the beginning, but for what waits for the throw-in's catch."""
    stepped = cut("c1", "1", (5.0, 7.6), cues=(Cue(Moment.BALL_IN),))
    late = cut("c3", "3", (-4.0, 4.0), cues=(Cue(Moment.BALL_IN),))
    looks = (
        Look("in", "1", "2", "c2"),
        Look("back", "2", "1", "c1"),
        Look("over", "1", "3", "c3"),
    )
    first = still().phases[0]
    play = replace(
        still(), phases=(replace(first, actions=(*first.actions, stepped, late)),), looks=looks
    )
    line = timeline(play, pace_of(AgeGroup.U16))
    given = {look.id: line.window(look.id).given for look in looks}
    assert given == {"in": None, "back": "in", "over": "back"}


def test_a_ball_taken_in_passing_is_there_until_the_runner_is_past() -> None:
    """Whoever is thrown to on the way is gone 0.6 m (our choice) beyond the catch, not before."""
    five = cut("c5", "5", (2.0, 9.0))
    play = still()
    begin = next(start.at for start in play.starts if start.role == "5")
    play = replace(
        play,
        phases=(replace(play.phases[0], actions=(*play.phases[0].actions, five)),),
        looks=(Look("to5", "1", "5", "c5", at=Point(begin.x / 2 + 1.0, begin.y / 2 + 4.5)),),
    )
    line = timeline(play, U14)
    (window,) = line.windows
    assert window.leaves is not None
    assert window.arrival < window.leaves < line.spans["c5"].arrive
    at_once = line.spans["c5"].arrive - line.spans["c5"].start
    assert window.leaves - window.arrival < at_once / 2


def test_looks_that_read_the_same_man_share_a_glance_until_another_comes_between() -> None:
    """One glance reads what the same defenders do; a look without a read is a glance by itself."""
    read = DefenceRead(Defence.SAG, ("4",))
    plain = Look("l1", "1", "2", "cut")
    so_far = SoFar()
    turns = []
    for at, each in enumerate((replace(plain, read=read), replace(plain, read=read))):
        turns.append(so_far.turn_of(each))
        so_far.passed_up("1", float(at + 1))
    assert turns == [0.0, 0.0]
    assert so_far.turn_of(plain) == 2.0
    so_far.passed_up("1", 3.0)
    assert so_far.turn_of(replace(plain, read=read)) == 3.0


def test_a_ball_that_is_handed_over_changes_hands_in_a_fifth_of_a_second() -> None:
    """Our own choice; nobody has measured it for us."""
    play = replace(
        still(),
        thrower=None,
        spot=None,
        situation=Situation.HALF_COURT,
        phases=(Phase("one", "One", (Action("h", "1", ActionKind.HANDOFF, to="2"),)),),
    )
    (flight,) = timeline(play, U14).flights
    assert flight.catch - flight.release == pytest.approx(0.2)
