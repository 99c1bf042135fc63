"""What a team of beginners reads has no term of the trade, and reads as easily as the rest."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from coachbook.demo.files import demo_plays
from plays.core.court import spot_names
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.glossary.glossary import GLOSSARY, PLAIN
from plays.core.play import ROLES, Play, Role
from plays.core.words import looks, moves, reads, waits
from plays.core.words.part import part_of
from shared.core.language import Language, slots_of
from tests.languages import language
from tests.plays.core.words.readable import grade, grade_of, sentences_of
from tests.plays.core.words.spoken_plays import everything

PLAYS = demo_plays()


def test_a_term_is_a_word_or_two_and_its_meaning_a_sentence() -> None:
    for term in GLOSSARY:
        assert len(term.word.split()) <= 3, term.word
        assert term.meaning.endswith("."), term.word
        assert not term.word.endswith("."), term.word


# The forms in which each term may stand in a sentence. Whoever says a block in Spanish says
# "poste bajo", and "bloqueo" is no term but the plain word for a screen.
FORMS = {
    "en": (
        r"blocks?|mid-post|elbows?|nail|dunker|short corner|slots?|wings?|hash|pops?|rolls?|slips?"
        r"|seals?|posts? up|curls?|fades?|clears? out|(?:down|cross|flare|back|ball|double) screen"
        r"|gates?|lobs?|hand-offs?|switch(?:es)?|fronts|they front|traps?|sags?|den(?:y|ies)"
    ),
    "es": (
        r"poste bajo|poste medio|codo|dunker|esquina corta|slot|ala|marca de banda|continúa|slip"
        r"|sella|postea|rizo|fade|bloqueos? (?:vertical|horizontal|flare|ciego|directo|doble)"
        r"|puerta|bombeado|flotan?|niegan?|niegue"
    ),
}


@cache
def plainly(code: str) -> Language:
    return replace(language(code), vocabulary=PLAIN)


def terms_in(text: str, code: str) -> list[str]:
    return re.findall(rf"\b(?:{FORMS[code]})\b", text, re.IGNORECASE)


def built(play: Play, role: Role, speech: Language) -> list[str]:
    """All that a role reads of a play but for what the coach typed."""
    bare = replace(
        play,
        looks=tuple(replace(look, condition="") for look in play.looks),
        counters=tuple(
            replace(
                counter,
                says="",
                looks=tuple(replace(look, condition="") for look in counter.looks or ()),
            )
            for counter in play.counters
        ),
    )
    part = part_of(bare, role, None, speech)
    counters = [
        text
        for counter in part.counters
        for text in (f"{counter.title}.", counter.same, *(c.text for c in counter.changes))
    ]
    return [said for text in (*part.sentences(), *counters) for said in sentences_of(text)]


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("play", [*PLAYS, everything()], ids=lambda play: play.key)
def test_no_sentence_of_a_part_holds_a_term(play: Play, code: str) -> None:
    for role in ROLES:
        for said in built(play, role, plainly(code)):
            assert not terms_in(said, code), said


def test_the_terms_are_found_in_the_words_of_the_trade() -> None:
    for code in ("en", "es"):
        said = " ".join(
            text for play in PLAYS for role in ROLES for text in built(play, role, language(code))
        )
        assert len({found.lower() for found in terms_in(said, code)}) >= 10


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_plain_words_read_easily(play: Play) -> None:
    for role in ROLES:
        said = built(play, role, plainly("en"))
        assert grade_of(said) <= 5.0, role
        for sentence in said:
            assert grade(sentence) <= 8.0, sentence


@pytest.mark.parametrize("code", ["en", "es"])
def test_no_picture_says_a_term_besides_what_was_typed(code: str) -> None:
    for play in PLAYS:
        for phase in play.phases:
            shown = diagram(play, phase.id, Drawing(language=plainly(code)))
            said = f"{shown.title} {shown.description}".replace(phase.title, "")
            assert not terms_in(said.replace(play.name, ""), code), said


def test_a_plain_sentence_fills_the_same_slots() -> None:
    for term in GLOSSARY:
        for said, plain in term.instead.items():
            assert slots_of(said) == slots_of(plain), said


def test_every_term_is_spared_and_no_sentence_is_plain_twice() -> None:
    for term in GLOSSARY:
        assert term.instead, term.word
        for said, plain in term.instead.items():
            assert terms_in(said, "en"), said
            assert not terms_in(plain, "en"), plain
            assert plain not in PLAIN.instead


def test_every_sentence_with_a_term_has_a_plain_one() -> None:
    """Whoever writes a new sentence with a term for players gives the plain one beside it."""
    for said in templates():
        assert not terms_in(PLAIN.instead.get(said, said), "en"), said


def templates() -> list[str]:
    """Every sentence and name of a place of which parts are built."""
    found: list[str] = []
    for module in (spot_names, moves, waits, looks, reads):
        for name, value in vars(module).items():
            found += texts(value) if name.isupper() else []
    return [said for said in found if " " in said]


def texts(value: object) -> list[str]:
    if isinstance(value, str):
        return [value]
    if isinstance(value, spot_names.SideNames):
        return [*value.all_four()]
    if hasattr(value, "values") and not isinstance(value, type):
        return [said for each in value.values() for said in texts(each)]
    return []


def test_a_language_with_other_words_is_another_language() -> None:
    assert plainly("en") != language("en")
    assert plainly("es") == replace(language("es"), vocabulary=PLAIN)
