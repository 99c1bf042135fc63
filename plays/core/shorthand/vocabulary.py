"""The words of the shorthand: one for each kind of action, cut, screen, pass and heading.

The shorthand is text that a coach can type or paste: one line an action, places by their
names. Verbs and styles are those of the trade; how a line is put together is ours.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

from plays.core.play import ActionKind, Cut, JointShape, Moment, PassKind, ScreenStyle


class Verb(NamedTuple):
    """What a verb says: the kind of action, and its style where the verb tells it."""

    kind: ActionKind
    cut: Cut | None = None
    screen: ScreenStyle | None = None
    pass_kind: PassKind | None = None


VERBS: Final[Mapping[str, Verb]] = MappingProxyType(
    {
        "cuts straight": Verb(ActionKind.CUT, cut=Cut.STRAIGHT),
        "cuts": Verb(ActionKind.CUT),
        "curls": Verb(ActionKind.CUT, cut=Cut.CURL),
        "fades": Verb(ActionKind.CUT, cut=Cut.FADE),
        "pops": Verb(ActionKind.CUT, cut=Cut.POP),
        "rolls": Verb(ActionKind.CUT, cut=Cut.ROLL),
        "slips": Verb(ActionKind.CUT, cut=Cut.SLIP),
        "seals": Verb(ActionKind.CUT, cut=Cut.SEAL),
        "posts up": Verb(ActionKind.CUT, cut=Cut.POST_UP),
        "clears out": Verb(ActionKind.CUT, cut=Cut.CLEAR_OUT),
        "sets a screen": Verb(ActionKind.SCREEN),
        "screens": Verb(ActionKind.SCREEN, screen=ScreenStyle.OTHER),
        "down screens": Verb(ActionKind.SCREEN, screen=ScreenStyle.DOWN),
        "back screens": Verb(ActionKind.SCREEN, screen=ScreenStyle.BACK),
        "cross screens": Verb(ActionKind.SCREEN, screen=ScreenStyle.CROSS),
        "flare screens": Verb(ActionKind.SCREEN, screen=ScreenStyle.FLARE),
        "ball screens": Verb(ActionKind.SCREEN, screen=ScreenStyle.BALL),
        "throws": Verb(ActionKind.PASS),
        "passes": Verb(ActionKind.PASS, pass_kind=PassKind.DIRECT),
        "bounce passes": Verb(ActionKind.PASS, pass_kind=PassKind.BOUNCE),
        "lobs": Verb(ActionKind.PASS, pass_kind=PassKind.LOB),
        "overhead passes": Verb(ActionKind.PASS, pass_kind=PassKind.OVERHEAD),
        "hands off": Verb(ActionKind.HANDOFF),
        "dribbles": Verb(ActionKind.DRIBBLE),
        "shoots": Verb(ActionKind.SHOT),
        "holds": Verb(ActionKind.HOLD),
    }
)
# What is also said for some of them (common practice, no source); never written.
ALSO_SAID: Final[Mapping[str, str]] = MappingProxyType(
    {
        **dict.fromkeys(("runs", "sprints", "flashes", "dives", "moves"), "cuts"),
        "picks": "screens",
        "dribbles over": "dribbles",
        "throws it": "throws",
        "stays": "holds",
    }
)
ANY_VERB: Final = "|".join(sorted((*VERBS, *ALSO_SAID), key=len, reverse=True))
"""Any of them, in a pattern: the longer first, since one may begin another."""
READS_AS_ACTION: Final = re.compile(rf"[1-5] (?:{ANY_VERB})\b")
"""The beginning of a line that tells an action, whatever sign a list puts before it."""
SAID: Final[Mapping[Verb, str]] = MappingProxyType({verb: said for said, verb in VERBS.items()})

NOUNS: Final[Mapping[ActionKind, str]] = MappingProxyType(
    {
        ActionKind.CUT: "cut",
        ActionKind.SCREEN: "screen",
        ActionKind.PASS: "pass",
        ActionKind.DRIBBLE: "dribble",
        ActionKind.HANDOFF: "hand-off",
        ActionKind.SHOT: "shot",
        ActionKind.HOLD: "hold",
    }
)
KINDS: Final[Mapping[str, ActionKind]] = MappingProxyType({n: kind for kind, n in NOUNS.items()})
# What a cut is also called after "4's" (common practice, no source); never written.
RUNS_SAID: Final = (
    *("run", "curl", "fade", "pop", "roll", "slip", "seal", "post-up", "clear-out"),
    *("dive", "flash", "sprint"),
)

# What an action can wait for that another action does, as the reader may write it; the first
# of each is how the shorthand itself writes it.
EVENTS: Final[Mapping[Moment, tuple[str, ...]]] = MappingProxyType(
    {
        Moment.HAS_LEFT: ("has left",),
        Moment.START: ("starts", "leaves", "goes"),
        Moment.SET: ("is set",),
        Moment.END: ("ends", "is caught", "is done", "arrives"),
    }
)
SIGNAL: Final = "the signal"
BALL_IN: Final = "the ball is in"
STAYING: Final = "from their own starts"
OTHER_SIDE: Final = "from the other side"

SHAPES: Final[Mapping[str, JointShape]] = MappingProxyType({s.value: s for s in JointShape})

# "first" to "tenth"; a role that does one thing more often than that is told by number.
ORDINALS: Final = (
    *("first", "second", "third", "fourth", "fifth"),
    *("sixth", "seventh", "eighth", "ninth", "tenth"),
)


def ordinal(number: int) -> str:
    """The word for a number from 1 on: "second", "14th"."""
    return ORDINALS[number - 1] if number <= len(ORDINALS) else f"{number}th"


def ordinal_number(word: str) -> int | None:
    """The inverse of ``ordinal``; None for another word."""
    if word in ORDINALS:
        return ORDINALS.index(word) + 1
    digits = word.removesuffix("th")
    known = word.endswith("th") and digits.isascii() and digits.isdigit() and len(digits) < 4
    return int(digits) if known else None
