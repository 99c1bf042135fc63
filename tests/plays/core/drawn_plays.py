"""Invented plays that between them use every kind of line a diagram can have."""

from __future__ import annotations

from plays.core.play import (
    Action,
    ActionKind,
    Counter,
    Cue,
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
    Play,
    Point,
    RuleSet,
    ScreenStyle,
    Situation,
    Spot,
    Stance,
    Start,
)

GATEHOUSE = Play(
    key="gatehouse",
    name="Gatehouse",
    situation=Situation.SIDELINE,
    formation=Formation.LINE_ACROSS,
    court=RuleSet.FIBA,
    ball="1",
    thrower="1",
    spot=Spot("sideline", "right", 8.325),
    starts=(
        Start("1", Point(7.8, 8.325)),
        Start("2", Point(4.9, 8.3)),
        Start("3", Point(3.4, 8.3)),
        Start("4", Point(1.9, 8.3)),
        Start("5", Point(0.4, 8.3)),
    ),
    phases=(
        Phase(
            "gate",
            "Through the gate",
            (
                Action(
                    "a1",
                    "4",
                    ActionKind.SCREEN,
                    (Point(1.4, 6.0),),
                    screen=ScreenStyle.DOWN,
                    cutter="2",
                    joint=Joint("gate", JointShape.GATE),
                ),
                Action(
                    "a2",
                    "5",
                    ActionKind.SCREEN,
                    (Point(-0.9, 6.2),),
                    screen=ScreenStyle.DOWN,
                    cutter="2",
                    joint=Joint("gate", JointShape.GATE),
                ),
                Action(
                    "a3",
                    "2",
                    ActionKind.CUT,
                    (Point(2.8, 6.9), Point(0.3, 6.4), Point(-0.3, 3.0)),
                    cues=(Cue(Moment.SET, "a2"),),
                    cut=Cut.CURL,
                ),
                Action("a4", "3", ActionKind.CUT, (Point(4.2, 5.0), Point(6.4, 2.2)), decoy=True),
                Action("a5", "5", ActionKind.CUT, (Point(-3.4, 7.6),), cut=Cut.POP),
            ),
        ),
        Phase(
            "finish",
            "Ball in",
            (
                Action("b1", "1", ActionKind.PASS, to="5", pass_kind=PassKind.OVERHEAD),
                Action("b2", "1", ActionKind.CUT, (Point(5.5, 9.4), Point(2.6, 9.0))),
                Action("b3", "5", ActionKind.DRIBBLE, (Point(-4.8, 6.4), Point(-4.6, 3.8))),
                Action("b4", "4", ActionKind.SCREEN, (Point(0.4, 4.0),), cutter="2"),
                Action("b5", "2", ActionKind.CUT, (Point(2.6, 2.4),), cut=Cut.SEAL),
                Action("b6", "5", ActionKind.PASS, to="2", pass_kind=PassKind.LOB),
                Action("b7", "2", ActionKind.SHOT),
            ),
            rotation=True,
        ),
    ),
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
            add=(Action("c1", "4", ActionKind.CUT, (Point(0.8, 3.2),), cut=Cut.SLIP),),
            remove=("a3",),
            looks=(Look("l9", "1", "4", "c1"),),
        ),
    ),
    defenders=(
        Defender("1", Point(6.7, 8.2), None),
        Defender("2", None, Stance.DENY),
        Defender("3", None, Stance.BETWEEN),
        Defender("4", None, Stance.BETWEEN),
        Defender("5", None, Stance.BETWEEN),
    ),
)

