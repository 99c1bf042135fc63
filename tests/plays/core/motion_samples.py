"""Two plays of our own that the tests of the clock, the defence and the findings share."""

from __future__ import annotations

from dataclasses import replace

from plays.core.play import (
    Action,
    ActionKind,
    Cue,
    Cut,
    Formation,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    Role,
    RuleSet,
    ScreenStyle,
    Situation,
    Spot,
    Start,
)


def cut(
    id_: str, role: Role, *path: tuple[float, float], cues: tuple[Cue, ...] = (), **more: object
) -> Action:
    points = tuple(Point(x, y) for x, y in path)
    return Action(id_, role, ActionKind.CUT, points, cues, **more)  # type: ignore[arg-type]


def screen(
    id_: str, role: Role, cutter: Role, *path: tuple[float, float], cues: tuple[Cue, ...] = ()
) -> Action:
    points = tuple(Point(x, y) for x, y in path)
    style = ScreenStyle.DOWN
    return Action(id_, role, ActionKind.SCREEN, points, cues, screen=style, cutter=cutter)


def on_set(action: str, wait: float = 0.0) -> Cue:
    return Cue(Moment.SET, action, wait=wait)


def box() -> Play:
    """From the right sideline: 4 screens down for 2, 5 across for 3, then both roll or step in."""
    first = Phase(
        "p1",
        "Two screens",
        (
            screen("s4", "4", "2", (3.0, 3.6)),
            cut("c2", "2", (3.8, 4.2), (5.6, 6.6), cues=(on_set("s4"),)),
            screen("s5", "5", "3", (-1.6, 3.2)),
            cut("c3", "3", (-1.0, 3.6), (1.2, 2.6), cues=(on_set("s5"),)),
        ),
    )
    second = Phase(
        "p2",
        "Step in",
        (
            cut("r4", "4", (2.2, 2.4), cut=Cut.SEAL),
            cut("r5", "5", (-0.6, 6.2), cut=Cut.POP),
        ),
    )
    return Play(
        key="box",
        name="Box",
        situation=Situation.SIDELINE,
        formation=Formation.BOX,
        court=RuleSet.FIBA,
        ball="1",
        thrower="1",
        spot=Spot("sideline", "right", 8.325),
        starts=(
            Start("1", Point(7.8, 8.325)),
            Start("2", Point(2.6, 2.8)),
            Start("3", Point(-2.6, 2.8)),
            Start("4", Point(2.6, 5.8)),
            Start("5", Point(-2.6, 5.8)),
        ),
        phases=(first, second),
        looks=(
            Look("l1", "1", "3", "c3", PassKind.BOUNCE),
            Look("l2", "1", "2", "c2"),
            Look("l3", "1", "4", "r4", PassKind.LOB),
            Look("l4", "1", "5", "r5", PassKind.OVERHEAD),
        ),
    )


def still(distance: float = 5.0) -> Play:
    """Nobody but 2 moves, straight towards the thrower's line by ``distance`` metres."""
    return Play(
        key="still",
        name="Still",
        situation=Situation.SIDELINE,
        formation=Formation.OTHER,
        court=RuleSet.FIBA,
        ball="1",
        thrower="1",
        spot=Spot("sideline", "right", 8.325),
        starts=(
            Start("1", Point(7.8, 8.325)),
            Start("2", Point(0.0, 3.0)),
            Start("3", Point(-6.9, 1.0)),
            Start("4", Point(-4.0, 5.0)),
            Start("5", Point(-2.0, 9.0)),
        ),
        phases=(Phase("p1", "Cut", (cut("c2", "2", (0.0, 3.0 + distance)),)),),
        looks=(Look("l1", "1", "2", "c2"),),
    )


def mirrored(play: Play) -> Play:
    """From the other side of the court, except for the spot."""

    def flip(point: Point) -> Point:
        return Point(-point.x, point.y)

    return replace(
        play,
        starts=tuple(replace(start, at=flip(start.at)) for start in play.starts),
        phases=tuple(
            replace(
                phase,
                actions=tuple(replace(a, path=tuple(map(flip, a.path))) for a in phase.actions),
            )
            for phase in play.phases
        ),
    )
