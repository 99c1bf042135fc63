"""All that may be changed in a play within the limits, one list of changes for each subject.

Four in a line stay in their line: out of it they would tell what is coming.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import product
from math import dist
from typing import Final, Literal

from plays.core.check.chain import can_go
from plays.core.check.remedy import implied_cue
from plays.core.court.courts import Court, court
from plays.core.play import Action, ActionKind, Cue, CueRule, Moment, Play, Point, Role
from plays.core.sequence.after_look import way_of
from plays.core.tune.changes import Change, Shift, Subject, Waiting
from plays.core.tune.limits import HALF, QUARTER, TuningLimits

INSIDE: Final = 0.3  # metres from a line within which nobody is put; ours
ELBOW_ROOM: Final = 0.8  # metres between two starts, unless they stood closer before; ours
IN_LINE: Final = 0.3  # metres by which people in a line may be off it
MOVERS: Final = (ActionKind.CUT, ActionKind.SCREEN, ActionKind.DRIBBLE)

Options = Mapping[Subject, tuple[Change, ...]]


def options(play: Play, limits: TuningLimits) -> Options:
    """Every change within the limits, by its subject, in the order of the play."""
    found: dict[Subject, tuple[Change, ...]] = {}
    for change in _all(play, limits):
        found[change.subject] = (*found.get(change.subject, ()), change)
    return found


def _all(play: Play, limits: TuningLimits) -> Iterator[Change]:
    free = [role for role in _roles(play) if role not in limits.fixed]
    along = line_of_starts(play)
    for role in free:
        if role != play.thrower:
            yield from _starts(play, role, along, limits)
    for action in play.actions():
        if action.role in free and action.kind is ActionKind.SCREEN and action.path:
            yield from _shifts("screen", action.id, action.path[-1], limits.screen, play)
    for action in play.actions():
        if action.role in free and action.kind in MOVERS:
            yield from _waits(play, action, limits)


def _roles(play: Play) -> list[Role]:
    return [start.role for start in play.starts]


def _starts(
    play: Play, role: Role, along: Literal["x", "y"] | None, limits: TuningLimits
) -> Iterator[Shift]:
    for shift in _shifts("start", role, play.start_of(role), limits.start, play):
        in_line = not (along == "x" and shift.up) and not (along == "y" and shift.right)
        if in_line:
            yield shift


def line_of_starts(play: Play) -> Literal["x", "y"] | None:
    """The axis along which those on the floor stand in a line, if they do."""
    places = [start.at for start in play.starts if start.role != play.thrower]
    if len(places) < 4:
        return None
    wide, deep = (max(axis) - min(axis) for axis in zip(*places, strict=True))
    if deep <= IN_LINE:
        return "x"
    return "y" if wide <= IN_LINE else None


def _shifts(
    what: Literal["start", "screen"], id_: str, place: Point, far: float, play: Play
) -> Iterator[Shift]:
    floor, steps = court(play.court), round(far / QUARTER)
    for right, up in product(range(-steps, steps + 1), repeat=2):
        shift = Shift(what, id_, right, up)
        if (right or up) and shift.metres <= far + 1e-9 and _fits(shift.moved(place), floor):
            yield shift


def _fits(point: Point, floor: Court) -> bool:
    return abs(point.x) <= floor.half_width - INSIDE and point.y >= INSIDE


def crowded(play: Play, tuned: Play) -> bool:
    """Whether two start closer to each other than elbow room, and closer than they did."""
    old = {start.role: start.at for start in play.starts}
    new = {start.role: start.at for start in tuned.starts}
    pairs = [(a, b) for a in old for b in old if a < b and play.thrower not in (a, b)]
    return any(
        dist(new[a], new[b]) < min(ELBOW_ROOM, dist(old[a], old[b])) - 1e-9 for a, b in pairs
    )


def _waits(play: Play, action: Action, limits: TuningLimits) -> Iterator[Waiting]:
    """Another read first, then without a pause, then with a longer one."""
    if action.cue_rule is CueRule.FIRST and len(action.cues) > 1:
        return
    cues = action.cues or (implied_cue(play, action),)
    found: list[tuple[Cue, ...]] = []
    if limits.reads:
        found += _reads(play, action, cues)
    for n, cue in enumerate(cues):
        found += [_put(cues, n, replace(cue, wait=wait)) for wait in _times(cue.wait, limits.wait)]
    for each in dict.fromkeys(found):
        if each != cues:
            yield Waiting(action.id, each)


def _times(wait: float, longer: float) -> Iterator[float]:
    """No wait, and whole half seconds up to so much more than now."""
    halves = range(int((wait + longer) / HALF + 1e-9) + 1)
    yield from (half * HALF for half in halves if abs(half * HALF - wait) > 1e-9)


def _reads(play: Play, action: Action, cues: tuple[Cue, ...]) -> Iterator[tuple[Cue, ...]]:
    """Going as another starts in place of when they are done; until one's own screen is set."""
    known = {each.id: each for each in way_of(play, action).actions()}
    for n, cue in enumerate(cues):
        other = known.get(cue.action or "")
        if other is not None and can_go(action, other, cue):
            yield _put(cues, n, Cue(Moment.START, other.id))
    for screen in known.values():
        mine = screen.kind is ActionKind.SCREEN and screen.cutter == action.role
        if mine and screen.role != action.role:
            yield (Cue(Moment.SET, screen.id),)


def _put(cues: tuple[Cue, ...], n: int, cue: Cue) -> tuple[Cue, ...]:
    return (*cues[:n], cue, *cues[n + 1 :])
