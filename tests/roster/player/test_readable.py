"""What a player's pages and questions say reads as easily as the parts: Flesch-Kincaid at most 5.

The formula and its source stand in ``tests/plays/core/words/readable.py``; the texts of the pages
are those that the catalogue says the players' templates use.
"""

from __future__ import annotations

import re

import pytest

from coachbook.catalogue import po_files
from coachbook.catalogue import read as read_po
from coachbook.demo.files import demo_plays
from plays.core.glossary.glossary import GLOSSARY
from plays.core.play import ROLES, Play
from roster.core.quiz.making import questions
from roster.player.page import TURNED
from shared.core.language import ENGLISH
from tests.plays.core.words.readable import grade, grade_of, sentences_of

EASY = 5.0
HARDEST = 8.0


def said_on_pages() -> list[str]:
    """English of the players' templates, with a short word in place of each slot."""
    found: list[str] = []
    for message in read_po(po_files()[0].read_text("utf-8")).sentences():
        if any(place.startswith("templates/player/") for place, _ in message.locations):
            forms = [message.id] if isinstance(message.id, str) else message.id
            found.extend(re.sub(r"%\(\w+\)[sd]", "one", form) for form in forms)
    return found


def test_the_pages_of_a_player_read_easily() -> None:
    texts = [*said_on_pages(), *TURNED]
    assert len(texts) > 60
    sentences = [said for text in texts for said in sentences_of(text)]
    assert grade_of(sentences) <= EASY
    hard = [said for said in sentences if len(said.split()) > 3 and grade(said) > HARDEST]
    assert hard == []


def test_the_glossary_reads_easily() -> None:
    for term in GLOSSARY:
        assert grade_of(sentences_of(str(term.meaning))) <= HARDEST, term
    every = [said for term in GLOSSARY for said in sentences_of(str(term.meaning))]
    assert grade_of(every) <= EASY


@pytest.mark.parametrize("play", demo_plays(), ids=lambda play: play.key)
def test_the_questions_of_a_role_read_easily(play: Play) -> None:
    for role in ROLES:
        texts = [
            text
            for each in questions(play, role, {}, ENGLISH)
            for text in (each.asks, *each.choices, each.truth)
        ]
        assert grade_of([said for text in texts for said in sentences_of(text)]) <= EASY, role
