"""A play in the language of its reader, as far as the club has entered it in that language.

A club writes each text once, in whatever language, and may say beside it what it is in another.
What is not said there stays as it was entered: half a translation is better than none.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from plays.core.moves.rewrite import texts, with_texts
from plays.core.play import Play, Translation


def told_in(play: Play, language: str) -> Play:
    """The play with its texts in the language of this code, and without other languages."""
    if not play.translations:
        return play
    said = said_in(play, language)
    told = with_texts(replace(play, translations=()), lambda text: said.get(text, text))
    signs = (replace(each, sign=said.get(each.sign, each.sign)) for each in play.variants)
    return replace(told, variants=tuple(signs))


def said_in(play: Play, language: str) -> Mapping[str, str]:
    """What is said in a language instead of each text as it was entered."""
    return {each.text: each.said for each in play.translations if each.language == language}


def own_texts(play: Play) -> tuple[str, ...]:
    """The texts that may be said in another language, each once, in the order of the document."""
    plain = texts(replace(play, translations=()))
    signs = (variant.sign for variant in play.variants)
    return tuple(dict.fromkeys(text for text in (*plain, *signs) if text.strip()))


def with_language(play: Play, language: str, said: Mapping[str, str]) -> Play:
    """The play that says this, text by text, in a language; other languages stay.

    What is said of a text that the play does not have any more is dropped.
    """
    own = own_texts(play)
    others = [each for each in play.translations if each.language != language and each.text in own]
    new = [Translation(language, text, said[text]) for text in own if said.get(text, "").strip()]
    kept = sorted((*others, *new), key=lambda each: each.language)
    return replace(play, translations=tuple(kept))
