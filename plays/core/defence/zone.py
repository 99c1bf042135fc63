"""Where the five of a 2-3 zone stand: by the ball alone, whoever is on the floor.

Two in front and three behind; who is nearest steps to the ball, the others shift after it. The
places follow what coaches teach (common practice, no source) and the landmarks of the court; how
they go over into one another between the places of the ball is ours. Complex numbers, x + iy in
metres; the order is front left, front right, back left, middle, back right.
"""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.court.courts import court
from plays.core.court.spots import named_spots
from plays.core.motion.path import Places
from plays.core.play import RuleSet

# For the ball at a place (left out: the mirror image on the left): where each of the five stands,
# as two named places and the share of the way from the first to the second.
Stand = tuple[str, str, float]
SHIFTS: Final[dict[str, tuple[Stand, Stand, Stand, Stand, Stand]]] = {
    "top": (
        ("left_elbow", "left_slot", 0.4),
        ("right_elbow", "right_slot", 0.4),
        ("left_block", "left_wing", 0.4),
        ("basket", "lane_middle", 0.8),
        ("right_block", "right_wing", 0.4),
    ),
    "right_wing": (
        ("nail", "right_elbow", 0.1),
        ("right_wing", "nail", 0.2),
        ("left_block", "lane_middle", 0.5),
        ("right_block", "lane_middle", 0.4),
        ("right_block", "right_corner", 0.5),
    ),
    "right_corner": (
        ("lane_middle", "nail", 0.5),
        ("right_elbow", "right_wing", 0.4),
        ("left_block", "basket", 0.5),
        ("right_block", "right_dunker", 0.3),
        ("right_corner", "basket", 0.17),
    ),
    "right_baseline_lane": (
        ("left_mid_post", "left_elbow", 0.3),
        ("right_mid_post", "right_elbow", 0.3),
        ("left_block", "basket", 0.2),
        ("basket", "lane_middle", 0.4),
        ("right_block", "right_dunker", 0.4),
    ),
    "nail": (
        ("left_elbow", "nail", 0.3),
        ("right_elbow", "nail", 0.3),
        ("left_block", "left_mid_post", 0.3),
        ("lane_middle", "nail", 0.4),
        ("right_block", "right_mid_post", 0.3),
    ),
}
OUTSIDE: Final = {"right_baseline_lane": 3.36}  # metres from the middle; no named place inside
NEAR: Final = 1.0  # square metres: nearer than this the ball is at a place
STEEP: Final = 1.5  # how quickly the nearest place takes over


def zone(balls: Places, rule_set: RuleSet) -> Places:
    """(n, 5): where the zone wants to be with the ball at these places (n,)."""
    anchors, stands = _table(rule_set)
    apart = np.abs(balls[:, None] - anchors) ** 2
    weights = (apart + NEAR) ** -STEEP
    weights /= weights.sum(axis=1, keepdims=True)
    return np.asarray(weights @ stands)


def nearest(aims: Places, people: Places) -> NDArray[np.intp]:
    """(n, 5): which attacker each of the five is nearest to, and so minds."""
    return np.asarray(np.abs(aims[:, :, None] - people[:, None, :]).argmin(axis=2))


@cache
def _table(rule_set: RuleSet) -> tuple[Places, Places]:
    """The places of the ball (m,) and the five's for each (m, 5), mirrored ones too."""
    spots = {key: complex(*at) for key, at in named_spots(court(rule_set)).items()}
    spots |= {key: complex(x, 0.0) for key, x in OUTSIDE.items()}
    anchors, stands = [], []
    for key, five in SHIFTS.items():
        here = [spots[a] + share * (spots[b] - spots[a]) for a, b, share in five]
        anchors.append(spots[key])
        stands.append(here)
        if spots[key].real > 0.0:
            anchors.append(-spots[key].conjugate())
            left, right, back_left, middle, back_right = (-each.conjugate() for each in here)
            stands.append([right, left, back_right, middle, back_left])
    return np.array(anchors), np.array(stands)
