"""What makes a look late: the chain of waits behind it, and the read that would shorten it.

Seconds. A change is tried by running the clock on the changed play.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from plays.core.motion.clock import timeline
from plays.core.motion.timeline import Timeline, Window
from plays.core.play import Action, ActionKind, Cue, Moment, Play, Role
from plays.core.sequence.cues import CueGraph

WORTH = 0.3  # seconds by which a look has to come sooner before a read is named; ours


@dataclass(frozen=True, slots=True)
class Read:
    """Somebody may go as another starts, and the look comes ``gain`` seconds sooner."""

    who: Role
    other: Role
    gain: float


def quicker_read(line: Timeline, window: Window) -> Read | None:
    """The best of the reads along the chain, where one is worth it."""
    reads = (_tried(line, window, action, cue) for action, cue in _ends(line, window.look.action))
    good = [read for read in reads if read is not None and read.gain >= WORTH]
    return max(good, key=lambda read: read.gain, default=None)


def _ends(line: Timeline, action: str) -> Iterator[tuple[Action, Cue]]:
    """Whoever waits, directly or not, for another role to be done with something."""
    known = {each.id: each for each in line.play.actions()}
    chain = CueGraph(line.play).waits
    seen, left = set[str](), [action]
    while left:
        here = left.pop()
        if here in seen:
            continue
        seen.add(here)
        left.extend(link.action for link in chain[here].links if link.action is not None)
        for cue in known[here].cues:
            other = known.get(cue.action or "")
            if other is not None and can_go(known[here], other, cue):
                yield known[here], cue


def can_go(action: Action, other: Action, cue: Cue) -> bool:
    """Whether it could start with the other: not from one's own screen, and not on a pass."""
    if other.role == action.role or cue.on not in (Moment.END, Moment.SET):
        return False
    if other.kind is ActionKind.SCREEN and other.cutter == action.role:
        return False
    return other.kind in (ActionKind.CUT, ActionKind.SCREEN, ActionKind.DRIBBLE)


def _tried(line: Timeline, window: Window, action: Action, cue: Cue) -> Read | None:
    other = next(each for each in line.play.actions() if each.id == cue.action)
    cues = tuple(replace(c, on=Moment.START) if c == cue else c for c in action.cues)
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
