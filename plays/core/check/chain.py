"""What makes a look late: the chain of waits behind it, and the read or the shorter ways that
would mend it.

Seconds and metres. A change is tried by running the clock on the changed play.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from math import dist
from typing import Final, Literal

from plays.core.check.remedy import Fix, apply_remedy, rounded_up
from plays.core.motion.clock import timeline
from plays.core.motion.timeline import Timeline, Window
from plays.core.play import Action, ActionKind, Cue, Moment, Play, Point, Role
from plays.core.sequence.course import legs
from plays.core.sequence.cues import CueGraph
from shared.core.drawing.curves import between

WORTH = 0.3  # seconds by which a look has to come sooner before a read is named; ours
SHARES = (0.1, 0.2, 0.3, 0.4, 0.5)  # by how much of theirs ways are shortened, tried in turn; ours
LEAST = 0.3  # metres: less is no other start; ours
DONE: Final = (Moment.END, Moment.SET)
ON_THE_WAY: Final = (Moment.PASSES, Moment.HAS_LEFT)
RUNS: Final = (ActionKind.CUT, ActionKind.SCREEN, ActionKind.DRIBBLE)


@dataclass(frozen=True, slots=True)
class Read:
    """Somebody may go as another starts, and the look comes ``gain`` seconds sooner."""

    who: Role
    other: Role
    gain: float


def shorter_wait(line: Timeline, window: Window, seconds: float) -> tuple[Role, Fix] | None:
    """Whose written wait along the chain may be so many seconds shorter, the receiver's first."""
    chain = _chain(line, window.look.action)
    waiting = [each for each in line.play.actions() if each.id in chain]
    for action in sorted(waiting, key=lambda each: each.id != window.look.action):
        if min((cue.wait for cue in action.cues), default=0.0) < seconds:
            continue
        fix = Fix(action=action.id, later=-seconds)
        found = timeline(apply_remedy(line.play, fix), line.pace, line.paces)
        if window.earliest - found.window(window.look.id).earliest >= seconds - 1e-6:
            return action.role, fix
    return None


@dataclass(frozen=True, slots=True)
class Shorter:
    """Somebody's way, which the look waits for, is so many ``metres`` shorter: the first one, from
    a nearer start, to a screen or not, or the last one, to a nearer catch."""

    who: Role
    way: Literal["screen", "first", "catch"]
    metres: float


def shorter_ways(line: Timeline, window: Window, seconds: float) -> tuple[Shorter, ...]:
    """Which ways along the chain have to be shorter, all by the same share of theirs and none by
    more than half, for the look to come so much sooner; none of them where that is not enough."""

    def helps(ways: Sequence[Shorter]) -> bool:
        found = timeline(_shortened(line.play, window, ways), line.pace, line.paces)
        return window.earliest - found.window(window.look.id).earliest >= seconds

    for share in SHARES:
        ways = [way for way in _ways(line, window, share) if way.metres >= LEAST]
        if ways and helps(ways):
            for way in tuple(ways):
                others = [each for each in ways if each != way]
                ways = others if others and helps(others) else ways
            return tuple(ways)
    return ()


def _ways(line: Timeline, window: Window, share: float) -> Iterator[Shorter]:
    """The first ways along the chain, and the receiver's last one."""
    play, done = line.play, {line.play.thrower}
    chain = _chain(line, window.look.action)
    for action in play.actions():
        first, last = action.role not in done, action.id == window.look.action
        done.add(action.role)
        if action.id not in chain or action.kind not in RUNS or not action.path:
            continue
        if first:
            metres = rounded_up(share * dist(play.start_of(action.role), action.path[0]))
            kind = action.kind is ActionKind.SCREEN
            yield Shorter(action.role, "screen" if kind else "first", metres)
        elif last:
            last_piece = legs(play)[action.id].points[-2:]
            yield Shorter(action.role, "catch", rounded_up(share * dist(*last_piece)))


def _shortened(play: Play, window: Window, ways: Sequence[Shorter]) -> Play:
    """The play with these ways shorter: who starts starts nearer, who catches catches sooner."""
    for way in ways:
        if way.way == "catch":
            leg = legs(play)[window.look.action]
            before, end = leg.points[-2:]
            at = _along(end, before, way.metres)
            play = _with(play, replace(leg.action, path=(*leg.action.path[:-1], at)))
            continue
        nearer = _along(play.start_of(way.who), first_of(play, way.who).path[0], way.metres)
        starts = (replace(s, at=nearer) if s.role == way.who else s for s in play.starts)
        play = replace(play, starts=tuple(starts))
    return play


def _along(here: Point, there: Point, metres: float) -> Point:
    return Point(*between(here, there, metres / dist(here, there)))


def first_of(play: Play, role: Role) -> Action:
    """What somebody does first. Raises StopIteration for who does nothing."""
    return next(each for each in play.actions() if each.role == role)


def _chain(line: Timeline, action: str) -> set[str]:
    """The action and all that it waits for, directly or not."""
    waits = CueGraph(line.play).waits
    seen, left = set[str](), [action]
    while left:
        here = left.pop()
        if here not in seen:
            seen.add(here)
            left.extend(link.action for link in waits[here].links if link.action is not None)
    return seen


def quicker_read(line: Timeline, window: Window) -> Read | None:
    """The best of the reads along the chain, where one is worth it."""
    reads = (_tried(line, window, action, cue) for action, cue in _ends(line, window.look.action))
    good = [read for read in reads if read is not None and read.gain >= WORTH]
    return max(good, key=lambda read: read.gain, default=None)


def _ends(line: Timeline, action: str) -> Iterator[tuple[Action, Cue]]:
    """Whoever waits, directly or not, for another role to be done with something."""
    known = {each.id: each for each in line.play.actions()}
    for here in sorted(_chain(line, action)):
        for cue in known[here].cues:
            other = known.get(cue.action or "")
            if other is None or _screens_for(line.play, known[here].role, other.role):
                continue  # who screens for somebody does not leave before they are past
            if can_go(known[here], other, cue, (*DONE, *ON_THE_WAY)):
                yield known[here], cue


def _screens_for(play: Play, screener: Role, cutter: Role) -> bool:
    screens = (each for each in play.actions() if each.kind is ActionKind.SCREEN)
    return any(each.role == screener and each.cutter == cutter for each in screens)


def can_go(action: Action, other: Action, cue: Cue, moments: Collection[Moment] = DONE) -> bool:
    """Whether it could start with the other instead of at one of these moments: not from one's
    own screen, and not on a pass."""
    if other.role == action.role or cue.on not in moments:
        return False
    if other.kind is ActionKind.SCREEN and other.cutter == action.role:
        return False
    return other.kind in RUNS


def _tried(line: Timeline, window: Window, action: Action, cue: Cue) -> Read | None:
    other = next(each for each in line.play.actions() if each.id == cue.action)
    cues = tuple(replace(c, on=Moment.START, point=None) if c == cue else c for c in action.cues)
    play = _with(line.play, replace(action, cues=cues))
    if CueGraph(play).cycles():
        return None
    found = timeline(play, line.pace, line.paces).window(window.look.id)
    return Read(action.role, other.role, window.earliest - found.earliest)


def _with(play: Play, changed: Action) -> Play:
    phases = tuple(
        replace(phase, actions=tuple(changed if a.id == changed.id else a for a in phase.actions))
        for phase in play.phases
    )
    return replace(play, phases=phases)
