"""What the page of the choice shows: the package, why each play is in or out, what is beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from plays.models import Play
from practice.choosing import search
from practice.choosing.asked import AskedPackage
from practice.core.choosing.around import PackagesBeside
from practice.core.choosing.question import (
    Candidate,
    ChosenPackage,
    PackageScore,
    PinnedTooMuchError,
)
from practice.core.choosing.quick import quick_package
from practice.core.choosing.reasons import PlayReasons, Telling, difference, open_ends, reasons
from practice.core.choosing.words import OCCASIONS
from practice.core.learning.coming import next_text
from practice.models import PackageSearch
from roster.models import PackagePlay
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class ChoiceLine:
    """A play of the library in the choice; ``entry`` is its place in the package, if it has one."""

    play: Play
    one: Candidate
    why: PlayReasons
    entry: PackagePlay | None
    occasions: tuple[str, ...]
    fit: int
    wanted: str  # "in", "out", or "" where the coach leaves it to the choice

    @property
    def may_be_chosen(self) -> bool:
        return self.one.bar is None and self.wanted != "out"

    @property
    def minutes(self) -> float:
        return self.one.minutes


def choice(asked: AskedPackage, run: PackageSearch | None, language: Language) -> dict[str, Any]:
    """The page's context. The package is the search's where it has one, else one made at once."""
    same = run is not None and run.question_hash == asked.fingerprint
    found = search.from_json(asked.question, run.found) if run is not None and same else None
    try:
        package = found.best if found else quick_package(asked.question)
    except PinnedTooMuchError as error:
        nothing = ChosenPackage((), frozenset(), {}, 0.0, PackageScore(0, 0, 0.0))
        return {**_context(asked, nothing, None, language), "too_much": error}
    return _context(asked, package, found, language)


def _context(
    asked: AskedPackage, package: ChosenPackage, found: PackagesBeside | None, language: Language
) -> dict[str, Any]:
    names = {row.play.pk: row.play.name for row in asked.rows}
    telling = Telling(asked.question, package, names, language)  # type: ignore[arg-type]
    lines = _lines(asked, reasons(telling, found.other if found else {}), language)
    picked = sorted((line for line in lines if line.why.picked), key=_place)
    out = [line for line in lines if not line.why.picked]
    fresh = [line for line in picked if line.entry is None]
    return {
        "package": package,
        "picked": picked,
        "may": [line for line in out if line.may_be_chosen],
        "ruled_out": [line for line in out if not line.may_be_chosen],
        "fresh": fresh,
        "stays": [line for line in out if line.entry is not None],
        "open_ends": open_ends(telling),
        "worth": round(100 * package.score.worth),
        "most_held": asked.question.against * len(asked.question.occasions),
        "found": found,
        "gap": None if package.gap is None else round(100 * package.gap, 1),
        "more": difference(telling, found.more) if found and found.other else (),
        "fewer": difference(telling, found.fewer) if found and found.other else (),
        "facing": asked.facing,
        "next_did": next_text(asked.facing.seen, len(asked.facing.next), language),
    }


def _lines(
    asked: AskedPackage, told: Iterable[PlayReasons], language: Language
) -> list[ChoiceLine]:
    question = asked.question
    return [
        ChoiceLine(
            play=row.play,
            one=one,
            why=why,
            entry=asked.entries.get(row.play.pk),
            occasions=tuple(language.say(OCCASIONS[each]) for each in sorted(one.covers)),
            fit=round(100 * asked.fits[row.play.pk]),
            wanted="out" if one.id in question.bans else "in" if one.id in question.pins else "",
        )
        for row, one, why in zip(asked.rows, question.candidates, told, strict=True)
    ]


def _place(line: ChoiceLine) -> tuple[int, str]:
    order = list(OCCASIONS)
    return min(order.index(each) for each in line.one.covers), line.play.name
