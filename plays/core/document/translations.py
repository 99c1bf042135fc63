"""Checks of what a play says in other languages: a code that there is, and one saying a text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from plays.core.document.walk import Fault
from plays.core.play import Play
from shared.core.language import N_

ODD_LANGUAGE: Final = N_("“{found}” is no code of a language, as “es” is.")
SAID_TWICE: Final = N_("In “{language}”, “{text}” is said twice. Keep one.")


def translations(play: Play) -> Iterator[Fault]:
    """What is wrong with the texts in other languages, but for their length."""
    known: set[tuple[str, str]] = set()
    for index, each in enumerate(play.translations):
        if each.language.strip() and not re.fullmatch(r"[a-z]{2,3}", each.language):
            slots = {"found": each.language}
            yield Fault(("translations", index, "language"), "language", ODD_LANGUAGE, slots)
        if (each.language, each.text) in known:
            slots = {"language": each.language, "text": each.text}
            yield Fault(("translations", index), "said_twice", SAID_TWICE, slots)
        known.add((each.language, each.text))
