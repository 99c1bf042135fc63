"""The name that somebody signs in with: as people write names, compared without capitals."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from typing import Final

LEAST: Final = 2  # letters
MOST: Final = 60
SIGNS: Final = frozenset(" .@+-_'’")


def as_sign_in_name(text: str) -> str:
    """A name in the one way in which it is kept and looked up: NFKC, small, single spaces."""
    return " ".join(unicodedata.normalize("NFKC", text).lower().split())


def is_sign_in_name(name: str) -> bool:
    """Whether a name in that way can be one: letters and digits of any script, and some signs."""
    if not LEAST <= len(name) <= MOST or not name[0].isalnum():
        return False
    return all(
        sign.isalnum() or sign in SIGNS or unicodedata.category(sign)[0] == "M" for sign in name
    )


def suggested(person: str, is_taken: Callable[[str], bool]) -> str:
    """A name for a person: the first word of theirs, else all of it, else with a number.

    Empty where theirs has nothing that could be one.
    """
    whole = "".join(sign for sign in as_sign_in_name(person) if is_sign_in_name(f"aa{sign}"))
    words = whole.split()
    if not words:
        return ""
    whole = " ".join(words)[: MOST - 4].strip()
    numbered = (f"{words[0][: MOST - 4]} {n}" for n in range(2, 1000))
    tries = (words[0][:MOST], whole, *numbered)
    return next((each for each in tries if is_sign_in_name(each) and not is_taken(each)), "")
