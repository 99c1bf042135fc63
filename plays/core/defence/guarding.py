"""How five defenders stand, reach and are held up: every constant of the defence in one value.

Metres, seconds, and shares. The weights of man, ball and basket are measured; what else stands
here is ours, and says so in ``ABOUT``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from types import MappingProxyType
from typing import Final

from plays.core.motion.meaning import TRACKED, Footing, Meaning
from shared.core.language import N_


@dataclass(frozen=True, slots=True)
class Guarding:
    """The constants of the defence. See ``ABOUT``."""

    to_ball: float = 0.125
    to_basket: float = 0.306
    on_ball: float = 0.225
    jump_to_ball: float = 0.25
    sag_to_basket: float = 0.45
    beside: float = 0.9
    tight: float = 1.0
    in_lane: float = 0.8
    in_front: float = 0.7
    at_back: float = 1.0
    post: float = 3.5
    help: float = 3.0
    at_rim: float = 1.2
    pressure: float = 1.3
    call: float = 0.35
    brush: float = 0.8
    wide: float = 1.5
    screen_body: float = 0.5
    screen_arm: float = 1.0
    trail: float = 0.15
    trail_speed: float = 2.0
    under: float = 1.2
    minds: float = 2.5
    minds_over: float = 1.0
    passed: float = 0.5
    body: float = 0.35
    hands: float = 0.5
    behind: float = 0.5
    around: float = 3.0
    over: float = 1.5
    low_ball: float = 0.8

    def to_json(self) -> dict[str, float]:
        return asdict(self)


STANDARD: Final = Guarding()

_FITTED: Final = N_(
    "Least squares on 20,210 half-court frames with the ball held, in the form of Franks et al."
    " (2015, Ann Appl Stat 9:94); a live ball, so throw-ins may be guarded closer."
)


def _ours(says: str, unit: str = "m") -> Meaning:
    return Meaning(says, unit, Footing.OURS, ())


ABOUT: Final[Mapping[str, Meaning]] = MappingProxyType(
    {
        "to_ball": Meaning(
            N_("Share of the way from the man to the ball at which a defender stands"),
            "",
            Footing.MEASURED,
            (_FITTED, TRACKED),
        ),
        "to_basket": Meaning(
            N_("Share of the way from the man to the basket"),
            "",
            Footing.MEASURED,
            (_FITTED, TRACKED),
        ),
        "on_ball": Meaning(
            N_("Share of the way to the basket, for the man with the ball"),
            "",
            Footing.MEASURED,
            (_FITTED, TRACKED),
        ),
        "jump_to_ball": _ours(N_("Share of the way to the ball, when they jump to it"), ""),
        "sag_to_basket": _ours(N_("Share of the way to the basket, when they sag"), ""),
        "beside": Meaning(
            N_("So much nearer to the basket than the man a defender stands at least"),
            "m",
            Footing.DERIVED,
            (
                N_(
                    "Median distance of receiver and nearest defender at 207 catches within 2.5 m"
                    " of the basket; weights alone would put the defender where the man is."
                ),
                TRACKED,
            ),
        ),
        "tight": _ours(N_("Man and defender apart, when they guard tightly")),
        "in_lane": _ours(N_("In front of the man towards the ball, when they deny")),
        "in_front": _ours(N_("In front of a post player, when they front")),
        "at_back": _ours(N_("Behind a post player, an arm's length")),
        "post": _ours(N_("So near the basket somebody is fronted")),
        "help": _ours(N_("The helper stands so far from the basket")),
        "at_rim": _ours(N_("The helper's distance when they sag or front")),
        "pressure": _ours(N_("In front of the thrower, when they deny")),
        "call": _ours(N_("A switch is called so long before the crossing"), "s"),
        "brush": _ours(N_("A cutter so near the screener loses the defender")),
        "wide": _ours(N_("A gap so wide between cutter and screen lets the defender through")),
        "screen_body": _ours(N_("A way past a screener so narrow is blocked")),
        "screen_arm": _ours(N_("A way past a screener so wide is free")),
        "trail": _ours(N_("So long behind the cutter, who goes over a screen"), "s"),
        "trail_speed": _ours(N_("A cutter so fast leaves a trail to follow"), "m/s"),
        "under": _ours(N_("So far behind the screener's back, who goes under a screen")),
        "minds": _ours(N_("So near a screen its cutter's defender minds it")),
        "minds_over": _ours(N_("Minding a screen begins over so many metres")),
        "passed": _ours(N_("Minding a screen ends over so many seconds"), "s"),
        "body": _ours(N_("A ball passing so near hits the defender")),
        "hands": _ours(N_("The catch lies so far in front of the receiver")),
        "behind": _ours(N_("Share of the side reach behind the receiver's back"), ""),
        "around": Meaning(
            N_("Within this a passer finds a way around their own defender"),
            "m",
            Footing.OURS,
            (
                N_(
                    "Nine in ten defenders of the man with the ball stand within 2.98 m (n ="
                    " 20,210); that a pass finds its way around each of them is ours."
                ),
                TRACKED,
            ),
        ),
        "over": _ours(N_("A lob goes over a defender so near in front of the receiver")),
        "low_ball": _ours(N_("Share of the side reach for a bounce pass"), ""),
    }
)
