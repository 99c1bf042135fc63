"""Short hands to write a play with, and the small plays of our own that many tests share."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from plays.core.play import (
    ROLES,
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

Place = tuple[float, float]

RIGHT = Spot("sideline", "right", 8.325)  # FIBA 2.5.6: the throw-in line, 8.325 m up the court
LEFT = Spot("sideline", "left", 8.325)


def cut(id_: str, role: Role, *path: Place, **more: Any) -> Action:
    return Action(id_, role, ActionKind.CUT, way(*path), **more)


def screen(id_: str, role: Role, cutter: Role, *path: Place, **more: Any) -> Action:
    return Action(id_, role, ActionKind.SCREEN, way(*path), cutter=cutter, **more)


def dribble(id_: str, role: Role, *path: Place, **more: Any) -> Action:
    return Action(id_, role, ActionKind.DRIBBLE, way(*path), **more)


def throw(id_: str, role: Role, to: Role, kind: PassKind | None = None, **more: Any) -> Action:
    return Action(id_, role, ActionKind.PASS, to=to, pass_kind=kind, **more)


def way(*path: Place) -> tuple[Point, ...]:
    return tuple(Point(x, y) for x, y in path)


def after(on: Moment, action: str, wait: float = 0.0) -> Cue:
    return Cue(on, action, wait=wait)


def on_set(action: str, wait: float = 0.0) -> Cue:
    return after(Moment.SET, action, wait)


def thrown_in(key: str, places: tuple[Place, ...], *phases: Phase, **more: Any) -> Play:
    """A play that the 1 throws in, from the right sideline unless told otherwise."""
    fields: dict[str, Any] = {
        "name": key.capitalize(),
        "situation": Situation.SIDELINE,
        "formation": Formation.OTHER,
        "court": RuleSet.FIBA,
        "ball": "1",
        "thrower": "1",
        "spot": RIGHT,
    }
    starts = tuple(map(Start, ROLES, way(*places)))
    return Play(key=key, starts=starts, phases=phases, **(fields | more))


def with_action(play: Play, changed: Action) -> Play:
    """The play with an action in the place of the one with its id."""
    phases = tuple(
        replace(phase, actions=tuple(changed if a.id == changed.id else a for a in phase.actions))
        for phase in play.phases
    )
    return replace(play, phases=phases)


def with_cues(play: Play, action: str, *cues: Cue) -> Play:
    """The play with an action that waits for something else."""
    old = next(a for a in play.actions() if a.id == action)
    return with_action(play, replace(old, cues=cues))


def box() -> Play:
    """From the right sideline: 4 screens down for 2, 5 across for 3, then both roll or step in."""
    first = Phase(
        "p1",
        "Two screens",
        (
            screen("s4", "4", "2", (3.0, 3.6), screen=ScreenStyle.DOWN),
            cut("c2", "2", (3.8, 4.2), (5.6, 6.6), cues=(on_set("s4"),)),
            screen("s5", "5", "3", (-1.6, 3.2), screen=ScreenStyle.DOWN),
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
    return thrown_in(
        "box",
        ((7.8, 8.325), (2.6, 2.8), (-2.6, 2.8), (2.6, 5.8), (-2.6, 5.8)),
        first,
        second,
        formation=Formation.BOX,
        looks=(
            Look("l1", "1", "3", "c3", PassKind.BOUNCE),
            Look("l2", "1", "2", "c2"),
            Look("l3", "1", "4", "r4", PassKind.LOB),
            Look("l4", "1", "5", "r5", PassKind.OVERHEAD),
        ),
    )


def still(distance: float = 5.0) -> Play:
    """Nobody but 2 moves, straight towards the thrower's line by ``distance`` metres."""
    return thrown_in(
        "still",
        ((7.8, 8.325), (0.0, 3.0), (-6.9, 1.0), (-4.0, 5.0), (-2.0, 9.0)),
        Phase("p1", "Cut", (cut("c2", "2", (0.0, 3.0 + distance)),)),
        looks=(Look("l1", "1", "2", "c2"),),
    )


def down_screen() -> Play:
    """4 screens down for 2, who comes up to the wing; then 4 turns to the basket."""
    past = Cue(Moment.PASSES, "c2", 0)
    actions = (
        screen("s4", "4", "2", (3.2, 3.4), screen=ScreenStyle.DOWN),
        cut("c2", "2", (3.9, 3.9), (5.6, 7.4), cues=(on_set("s4"),)),
        cut("r4", "4", (4.6, 3.0), cues=(past,)),
    )
    return thrown_in(
        "down",
        ((7.8, 8.325), (2.6, 2.6), (-6.9, 1.0), (3.4, 6.0), (-5.0, 8.0)),
        Phase("p1", "Down", actions),
        looks=(Look("wing", "1", "2", "c2"), Look("dive", "1", "4", "r4")),
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
