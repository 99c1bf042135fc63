"""A play that says everything the document can say: not good basketball, but every word."""

from __future__ import annotations

from plays.core.play import (
    Action,
    ActionKind,
    Counter,
    Cue,
    CueRule,
    Cut,
    Defence,
    Formation,
    Joint,
    JointShape,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    ScreenStyle,
)
from tests.plays.core.samples import LEFT, after, cut, dribble, on_set, screen, throw, thrown_in

GATE = Joint("gate", JointShape.GATE)
SHUT = Joint("gate", JointShape.GATE, "close")
DOUBLE = Joint("wall", JointShape.DOUBLE)
STAGGER = Joint("row", JointShape.STAGGER)


def everything() -> Play:
    """Every kind of action, cut, screen, joint, pass, cue and counter."""
    return thrown_in(
        "everything",
        ((-7.8, 8.325), (-2.45, 5.8), (2.45, 5.8), (-2.45, 1.8), (2.45, 1.8)),
        _gate(),
        _row(),
        _ball(),
        _flow(),
        formation=Formation.BOX,
        spot=LEFT,
        looks=(
            Look("l1", "1", "3", "a3", PassKind.LOB, "nobody is behind 3", Point(0, 2.4)),
            Look("l2", "1", "5", "b5", PassKind.BOUNCE),
            Look("l3", "1", "2", "b2", PassKind.OVERHEAD, "count of four!"),
            Look("l4", "5", "4", "c4"),
        ),
        counters=_counters(),
        call="Everything {5}",
    )


def _gate() -> Phase:
    through = (on_set("a4"), on_set("a5", 0.5))
    up_and_down = ((0, 7.8), (0, 4.6), (0, 1.8))
    on_one = (Cue(Moment.SIGNAL, wait=1.0),)
    return Phase(
        "gate",
        "Gate",
        (
            screen("a4", "4", "3", (-0.7, 5.0), joint=GATE, easy=True),
            screen("a5", "5", "3", (0.7, 5.0), joint=GATE),
            cut("a3", "3", *up_and_down, cues=through),
            screen("a4s", "4", "3", (-0.3, 4.4), joint=SHUT, cues=(Cue(Moment.PASSES, "a3", 1),)),
            screen("a5s", "5", "3", (0.3, 4.4), joint=SHUT, cues=(after(Moment.START, "a4s"),)),
            cut("a2", "2", (-6.9, 1.4), cut=Cut.CLEAR_OUT, cues=on_one, decoy=True),
        ),
    )


def _row() -> Phase:
    first = (after(Moment.END, "a3"), after(Moment.END, "a2", 1.6))
    behind = (after(Moment.START, "b3d", 2.2),)
    return Phase(
        "row",
        "Row",
        (
            screen("b4", "4", "2", (-2.6, 4.0), joint=STAGGER, cues=(on_set("a4s", 0.2),)),
            screen("b3", "3", "2", (-4.4, 3.4), joint=STAGGER, screen=ScreenStyle.FLARE),
            cut("b2", "2", (-2.45, 8.2), cut=Cut.CURL, cues=(on_set("b4"),)),
            cut("b5", "5", (2.45, 1.9), cut=Cut.SEAL, cues=first, cue_rule=CueRule.FIRST),
            screen("b3d", "3", "5", (2.2, 3.0), screen=ScreenStyle.DOWN, joint=DOUBLE),
            screen("b4d", "4", "5", (3.0, 3.0), joint=DOUBLE, cues=behind),
        ),
    )


def _ball() -> Phase:
    caught = (after(Moment.END, "c5"),)
    passed = (after(Moment.START, "c1"),)
    both = (after(Moment.END, "c1"), Cue(Moment.BALL_IN, wait=0.7))
    return Phase(
        "ball",
        "Ball",
        (
            cut("c5", "5", (0, 7.9), cut=Cut.POP, cues=(on_set("b3d"),)),
            throw("c1", "1", "5", PassKind.LOB, cues=caught),
            cut("c4", "4", (6.5, 5.8), cut=Cut.FADE, cues=both),
            screen("c3", "3", "5", (0.9, 7.4), screen=ScreenStyle.BALL, cues=passed),
            dribble("c5d", "5", (2.45, 8.0), cues=(on_set("c3"),)),
            cut("c3r", "3", (0, 1.7), cut=Cut.ROLL, cues=(after(Moment.START, "c5d", 1.0),)),
            cut("c2", "2", (4.6, 8.4), cues=(after(Moment.START, "c5d"),), easy=True),
            Action("c5h", "5", ActionKind.HANDOFF, (), (after(Moment.END, "c2"),), to="2"),
            dribble("c2d", "2", cues=(after(Moment.END, "c5h"),)),
            throw("c2p", "2", "4", cues=(after(Moment.END, "c3r"),)),
            throw("c4p", "4", "3", PassKind.BOUNCE, cues=(after(Moment.END, "c2p"),)),
            Action("c3s", "3", ActionKind.SHOT, (), (after(Moment.END, "c4p"),)),
        ),
    )


def _flow() -> Phase:
    return Phase(
        "flow",
        "Flow",
        (
            Action("d1", "1", ActionKind.HOLD, (Point(-6.5, 5.8),), easy=True),
            screen("d4", "4", "2", (2.45, 5.6), screen=ScreenStyle.BACK),
            cut("d4s", "4", (0.2, 2.0), cut=Cut.SLIP, cues=(on_set("d4", 0.6),)),
            screen(
                "d5",
                "5",
                "1",
                (2.4, 5.0),
                screen=ScreenStyle.CROSS,
                cues=(after(Moment.START, "c3s"),),
            ),
            cut("d5p", "5", (2.45, 2.2), cut=Cut.POST_UP, cues=(after(Moment.END, "d4s"),)),
            Action("d2", "2", ActionKind.HOLD, (), (after(Moment.END, "c3s"),)),
            Action("d3", "3", ActionKind.HOLD, (), (after(Moment.START, "d1"),)),
        ),
        rotation=True,
    )


def _counters() -> tuple[Counter, ...]:
    slip = cut("c5", "5", (0, 1.8), cut=Cut.SLIP, cues=(on_set("b3d"),))
    extra = cut("x4", "4", (6.9, 1.4), cut=Cut.STRAIGHT, cues=(after(Moment.END, "c5"),))
    gone = ("c4", "c4p", "c3s", "d4", "d4s", "d5", "d5p", "d2")
    safe = Look("x", "1", "5", "c5", PassKind.LOB, "5 is alone")
    return (
        Counter("slip", Defence.SWITCH, "ball", "5 slips.", gone, (slip,), (extra,), (safe,)),
        Counter("none", Defence.SAG, "flow", "Go on as if nothing was.", ()),
    )
