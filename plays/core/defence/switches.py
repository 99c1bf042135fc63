"""Whom each defender guards when they switch: men are swapped at screens, at hand-offs and where
cutters cross. Who guards the thrower switches with nobody until the ball is in.

Seconds and metres; places are complex numbers.
"""

from __future__ import annotations

from collections.abc import Collection
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from plays.core.defence.guarding import Guarding
from plays.core.defence.screens import meetings
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, Role

CROSSING = 1.0  # metres within which two cutters cross; ours
CROSS_SPEED = 1.5  # metres per second that both must run; ours
LOOKED = 0.02  # seconds between the moments at which two cutters are compared

Swap = tuple[float, int, int]  # when, and the two roles by index


def guards_of(
    line: Timeline,
    times: Floats,
    guarding: Guarding,
    whose: Collection[Role] = ROLES,
    *,
    still_out: bool,
) -> NDArray[np.intp]:
    """(n, 5): whom each defender guards at these times, where only those of ``whose`` switch.

    A switch is between the two defenders who begin with these men, whomever they have by then.
    """
    guards = np.tile(np.arange(5), (len(times), 1))
    until = float(times[-1])
    swaps = [
        *_at_screens(line, guarding, still_out=still_out),
        *_at_crosses(line, until, still_out=still_out),
    ]
    both = {ROLES.index(role) for role in whose}
    for moment, one, other in sorted(swaps):
        if not {one, other} <= both:
            continue
        first = int(np.searchsorted(times, moment - guarding.call))
        row = guards[min(first, len(times) - 1)].copy()
        a, b = int(np.flatnonzero(row == one)[0]), int(np.flatnonzero(row == other)[0])
        guards[first:, a], guards[first:, b] = other, one
    return guards


def _at_screens(line: Timeline, guarding: Guarding, *, still_out: bool) -> list[Swap]:
    found = []
    over = np.inf if still_out or line.ball_in is None else line.ball_in
    for contact in meetings(line):
        late = still_out and contact.screen in line.after_in
        involved = (contact.screener, contact.cutter)
        out = line.play.thrower in involved and contact.moment < over
        if late or out or contact.since is None:
            continue
        if contact.since <= contact.moment and contact.apart < guarding.wide:
            found.append(
                (contact.moment, ROLES.index(contact.cutter), ROLES.index(contact.screener))
            )
    return found


def _at_crosses(line: Timeline, until: float, *, still_out: bool) -> list[Swap]:
    """Where two cutters run past each other without a screen."""
    times = np.arange(0.0, until + LOOKED, LOOKED)
    men = line.places(times, still_out=still_out)
    speeds = np.abs(np.diff(men, axis=0, prepend=men[:1])) / LOOKED
    found = []
    for a, b in combinations(range(5), 2):
        if line.play.thrower in (ROLES[a], ROLES[b]):
            continue
        apart = np.abs(men[:, a] - men[:, b])
        running = np.minimum(speeds[:, a], speeds[:, b]) > CROSS_SPEED
        close = np.where(running, apart, np.inf)
        nearest = int(np.argmin(close))
        if close[nearest] < CROSSING:
            found.append((float(times[nearest]), a, b))
    return found
