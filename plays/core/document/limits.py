"""How much a play may hold: our own limits, so that no file can choke the computing.

The checks of form and the JSON Schema read the same table.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, NamedTuple

MAX_BYTES: Final = 256 * 1024
MAX_DEPTH: Final = 10
MAX_ITEMS: Final = 100  # in any one list
MAX_ACTIONS: Final = 250  # in the play and its counters together
MAX_TEXT: Final = 2000  # characters in any one text
MAX_NAME: Final = 60  # characters in an id, a key, a name or a title
KEY_PATTERN: Final = r"[a-z0-9_-]+"
MAX_NUMBER: Final = 1_000_000.0
DIGITS: Final = 3  # the millimetre, and the thousandth of a second


class Range(NamedTuple):
    """From and to, both inclusive."""

    low: float
    high: float


RANGES: Final[Mapping[tuple[str, str], Range]] = {
    ("Cue", "wait"): Range(0, 30),
    ("Cue", "point"): Range(0, MAX_ITEMS - 1),
    ("Look", "guess"): Range(0, 1),
    ("Need", "level"): Range(1, 5),
    ("Need", "weight"): Range(1, 3),
    ("Spacing", "low"): Range(0.5, 28),
    ("Spacing", "high"): Range(0.5, 28),
    ("Spot", "along"): Range(0, 30),
    ("Conditions", "seconds_left_from"): Range(0, 3600),
    ("Conditions", "seconds_left_to"): Range(0, 3600),
    ("Conditions", "margin_from"): Range(-200, 200),
    ("Conditions", "margin_to"): Range(-200, 200),
}
# Texts that must say something, all of them short.
NAMES: Final[frozenset[tuple[str, str]]] = frozenset(
    {
        ("Play", "key"),
        ("Play", "name"),
        ("Phase", "id"),
        ("Phase", "title"),
        ("Action", "id"),
        ("Look", "id"),
        ("Counter", "id"),
        ("Joint", "name"),
    }
)
# A counter must say something too, at any length.
LOUD: Final[frozenset[tuple[str, str]]] = NAMES | {("Counter", "says")}
LENGTHS: Final[Mapping[tuple[str, str], int]] = {
    **dict.fromkeys(NAMES, MAX_NAME),
    ("Play", "series"): 40,
    ("Play", "call"): 60,
}
