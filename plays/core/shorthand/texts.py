"""Texts that people wrote, in a line of the shorthand: as they are, or as JSON strings.

Each function gives the text or raises ``LineError`` with a sentence for the line.
"""

from __future__ import annotations

import json
from typing import Final

from plays.core.play import Translation
from plays.core.shorthand.vocabulary import READS_AS_ACTION
from shared.core.language import N_, Slot

NO_TRANSLATION: Final = N_("Write the text as it stands above, a bar, and what is said for it.")
NO_TEXT: Final = N_("The quotation mark of this text has no partner.")


class LineError(ValueError):
    """A line that cannot be read: the template of the sentence, and what fills it."""

    def __init__(self, template: str, **slots: Slot) -> None:
        super().__init__(template)
        self.template = template
        self.slots = slots


def text_of(text: str) -> str:
    """A text as written, or what a JSON string in its place says."""
    text = text.strip()
    if not text.startswith('"'):
        return text
    try:
        said = json.loads(text)
    except ValueError:
        raise LineError(NO_TEXT) from None
    return str(said)


def text_line(text: str) -> str:
    """A text as it is, or as a JSON string where a reader of lines would change it."""
    plain = text == " ".join(text.split()) and text[:1] not in ('"', "") and " | " not in text
    return text if plain and not READS_AS_ACTION.match(text) else quoted(text)


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def translation_of(text: str, language: str) -> Translation:
    """One text and what it is in a language; a text in quotation marks may hold the bar itself."""
    entered, bar, said = text.partition(" | ")
    entered = entered.strip()
    if text.startswith('"'):
        try:
            entered, end = json.JSONDecoder().raw_decode(text)
        except ValueError:
            raise LineError(NO_TEXT) from None
        bar, said = text[end : end + 3], text[end + 3 :]
    if bar != " | " or not said.strip():
        raise LineError(NO_TRANSLATION)
    return Translation(language, entered, text_of(said))