MILLWHEEL = Play(
    key="millwheel",
    name="Mill wheel",
    situation=Situation.BASELINE,
    formation=Formation.BOX,
    court=RuleSet.NFHS,
    ball="3",
    thrower="3",
    spot=Spot("baseline", "left", 2.743),
    starts=(
        Start("1", Point(-2.2, 5.6)),
        Start("2", Point(2.2, 5.6)),
        Start("3", Point(-2.743, -0.3)),
        Start("4", Point(-2.2, 2.4)),
        Start("5", Point(2.2, 2.4)),
    ),
    phases=(
        Phase(
            "screens",
            "Cross and down",
            (
                Action("a1", "5", ActionKind.SCREEN, (Point(-1.3, 2.5),), cutter="4"),
                Action("a2", "4", ActionKind.CUT, (Point(0.2, 1.9), Point(2.1, 2.2))),
                Action("a3", "2", ActionKind.SCREEN, (), cutter="1"),
                Action(
                    "a4", "1", ActionKind.CUT, (Point(0.5, 7.0), Point(3.6, 6.2), Point(6.0, 3.2))
                ),
                Action("a5", "5", ActionKind.CUT, (Point(-0.4, 3.9), Point(-3.6, 4.4))),
                Action("a6", "2", ActionKind.CUT, (Point(1.9, 8.6), Point(-0.8, 8.9))),
            ),
        ),
        Phase(
            "handoff",
            "Hand-off",
            (
                Action("b1", "2", ActionKind.DRIBBLE, (Point(-3.2, 7.4),)),
                Action("b2", "5", ActionKind.HOLD),
                Action("b3", "3", ActionKind.CUT, (Point(-5.4, 2.4), Point(-4.2, 7.0))),
                Action("b4", "2", ActionKind.HANDOFF, to="3"),
                Action("b5", "3", ActionKind.DRIBBLE, (Point(-1.0, 7.2), Point(0.4, 4.0))),
                Action("b6", "3", ActionKind.SHOT),
                Action("b7", "1", ActionKind.CUT, (Point(6.0, 1.6), Point(6.0, 5.0))),
            ),
            rotation=True,
        ),
    ),
    looks=(
        Look("l1", "3", "4", "a2", PassKind.LOB),
        Look("l2", "3", "5", "a5"),
        Look("l3", "3", "1", "a4", PassKind.OVERHEAD),
        Look("l4", "3", "2", "a6", PassKind.OVERHEAD),
    ),
)

QUAYSIDE = Play(
    key="quayside",
    name="Quayside",
    situation=Situation.PRESS_BREAK,
    formation=Formation.OTHER,
    court=RuleSet.FIBA,
    ball="1",
    thrower="1",
    spot=Spot("baseline", "right", 3.364, far=True),
    starts=(
        Start("1", Point(3.364, 28.3)),
        Start("2", Point(-1.6, 22.4)),
        Start("3", Point(1.8, 22.4)),
        Start("4", Point(0.0, 15.4)),
        Start("5", Point(-4.0, 9.0)),
    ),
    phases=(
        Phase(
            "free",
            "Get one free",
            (
                Action("s3", "3", ActionKind.SCREEN, (Point(-0.4, 22.8),), cutter="2"),
                Action(
                    "c2",
                    "2",
                    ActionKind.CUT,
                    (Point(0.2, 23.6), Point(5.0, 25.6)),
                    cues=(Cue(Moment.SET, "s3"),),
                ),
                Action("c4", "4", ActionKind.CUT, (Point(0.4, 19.0),)),
            ),
        ),
        Phase(
            "up",
            "In, and up the middle",
            (
                Action(
                    "in",
                    "1",
                    ActionKind.PASS,
                    cues=(Cue(Moment.END, "c2"),),
                    to="2",
                    pass_kind=PassKind.DIRECT,
                ),
                Action("on", "2", ActionKind.PASS, to="4", pass_kind=PassKind.DIRECT),
                Action("c5", "5", ActionKind.CUT, (Point(-2.0, 3.0),)),
            ),
        ),
    ),
    looks=(Look("l1", "1", "2", "c2"), Look("l2", "1", "4", "c4", PassKind.OVERHEAD)),
)

PLAYS = (GATEHOUSE, MILLWHEEL)
NAMES = {"1": "Ida", "2": "Runa", "3": "Maximiliane", "4": "Zoë", "5": "Łucja"}
