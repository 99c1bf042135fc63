"""Passwords that a guesser tries early, though they are long: a common word with something added.

Django's own checks look at the length, at the list of common passwords and at the person's
name; this one undoes the usual decoration and looks again.
"""

from __future__ import annotations

import re
from functools import cache

from django.contrib.auth.password_validation import CommonPasswordValidator
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared.models import User

FEWEST_CHARACTERS = 5  # different ones
LONGEST_REPEATED = 6
ROWS = ("abcdefghijklmnopqrstuvwxyz", "qwertyuiop", "qwertzuiop", "azertyuiop", "asdfghjkl")
DRESSED = str.maketrans("013457@$", "oieastas")
EDGES = re.compile(r"^[\W\d_]+|[\W\d_]+$")
SIGNS = re.compile(r"\W+")
REPEATED = re.compile(r"^(.+?)\1+$")
BETWEEN = re.compile(r"[\W\d_]+")


class DecoratedWordValidator:
    """Refuse a common word, a row of keys or a repetition with digits and signs around it."""

    def validate(self, password: str, user: User | None = None) -> None:
        text = password.lower()
        own = set(f"{user.username} {user.name}".lower().split()) if user else set()
        if _is_monotonous(text) or any(_is_known(word, own) for word in _undressed(text)):
            raise ValidationError(self.get_help_text(), code="password_decorated")

    def get_help_text(self) -> str:
        return _(
            "This is easy to guess: a common word, a row of keys or a repetition with something "
            "added. Four words that do not belong together make a better one."
        )


def _is_monotonous(text: str) -> bool:
    repeated = any(text == (text[:n] * len(text))[: len(text)] for n in range(1, LONGEST_REPEATED))
    return repeated or len(set(text)) < FEWEST_CHARACTERS


def _undressed(text: str) -> set[str]:
    """The word without what stands around and between, with a 4 read as an a, and said once."""
    bare = EDGES.sub("", text)
    found = {bare, BETWEEN.sub("", bare), BETWEEN.sub("", bare.translate(DRESSED))}
    found |= {SIGNS.sub("", text)}
    return {REPEATED.sub(r"\1", word) for word in found} - {""}


def _is_known(word: str, own: set[str]) -> bool:
    in_row = any(word in row or word[::-1] in row for row in ROWS)
    return in_row or word in own or word in _common()


@cache
def _common() -> frozenset[str]:
    return frozenset(CommonPasswordValidator().passwords)
