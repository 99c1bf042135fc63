"""The looks of a check as a page shows them: at once from one run, then with their bands."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.safestring import SafeString

from plays.check.form import Asked
from plays.core.check.bands import Band
from plays.core.check.setting import Setting, banded, checked
from plays.core.defence.parts import parts_of
from plays.core.defence.verdict import Verdict, Word, index
from plays.core.defence.words import WORDS
from plays.core.drawing.margin import margin_picture
from plays.core.play import Play, Role
from plays.core.words.reads import condition
from plays.core.words.terms import look_words
from plays.play.page import svg_of
from shared import pieces
from shared.core.language import Language

LOOK_MARKS = {
    Word.OPEN: "good",
    Word.CONTESTED: "warn",
    Word.COVERED: "bad",
    Word.PAST: "bad",
    Word.NOT_YET: "bad",
}


@dataclass(frozen=True, slots=True)
class LookRow:
    """A look's window and margin in words, numbers and a picture; ``band`` once it is known."""

    number: int
    text: str
    condition: str
    verdict: Verdict
    band: Band | None
    mark: str
    word: str
    picture: SafeString
    parts: tuple[str, ...]
    guess: int | None

    @property
    def action(self) -> str:
        return self.verdict.look

    @property
    def index(self) -> int:
        """How many of a hundred such passes professionals threw."""
        return round(100 * index(self.band.median if self.band else self.verdict.margin))

    @property
    def there(self) -> int:
        """In how many of a hundred draws it is open or contested at its turn."""
        return round(100 * (self.band.open + self.band.contested)) if self.band else 0

    @property
    def open(self) -> int:
        """In how many of a hundred draws it is open at its turn."""
        return round(100 * self.band.open) if self.band else 0


def look_row(
    verdict: Verdict, band: Band | None, names: Mapping[Role, str], language: Language
) -> LookRow:
    look = verdict.window.look
    word = verdict.word if band is None else band.word
    picture = margin_picture(verdict, band, scheme="page", language=language)
    return LookRow(
        number=verdict.window.index + 1,
        text=look_words(look, names, language),
        condition=condition(look, language),
        verdict=verdict,
        band=band,
        mark=LOOK_MARKS[word],
        word=language.say(WORDS[word]),
        picture=svg_of(picture, f"margin-{look.id}"),
        parts=tuple(parts_of(verdict, names, language)),
        guess=None if look.guess is None else round(100 * look.guess),
    )


def banded_looks(play: Play, asked: Asked, language: Language) -> tuple[LookRow, ...]:
    """The looks with their bands: a second or two, and kept by what they are computed from."""
    names = asked.carrier.names if asked.carrier else {}
    run = asked.run(play)
    report = checked(run, asked.setting, language=language, names=names)
    place = asked.carrier.team if asked.carrier else pieces.LIBRARY
    known = {band.look: band for band in kept_bands(run, asked.setting, place)}
    return tuple(look_row(v, known.get(v.look), names, language) for v in report.verdicts)


def kept_bands(run: Play, setting: Setting, place: int = pieces.LIBRARY) -> tuple[Band, ...]:
    """The bands of a run, computed where nobody has asked for them yet; ``place`` is a team."""
    people = sorted(setting.pace.paces(setting.age, setting.effort).items())
    base = setting.pace.base(setting.age, setting.effort)
    facts = ("bands", run, setting.defence, setting.whose, setting.rule_set, base, people)

    def make() -> bytes:
        return json.dumps([band.to_json() for band in banded(run, setting)]).encode()

    return tuple(Band.from_json(each) for each in json.loads(pieces.kept(place, facts, make)))
