"""The cue graph: orders, circles, and the links that no coach writes.

Orders and circles are held against networkx, which is no part of the product.
"""

from __future__ import annotations

from random import Random

import networkx
import pytest

from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    Cue,
    CueRule,
    Formation,
    Look,
    Moment,
    Phase,
    Play,
    Role,
)
from plays.core.sequence.course import scenes
from plays.core.sequence.cues import CueCycleError, CueGraph, Link, Why
from tests.plays.core import samples
from tests.plays.core.samples import LEFT, thrown_in

HERE = (1.0, 4.0)


def play_of(*actions: Action, rotation: tuple[Action, ...] = (), **changes: object) -> Play:
    phases = [Phase("entry", "Entry", actions)]
    if rotation:
        phases.append(Phase("then", "Then", rotation, rotation=True))
    places = ((-7.8, 8.325), (-2, 6), (2, 6), (-2, 3), (2, 3))
    fields = {"name": "Cue case", "formation": Formation.BOX, "spot": LEFT} | changes
    return thrown_in("k", places, *phases, **fields)


def cut(id_: str, role: Role, *cues: Cue, **more: object) -> Action:
    return samples.cut(id_, role, HERE, cues=cues, **more)


def screen(id_: str, role: Role, cutter: Role, *cues: Cue) -> Action:
    return samples.screen(id_, role, cutter, HERE, cues=cues)


def after(id_: str, on: Moment = Moment.END, **more: object) -> Cue:
    return Cue(on, id_, **more)  # type: ignore[arg-type]  # by name


def implied(play: Play, id_: str) -> tuple[Link, ...]:
    return CueGraph(play).waits[id_].implied


def test_first_action_waits_for_the_signal_and_the_next_for_its_own_role() -> None:
    play = play_of(cut("a", "2"), cut("b", "2"))
    assert implied(play, "a") == (Link(Why.SIGNAL, Moment.SIGNAL),)
    assert implied(play, "b") == (Link(Why.OWN, Moment.END, "a"),)


def test_a_cue_takes_the_place_of_the_signal_but_not_of_the_own_role() -> None:
    play = play_of(cut("a", "2"), cut("b", "3", after("a")), cut("c", "3", after("a")))
    assert implied(play, "b") == ()
    assert implied(play, "c") == (Link(Why.OWN, Moment.END, "b"),)


def test_a_screener_leaves_when_the_cutter_is_past() -> None:
    play = play_of(screen("s", "5", "4"), cut("pop", "5"), cut("use", "4", after("s", Moment.SET)))
    assert implied(play, "pop") == (
        Link(Why.OWN, Moment.SET, "s"),
        Link(Why.SHOULDER, Moment.PASSES, "use"),
    )
    assert CueGraph(play).order() == ("s", "use", "pop")


def test_a_cutter_who_waits_for_the_slip_holds_no_screener_up() -> None:
    play = play_of(screen("s", "5", "4"), cut("slip", "5"), cut("use", "4", after("slip")))
    assert implied(play, "slip") == (Link(Why.OWN, Moment.SET, "s"),)
    assert CueGraph(play).order() == ("s", "slip", "use")


def test_after_my_own_screen_means_set_and_the_cutter_past() -> None:
    play = play_of(screen("s", "5", "4"), cut("pop", "5", after("s", wait=0.5)), cut("use", "4"))
    found = CueGraph(play).waits["pop"]
    assert found.cues == (Link(Why.CUE, Moment.SET, "s", wait=0.5),)
    assert Link(Why.SHOULDER, Moment.PASSES, "use") in found.implied
    assert CueGraph(play).cycles() == ()


def test_the_end_of_a_screen_is_the_start_of_what_the_screener_does_next() -> None:
    play = play_of(screen("s", "5", "4"), cut("pop", "5"), cut("go", "3", after("s")))
    assert CueGraph(play).before["go"] == {"s", "pop"}


def test_the_cutter_of_a_screen_is_who_waits_for_it_even_if_written_before() -> None:
    use = cut("use", "4", after("s", Moment.SET))
    set_ = screen("s", "5", "4")
    play = play_of(use, set_, cut("later", "4"))
    assert CueGraph(play).cutter_of(set_) == "use"
    without = play_of(cut("early", "4"), set_, cut("later", "4"))
    assert CueGraph(without).cutter_of(set_) == "later"
    assert CueGraph(play_of(set_)).cutter_of(set_) is None
    assert CueGraph(play).next["use"] == "later"


def test_a_cutter_who_screens_first_has_not_used_the_screen_yet() -> None:
    set_ = screen("s", "5", "4")
    play = play_of(set_, screen("own", "4", "3", after("s", Moment.SET)), cut("use", "4"))
    assert CueGraph(play).cutter_of(set_) == "use"


