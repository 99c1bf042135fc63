"""Invented plays that between them use every kind of line a diagram can have."""

from __future__ import annotations

from plays.core.play import (
    Action,
    ActionKind,
    Counter,
    Cut,
    Defence,
    Defender,
    Formation,
    Joint,
    JointShape,
    Look,
    Moment,
    PassKind,
    Phase,
    Point,
    Role,
    RuleSet,
    ScreenStyle,
    Situation,
    Spot,
    Stance,
)
from tests.plays.core.samples import after, cut, dribble, on_set, screen, throw, thrown_in

GATE = Joint("gate", JointShape.GATE)

GATEHOUSE = thrown_in(
    "gatehouse",
    ((7.8, 8.325), (4.9, 8.3), (3.4, 8.3), (1.9, 8.3), (0.4, 8.3)),
    Phase(
        "gate",
        "Through the gate",
        (
            screen("a1", "4", "2", (1.4, 6.0), screen=ScreenStyle.DOWN, joint=GATE),
            screen("a2", "5", "2", (-0.9, 6.2), screen=ScreenStyle.DOWN, joint=GATE),
            cut("a3", "2", (2.8, 6.9), (0.3, 6.4), (-0.3, 3.0), cues=(on_set("a2"),), cut=Cut.CURL),
            cut("a4", "3", (4.2, 5.0), (6.4, 2.2), decoy=True),
            cut("a5", "5", (-3.4, 7.6), cut=Cut.POP),
        ),
    ),
    Phase(
        "finish",
        "Ball in",
        (
            throw("b1", "1", "5", PassKind.OVERHEAD),
            cut("b2", "1", (5.5, 9.4), (2.6, 9.0)),
            dribble("b3", "5", (-4.8, 6.4), (-4.6, 3.8)),
            screen("b4", "4", "2", (0.4, 4.0)),
            cut("b5", "2", (2.6, 2.4), cut=Cut.SEAL),
            throw("b6", "5", "2", PassKind.LOB),
            Action("b7", "2", ActionKind.SHOT),
        ),
        rotation=True,
    ),
    formation=Formation.LINE_ACROSS,
    looks=(
        Look("l1", "1", "2", "a3", PassKind.LOB, guess=0.4),
        Look("l2", "1", "3", "a4", PassKind.BOUNCE, guess=0.3),
        Look("l3", "1", "5", "a5", PassKind.DIRECT, guess=0.8),
    ),
    counters=(
        Counter(
            "switch",
            Defence.SWITCH,
            "gate",
            "4 slips to the rim",
            add=(cut("c1", "4", (0.8, 3.2), cut=Cut.SLIP),),
            remove=("a3",),
            looks=(Look("l9", "1", "4", "c1"),),
        ),
    ),
    defenders=(
        Defender("1", Point(6.7, 8.2)),
        Defender("2", None, Stance.DENY),
        Defender("3", None, Stance.BETWEEN),
        Defender("4", None, Stance.BETWEEN),
        Defender("5", None, Stance.BETWEEN),
    ),
)

MILLWHEEL = thrown_in(
    "millwheel",
    ((-2.2, 5.6), (2.2, 5.6), (-2.743, -0.3), (-2.2, 2.4), (2.2, 2.4)),
    Phase(
        "screens",
        "Cross and down",
        (
            screen("a1", "5", "4", (-1.3, 2.5)),
            cut("a2", "4", (0.2, 1.9), (2.1, 2.2)),
            screen("a3", "2", "1"),
            cut("a4", "1", (0.5, 7.0), (3.6, 6.2), (6.0, 3.2)),
            cut("a5", "5", (-0.4, 3.9), (-3.6, 4.4)),
            cut("a6", "2", (1.9, 8.6), (-0.8, 8.9)),
        ),
    ),
    Phase(
        "handoff",
        "Hand-off",
        (
            dribble("b1", "2", (-3.2, 7.4)),
            Action("b2", "5", ActionKind.HOLD),
            cut("b3", "3", (-5.4, 2.4), (-4.2, 7.0)),
            Action("b4", "2", ActionKind.HANDOFF, to="3"),
            dribble("b5", "3", (-1.0, 7.2), (0.4, 4.0)),
            Action("b6", "3", ActionKind.SHOT),
            cut("b7", "1", (6.0, 1.6), (6.0, 5.0)),
        ),
        rotation=True,
    ),
    name="Mill wheel",
    situation=Situation.BASELINE,
    formation=Formation.BOX,
    court=RuleSet.NFHS,
    ball="3",
    thrower="3",
    spot=Spot("baseline", "left", 2.743),
    looks=(
        Look("l1", "3", "4", "a2", PassKind.LOB),
        Look("l2", "3", "5", "a5"),
        Look("l3", "3", "1", "a4", PassKind.OVERHEAD),
        Look("l4", "3", "2", "a6", PassKind.OVERHEAD),
    ),
)

QUAYSIDE = thrown_in(
    "quayside",
    ((3.364, 28.3), (-1.6, 22.4), (1.8, 22.4), (0.0, 15.4), (-4.0, 9.0)),
    Phase(
        "free",
        "Get one free",
        (
            screen("s3", "3", "2", (-0.4, 22.8)),
            cut("c2", "2", (0.2, 23.6), (5.0, 25.6), cues=(on_set("s3"),)),
            cut("c4", "4", (0.4, 19.0)),
        ),
    ),
    Phase(
        "up",
        "In, and up the middle",
        (
            throw("in", "1", "2", PassKind.DIRECT, cues=(after(Moment.END, "c2"),)),
            throw("on", "2", "4", PassKind.DIRECT),
            cut("c5", "5", (-2.0, 3.0)),
        ),
    ),
    situation=Situation.PRESS_BREAK,
    spot=Spot("baseline", "right", 3.364, far=True),
    looks=(Look("l1", "1", "2", "c2"), Look("l2", "1", "4", "c4", PassKind.OVERHEAD)),
)

NAMES: dict[Role, str] = {"1": "Ida", "2": "Runa", "3": "Maximiliane", "4": "Zoë", "5": "Łucja"}
