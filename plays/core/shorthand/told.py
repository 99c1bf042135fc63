"""What a reading of a text gives: the play, and what is wrong at which line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from plays.core.play import Play
from plays.core.shorthand.sheet import LineFault
from shared.core.language import Slot


@dataclass(frozen=True, slots=True)
class Told:
    """Something wrong at a line of the text, in a sentence; line 0 is the text as a whole.

    A line that is ``unread`` is not in the play; the others are, and are faults of form, or
    ``missing``: what a text that goes on may still say.
    """

    line: int
    sentence: str
    unread: bool = False
    missing: bool = False


@dataclass(frozen=True, slots=True)
class ReadText:
    """What a text says: the play as far as it could be read, and what is wrong with it."""

    play: Play
    faults: tuple[Told, ...]


def filling(fault: LineFault, say: Callable[[str], str]) -> dict[str, Slot]:
    """What fills the sentence of a fault, in the words of the text."""
    return {name: say(x) if isinstance(x, str) else x for name, x in fault.slots.items()}
