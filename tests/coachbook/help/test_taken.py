"""The page of what is taken says what the code takes, number by number."""

from __future__ import annotations

import re
from typing import Any

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db.models import Model

from coachbook.accounts import names
from coachbook.gate import DoorLimits
from coachbook.help.pages import DOCS
from plays.core.shorthand.sheet import MOST_LINES as PLAY_LINES
from plays.files.file import MOST_PLAYS
from plays.writing.form import MOST as PLAY_LETTERS
from practice.film.views import MOST as FILMS
from practice.models import Block, CalledPlay, Drill, FilmLink, Game, Opponent, Practice
from practice.models.film import LONGEST_FILM
from roster.core.file.text import MOST_LINES
from roster.models import PackagePlay, Player, Team
from roster.squad.workbook import MOST_COLUMNS, MOST_SHEETS
from shared.core.days import REACH
from shared.core.numbers import LARGEST
from shared.photos import FORMATS, MOST_BYTES, MOST_PIXELS


def letters(model: type[Model], name: str) -> int:
    found: Any = model._meta.get_field(name)
    return int(found.max_length)


def bounds(model: type[Model], name: str) -> tuple[int | None, int]:
    """The least, where one is set, and the most of a number."""
    found: Any = model._meta.get_field(name)
    least = [v.limit_value for v in found.validators if isinstance(v, MinValueValidator)]
    most = [v.limit_value for v in found.validators if isinstance(v, MaxValueValidator)]
    return max(least, default=None), min(most)


def said(model: type[Model], name: str) -> str:
    least, most = bounds(model, name)
    return f"{least} to {most}" if least else f"up to {most}"


def taken() -> dict[str, tuple[object, ...]]:
    """What each row has to say."""
    checks: list[Any] = settings.AUTH_PASSWORD_VALIDATORS
    shortest = next(each["OPTIONS"]["min_length"] for each in checks if "Minimum" in each["NAME"])
    return {
        "a day, wherever it is entered": ({2: "two years back"}[REACH.days // 365],),
        "a number in an address or a form": (LARGEST,),
        "a name to sign in with": (f"{names.LEAST} to {names.MOST}",),
        "a password": (f"{shortest} characters or more",),
        "a player's name": (letters(Player, "name"),),
        "a shirt number": ("0, 00 or 1 to 99",),
        "a height": (said(Player, "height_cm"),),
        "a rating": (said(Player, "passing"),),
        "expected minutes": (said(Player, "expected_minutes"),),
        "a team's name": (letters(Team, "name"),),
        "a call": (letters(PackagePlay, "call"),),
        "a hand signal": (letters(PackagePlay, "signal"),),
        "a place of a practice or game": (letters(Practice, "place"), letters(Game, "place")),
        "notes of a practice": (letters(Practice, "notes"),),
        "minutes of a block": (said(Block, "minutes"),),
        "how a drill goes": (letters(Drill, "text"),),
        "an opponent's name": (letters(Opponent, "name"), letters(Game, "opponent")),
        "points of a possession": (said(CalledPlay, "points"),),
        "a link to a film": (letters(FilmLink, "address"),),
        "a time in a film": (f"{LONGEST_FILM // 3600} hours",),
        "links to films of one play": (FILMS,),
        "the text of a play": (PLAY_LETTERS, PLAY_LINES),
        "a file of plays": (settings.MAX_UPLOAD, MOST_PLAYS),
        "a roster as a file, a workbook or a pasted list": (
            *(settings.MAX_UPLOAD, MOST_LINES),
            *(f"{MOST_COLUMNS} columns", f"{MOST_SHEETS} sheets"),
        ),
        "a photo": (*FORMATS, MOST_BYTES, f"{MOST_PIXELS // 1_000_000} million"),
        "fields of one form": (settings.DATA_UPLOAD_MAX_NUMBER_FIELDS,),
        "one request": (DoorLimits().body,),
    }


def test_the_page_says_what_the_code_takes() -> None:
    text = (DOCS / "10f-what-is-taken.md").read_text("utf-8")
    rows = dict(re.findall(r"^\| ([a-z].*?) \| (.*) \|$", text, re.MULTILINE))
    rows.pop("what")
    assert rows.keys() == taken().keys()
    for what, numbers in taken().items():
        for number in numbers:
            assert re.search(rf"(?<!\d){re.escape(str(number))}(?!\d)", rows[what]), (what, number)