def test_who_passes_must_have_caught_the_ball() -> None:
    throw = Action("in", "1", ActionKind.PASS, to="3")
    on = Action("on", "3", ActionKind.PASS, to="2")
    play = play_of(throw, cut("a", "3"), on)
    assert Link(Why.BALL, Moment.END, "in") in implied(play, "on")
    assert CueGraph(play).throw_in == throw


def test_a_rotation_waits_for_the_ball_to_be_in() -> None:
    look = Look("first", "1", "3", "a")
    play = play_of(cut("a", "3"), rotation=(cut("r", "2"),), looks=(look,))
    assert Link(Why.ROTATION, Moment.BALL_IN) in implied(play, "r")
    assert CueGraph(play).before["r"] == {"a"}
    thrown = play_of(Action("in", "1", ActionKind.PASS, to="3"), rotation=(cut("r", "2"),))
    assert CueGraph(thrown).before["r"] == {"in"}


def test_a_later_pass_of_the_thrower_is_no_throw_in() -> None:
    """The ball came in by the look; the pass back and the thrower's next are in the rotation."""
    look = Look("first", "1", "3", "a")
    back = Action("back", "3", ActionKind.PASS, to="1")
    on = Action("on", "1", ActionKind.PASS, to="2")
    play = play_of(cut("a", "3"), rotation=(back, on), looks=(look,))
    assert CueGraph(play).throw_in is None
    assert CueGraph(play).order() == ("a", "back", "on")
    assert [scene.holder for scene in scenes(play)] == ["1", "3"]


def test_a_thrower_who_has_the_ball_again_keeps_it_when_the_rotation_begins() -> None:
    throw = Action("in", "1", ActionKind.PASS, to="3")
    back = Action("back", "3", ActionKind.PASS, to="1")
    look = Look("first", "1", "4", "a")
    play = play_of(cut("a", "4"), throw, back, rotation=(cut("r", "2"),), looks=(look,))
    assert [scene.holder for scene in scenes(play)] == ["1", "1"]


def test_order_keeps_to_the_written_order_where_it_can() -> None:
    play = play_of(cut("c", "2", after("a")), cut("b", "3"), cut("a", "4"))
    assert CueGraph(play).order() == ("b", "a", "c")


def test_a_circle_is_named_in_waiting_order() -> None:
    play = play_of(cut("a", "2", after("c")), cut("b", "3", after("a")), cut("c", "4", after("b")))
    assert CueGraph(play).cycles() == (("a", "c", "b"),)
    with pytest.raises(CueCycleError) as error:
        CueGraph(play).order()
    assert error.value.circle == ("a", "c", "b")


def test_two_circles_are_both_found_and_their_followers_are_not_blamed() -> None:
    play = play_of(
        cut("a", "2", after("b")),
        cut("b", "3", after("a")),
        cut("x", "4", after("y", Moment.START)),
        cut("y", "5", after("x", Moment.START), after("a"), cue_rule=CueRule.FIRST),
        cut("late", "5", after("a")),
    )
    assert CueGraph(play).cycles() == (("a", "b"), ("x", "y"))


def test_an_action_that_waits_for_itself_is_a_circle_of_one() -> None:
    assert CueGraph(play_of(cut("a", "2", after("a")))).cycles() == (("a",),)


def test_a_cue_on_an_unknown_action_is_left_to_the_problems() -> None:
    play = play_of(cut("a", "2", after("nowhere")))
    assert CueGraph(play).waits["a"].links == (Link(Why.SIGNAL, Moment.SIGNAL),)


def test_orders_and_circles_agree_with_networkx() -> None:
    """networkx.is_directed_acyclic_graph and strongly_connected_components, over 300 graphs."""
    chance, sound, names = Random(7), 0, "abcdefg"
    for _ in range(300):
        actions = tuple(
            cut(
                name,
                ROLES[1 + index % 4],
                *(after(other, Moment.START) for other in names if chance.random() < 0.08),
            )
            for index, name in enumerate(names)
        )
        play = play_of(*actions)
        graph = networkx.DiGraph(
            [(source, id_) for id_, sources in CueGraph(play).before.items() for source in sources]
        )
        graph.add_nodes_from(names)
        knots = [
            knot
            for knot in networkx.strongly_connected_components(graph)
            if len(knot) > 1 or any(graph.has_edge(node, node) for node in knot)
        ]
        found = CueGraph(play).cycles()
        assert len(found) == len(knots)
        assert all(any(set(circle) <= knot for knot in knots) for circle in found)
        if not knots:
            sequence = CueGraph(play).order()
            assert all(sequence.index(a) < sequence.index(b) for a, b in graph.edges)
            sound += 1
    assert 30 < sound < 270
