"""A trap at a screen on the ball, or at a hand-off: the defender of the screener, or of who gave
the ball, goes to the ball too and stays while it is there. Their own man is nobody's meanwhile.

Common practice, no source; where and from when on is ours. Places are complex numbers, x + iy in
metres; times are seconds.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from plays.core.defence.around import softly
from plays.core.defence.guarding import Guarding
from plays.core.defence.screens import meetings
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, Role

AT_THE_BALL = (1.0, 3.0)  # metres from man to ball: nearer has it, further has it no more; ours


def doubled(
    line: Timeline,
    guarding: Guarding,
    aims: Places,
    seen: tuple[Floats, Places, Places],
    *,
    whose: Collection[Role],
    basket: complex,
    still_out: bool,
) -> Places:
    """``aims`` (n, 5) with the screeners' defenders in front of who has the ball off them.

    ``seen`` are the times that they see, the people (n, 5) and the ball (n,) then.
    """
    aims = aims.copy()
    ago, people, balls = seen
    for contact in meetings(line):
        late = still_out and {contact.screen, contact.action} & line.after_in
        near = contact.apart < guarding.wide
        if not contact.on_ball or contact.screener not in whose or late or not near:
            continue
        man = people[:, ROLES.index(contact.cutter)]
        way = basket - man
        place = man + guarding.in_lane * way / np.maximum(np.abs(way), 1e-9)
        first, last = AT_THE_BALL
        has_it = softly((last - np.abs(balls - man)) / (last - first))
        called = softly((ago - contact.moment + guarding.call) / max(guarding.call, 1e-9))
        k = ROLES.index(contact.screener)
        aims[:, k] += has_it * called * (place - aims[:, k])
    return aims
