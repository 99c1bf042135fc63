"""How the defender of a cutter comes past a screen that they mean to go over or under.

Over: on the cutter's trail, close behind, past the screen as the cutter does; the screen stands in
the way. Under: behind the screener's back, on the basket's side, to meet the cutter beyond; that
screen is in nobody's way. Which of the two leaves which look is common practice: under, the catch
outside; over, the way to the basket. The distances are in ``guarding``, and are ours. Places are
complex numbers, x + iy in metres; times are seconds.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

import numpy as np

from plays.core.defence.guarding import Guarding
from plays.core.defence.screens import Contact, meetings
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, Role

LOOKED: Final = 0.04  # seconds over which the cutter's way is seen


def around_screens(
    line: Timeline,
    guarding: Guarding,
    aims: Places,
    ago: Floats,
    whose: Collection[Role],
    *,
    under: complex | None,
    still_out: bool,
) -> Places:
    """``aims`` (n, 5) with the defenders of these cutters on their way past the screens.

    ``ago`` (n,) are the times that they see; ``under`` is the basket for who goes under.
    """
    aims = aims.copy()
    for contact in meetings(line):
        late = still_out and {contact.screen, contact.action} & line.after_in
        if contact.cutter not in whose or contact.apart >= guarding.wide or late:
            continue
        if under is None:
            place, share = _over(line, contact, guarding, ago)
        else:
            place, share = _under(line, contact, guarding, ago, basket=under)
        k = ROLES.index(contact.cutter)
        aims[:, k] += share * (place - aims[:, k])
    return aims


def _over(
    line: Timeline, contact: Contact, guarding: Guarding, ago: Floats
) -> tuple[Places, Floats]:
    """Where the cutter was a moment ago, and how much of it is wanted at each time."""
    track = line.tracks[contact.cutter]
    men = track.places(ago)
    speed = np.abs(men - track.places(np.maximum(ago - LOOKED, 0.0))) / LOOKED
    trail = track.places(np.maximum(ago - guarding.trail, 0.0))
    return trail, _near(contact, guarding, men) * softly(speed / guarding.trail_speed)


def _under(
    line: Timeline,
    contact: Contact,
    guarding: Guarding,
    ago: Floats,
    *,
    basket: complex,
) -> tuple[Places, Floats]:
    """Behind the screener until the cutter is past, and how much of it is wanted."""
    way = basket - contact.at
    behind = contact.at + guarding.under * way / max(abs(way), 1e-9)
    before = softly((contact.moment - ago) / guarding.passed)
    men = line.tracks[contact.cutter].places(ago)
    return np.full(len(ago), behind), before * _near(contact, guarding, men)


def _near(contact: Contact, guarding: Guarding, men: Places) -> Floats:
    away = np.abs(men - contact.at)
    return softly((guarding.minds - away) / guarding.minds_over)


def softly(share: Floats) -> Floats:
    """Held between 0 and 1, without a corner at either."""
    held = np.clip(share, 0.0, 1.0)
    return np.asarray(held * held * (3.0 - 2.0 * held))
