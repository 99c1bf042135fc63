"""The words for left and right in a coach's own text, and their exchange.

Whole words only, case kept, so that the exchange undoes itself: "go LEFT off the Right elbow"
becomes "go RIGHT off the Left elbow". Near and far follow the ball and stay as they are. A
few turns of phrase in which the word is no side ("right away", "three seconds left") are left
alone, whichever of the two words stands in them.
"""

from __future__ import annotations

import re
from typing import Final

_PAIRS: Final = (
    ("left", "right"),
    ("leftmost", "rightmost"),
    ("leftward", "rightward"),
    ("leftwards", "rightwards"),
    ("lefty", "righty"),
    ("izquierda", "derecha"),
    ("izquierdas", "derechas"),
    ("izquierdo", "derecho"),
    ("izquierdos", "derechos"),
)
_OTHER: Final = {word: other for a, b in _PAIRS for word, other in ((a, b), (b, a))}
_WORD: Final = "|".join(sorted(_OTHER, key=len, reverse=True))
_NO_SIDE: Final = re.compile(
    r"""\b(?:
        (?:left|right)\ (?:away|moment|time|order|timing|spacing|alone|free|unguarded)
      | all\ (?:left|right)
      | (?:follow(?:s|ing)?|trail(?:s|ing)?|comes?|is|are)\ (?:left|right)\ (?:after|behind)
      | (?:seconds?|secs?|minutes?|time|fouls?|time-?outs?)\ (?:is\ |are\ )?(?:left|right)
    )\b""",
    re.IGNORECASE | re.VERBOSE,
)
_SWAP: Final = re.compile(
    rf"(?P<kept>{_NO_SIDE.pattern})|\b(?P<side>{_WORD})\b", re.IGNORECASE | re.VERBOSE
)
# Words that name a place of the court by its lines or sides: a turn may make them untrue.
_PLACED: Final = re.compile(
    rf"\b(?:{_WORD}|near(?:er|est|side)?|far(?:ther|thest|side)?|(?:strong|weak|ball|help)[ -]?side"
    r"|(?:side|base|end|free[ -]throw|half[ -]?way|centre|center|three[ -]point)[ -]?lines?"
    r"|half[ -]?way|half[ -]?court|mid[ -]?court|back[ -]?court|front[ -]?court|lines?|corners?"
    r"|wings?|elbows?|blocks?|slots?|nail|top|key|lanes?|paint|middle|centre|center|rim|basket"
    r"|hoop|ring|glass|backboards?|(?:low|high|mid)?[ -]?posts?|dunker|hash(?:es)?|arc|perimeter"
    r"|bandas?|fondo|esquinas?|codos?|postes?|aros?|canasta|cesta|tableros?|zona|pintura|bombilla"
    r"|centro|medio|mitad|alas?|cabecera|tiros libres|l[ií]neas?|lado|cercan[oa]s?|lejan[oa]s?"
    r"|per[ií]metro|campo)\b",
    re.IGNORECASE,
)
# Here the word may be a side or no more than "just": the exchange takes it for a side.
_DOUBTFUL: Final = re.compile(
    r"\b(?:left|right) (?:after|as|at|before|behind|here|in|now|there|when)\b", re.IGNORECASE
)


def mirrored_text(text: str) -> str:
    """The text with left and right exchanged; twice gives the text itself."""
    return _SWAP.sub(_exchanged, text)


def names_a_place(text: str) -> bool:
    """Whether the text speaks of a side, a line or a spot of the court."""
    return _PLACED.search(_NO_SIDE.sub("", text)) is not None


def is_doubtful(text: str) -> bool:
    """Whether the exchange may have taken "right after" for a side."""
    return _DOUBTFUL.search(_NO_SIDE.sub("", text)) is not None


def _exchanged(match: re.Match[str]) -> str:
    word = match["side"]
    if word is None:
        return match[0]
    other = _OTHER.get(word.lower())
    if other is None:  # a letter outside ASCII that only ignores case, as in "LEFT" with a long s
        return word
    for case in (str.lower, str.capitalize, str.upper):
        if case(word) == word:
            return case(other)
    return word
