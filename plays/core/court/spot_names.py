"""What the trade calls the places on a court.

Each place on a side has four complete noun phrases, so that a catalogue of another language
never has to build one: left and right as the reader sees them, near and far as the ball does.
The terms elbow, block, wing, free-throw line extended, low and high post are those of the
coaching press; slot, nail, short corner, dunker spot and hash are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from shared.core.language import N_, NN_, Meetings

Word = Literal["left", "right", "near", "far"]


@dataclass(frozen=True, slots=True)
class SideNames:
    """The noun phrases of a place that exists on both sides."""

    left: str
    right: str
    near: str
    far: str

    def named(self, word: Word) -> str:
        """The phrase for one of the four words."""
        return {"left": self.left, "right": self.right, "near": self.near, "far": self.far}[word]

    def all_four(self) -> tuple[str, str, str, str]:
        return self.left, self.right, self.near, self.far


SIDE_NAMES: Final[Mapping[str, SideNames]] = MappingProxyType(
    {
        "block": SideNames(
            N_("the left block"), N_("the right block"), N_("the near block"), N_("the far block")
        ),
        "mid_post": SideNames(
            N_("the left mid-post"),
            N_("the right mid-post"),
            N_("the near mid-post"),
            N_("the far mid-post"),
        ),
        "elbow": SideNames(
            N_("the left elbow"), N_("the right elbow"), N_("the near elbow"), N_("the far elbow")
        ),
        "dunker": SideNames(
            N_("the left dunker spot"),
            N_("the right dunker spot"),
            N_("the near dunker spot"),
            N_("the far dunker spot"),
        ),
        "short_corner": SideNames(
            N_("the left short corner"),
            N_("the right short corner"),
            N_("the near short corner"),
            N_("the far short corner"),
        ),
        "corner": SideNames(
            N_("the left corner"),
            N_("the right corner"),
            N_("the near corner"),
            N_("the far corner"),
        ),
        "wing": SideNames(
            N_("the left wing"), N_("the right wing"), N_("the near wing"), N_("the far wing")
        ),
        "slot": SideNames(
            N_("the left slot"), N_("the right slot"), N_("the near slot"), N_("the far slot")
        ),
        "hash": SideNames(
            N_("the left hash"), N_("the right hash"), N_("the near hash"), N_("the far hash")
        ),
        "half": SideNames(
            N_("the left end of the centre line"),
            N_("the right end of the centre line"),
            N_("the near end of the centre line"),
            N_("the far end of the centre line"),
        ),
        "back_hash": SideNames(
            N_("our own left hash"),
            N_("our own right hash"),
            N_("our own near hash"),
            N_("our own far hash"),
        ),
        "back_wing": SideNames(
            N_("our own left wing"),
            N_("our own right wing"),
            N_("our own near wing"),
            N_("our own far wing"),
        ),
        "back_elbow": SideNames(
            N_("our own left elbow"),
            N_("our own right elbow"),
            N_("our own near elbow"),
            N_("our own far elbow"),
        ),
        "back_block": SideNames(
            N_("our own left block"),
            N_("our own right block"),
            N_("our own near block"),
            N_("our own far block"),
        ),
        "back_corner": SideNames(
            N_("our own left corner"),
            N_("our own right corner"),
            N_("our own near corner"),
            N_("our own far corner"),
        ),
    }
)

MIDDLE_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "basket": N_("the basket"),
        "lane_middle": N_("the middle of the lane"),
        "nail": N_("the nail"),
        "top": N_("the top"),
        "centre": N_("the centre circle"),
        "back_top": N_("our own top"),
        "back_nail": N_("our own nail"),
        "back_basket": N_("our own basket"),
    }
)

# Out of bounds: where a thrower stands.
OUT_SIDE_NAMES: Final[Mapping[str, SideNames]] = MappingProxyType(
    {
        "sideline_corner": SideNames(
            N_("the left sideline, by the corner"),
            N_("the right sideline, by the corner"),
            N_("the near sideline, by the corner"),
            N_("the far sideline, by the corner"),
        ),
        "sideline_free_throw": SideNames(
            N_("the left sideline, level with the free-throw line"),
            N_("the right sideline, level with the free-throw line"),
            N_("the near sideline, level with the free-throw line"),
            N_("the far sideline, level with the free-throw line"),
        ),
        "sideline_hash": SideNames(
            N_("the left sideline, at the throw-in mark"),
            N_("the right sideline, at the throw-in mark"),
            N_("the near sideline, at the throw-in mark"),
            N_("the far sideline, at the throw-in mark"),
        ),
        "sideline_half": SideNames(
            N_("the left sideline, at the centre line"),
            N_("the right sideline, at the centre line"),
            N_("the near sideline, at the centre line"),
            N_("the far sideline, at the centre line"),
        ),
        "sideline_back": SideNames(
            N_("the left sideline, at our own throw-in mark"),
            N_("the right sideline, at our own throw-in mark"),
            N_("the near sideline, at our own throw-in mark"),
            N_("the far sideline, at our own throw-in mark"),
        ),
        "baseline_lane": SideNames(
            N_("the baseline, left of the lane"),
            N_("the baseline, right of the lane"),
            N_("the baseline, on the near side of the lane"),
            N_("the baseline, on the far side of the lane"),
        ),
        "baseline_corner": SideNames(
            N_("the baseline, by the left corner"),
            N_("the baseline, by the right corner"),
            N_("the baseline, by the near corner"),
            N_("the baseline, by the far corner"),
        ),
        "back_baseline_lane": SideNames(
            N_("our own baseline, left of the lane"),
            N_("our own baseline, right of the lane"),
            N_("our own baseline, on the near side of the lane"),
            N_("our own baseline, on the far side of the lane"),
        ),
        "back_baseline_corner": SideNames(
            N_("our own baseline, by the left corner"),
            N_("our own baseline, by the right corner"),
            N_("our own baseline, by the near corner"),
            N_("our own baseline, by the far corner"),
        ),
    }
)

OUT_MIDDLE_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "baseline_middle": N_("the baseline, behind the basket"),
        "back_baseline_middle": N_("our own baseline, behind the basket"),
    }
)

# A few steps off a named place: one step, more steps.
STEPS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "above": NN_("a step above {spot}", "{n} steps above {spot}"),
        "below": NN_("a step below {spot}", "{n} steps below {spot}"),
        "outside": NN_("a step outside {spot}", "{n} steps outside {spot}"),
        "inside": NN_("a step inside {spot}", "{n} steps inside {spot}"),
        "left": NN_("a step to the left of {spot}", "{n} steps to the left of {spot}"),
        "right": NN_("a step to the right of {spot}", "{n} steps to the right of {spot}"),
        "near": NN_("a step to the ball side of {spot}", "{n} steps to the ball side of {spot}"),
        "far": NN_("a step to the far side of {spot}", "{n} steps to the far side of {spot}"),
        "toward_half": NN_("a step ahead of {spot}", "{n} steps ahead of {spot}"),
        "from_half": NN_("a step behind {spot}", "{n} steps behind {spot}"),
    }
)
# The same ways, said after the first: "a step above the nail and 2 steps to the left".
ALSO: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "above": NN_("{spot} and a step above", "{spot} and {n} steps above"),
        "below": NN_("{spot} and a step below", "{spot} and {n} steps below"),
        "outside": NN_("{spot} and a step outside", "{spot} and {n} steps outside"),
        "inside": NN_("{spot} and a step inside", "{spot} and {n} steps inside"),
        "left": NN_("{spot} and a step to the left", "{spot} and {n} steps to the left"),
        "right": NN_("{spot} and a step to the right", "{spot} and {n} steps to the right"),
        "near": NN_("{spot} and a step to the ball side", "{spot} and {n} steps to the ball side"),
        "far": NN_("{spot} and a step to the far side", "{spot} and {n} steps to the far side"),
        "toward_half": NN_("{spot} and a step ahead", "{spot} and {n} steps ahead"),
        "from_half": NN_("{spot} and a step behind", "{spot} and {n} steps behind"),
    }
)
# Along a line out of bounds, and behind it.
OUT_STEPS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "half": NN_("{spot}, a step toward half court", "{spot}, {n} steps toward half court"),
        "baseline": NN_(
            "{spot}, a step toward the baseline", "{spot}, {n} steps toward the baseline"
        ),
        "own_baseline": NN_(
            "{spot}, a step toward our own baseline", "{spot}, {n} steps toward our own baseline"
        ),
        "backcourt": NN_(
            "{spot}, a step into the backcourt", "{spot}, {n} steps into the backcourt"
        ),
        "corner": NN_("{spot}, a step toward the corner", "{spot}, {n} steps toward the corner"),
        "middle": NN_("{spot}, a step toward the middle", "{spot}, {n} steps toward the middle"),
        "left": NN_("{spot}, a step to the left", "{spot}, {n} steps to the left"),
        "right": NN_("{spot}, a step to the right", "{spot}, {n} steps to the right"),
        "near": NN_("{spot}, a step to the ball side", "{spot}, {n} steps to the ball side"),
        "far": NN_("{spot}, a step to the far side", "{spot}, {n} steps to the far side"),
        "behind": NN_("{spot}, a step behind the line", "{spot}, {n} steps behind the line"),
    }
)
BETWEEN: Final = N_("halfway between {one} and {other}")

# A place told in steps needs no "at" before it, and like one halfway a comma after who it is about.
# In Spanish one does not walk toward steps or halves, and stands under the rim, not in it.
BEFORE_STEPS: Final[Mapping[str, Meetings]] = MappingProxyType(
    {
        "en": ((re.compile(r"(?<=[)\d]) at $"), ", "), (re.compile(r"\bat $"), "")),
        "es": (
            (re.compile(r"(?<=[)\d]) en $"), ", "),
            (re.compile(r"\ben $"), ""),
            (re.compile(r"\bhacia $"), "hacia un punto a "),
        ),
    }
)
BEFORE_HALFWAY: Final[Mapping[str, Meetings]] = MappingProxyType(
    {
        "en": BEFORE_STEPS["en"],
        "es": (
            (re.compile(r"(?<=[)\d]) en $"), ", "),
            (re.compile(r"\ben $"), ""),
            (re.compile(r"\b(a|de|desde|hacia|hasta|por) $"), r"\1 un punto "),
        ),
    }
)
BEFORE_BASKET: Final[Mapping[str, Meetings]] = MappingProxyType(
    {
        "es": (
            (re.compile(r"\ben $"), "bajo "),
            (re.compile(r"\bdesde $"), "desde debajo de "),
        ),
    }
)
# "Above the basket" would be in the air.
ON_THE_FLOOR: Final[Mapping[str, Meetings]] = MappingProxyType(
    {
        "en": (
            (re.compile(r"\babove the basket\b"), "in front of the basket"),
            (re.compile(r"\bbelow the basket\b"), "behind the basket"),
        ),
        "es": (
            (re.compile(r"\bpor encima del aro\b"), "por delante del aro"),
            (re.compile(r"\bpor debajo del aro\b"), "por detrás del aro"),
        ),
    }
)
