"""How well a player fits a role: the role's needs against the player's ratings, term by term.

Each need gives a mark from 0 to 1 for the gap between rating and level asked; the fit is the
mean of the marks by the weight of the needs. Meeting a need is worth most, more than meeting
it a little, falling short costs more the further it goes: so a strong player is not spent
where an ordinary one will do. The table of marks is our own choice.

A rating that is not known is no zero: it counts as the middle of the scale, the fit tells
between which limits the answer could lie, and what part of it rests on ratings.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES, AgeGroup, Need, Quality, Role
from roster.core.people import RATINGS, Player
from shared.core.language import ENGLISH, N_, Language, sentence

MARKS: Final[Mapping[int, float]] = {
    -4: 0.0, -3: 0.1, -2: 0.35, -1: 0.65, 0: 0.90, 1: 0.95, 2: 0.98, 3: 0.99, 4: 1.0,
}  # fmt: skip
"""Rating minus level asked -> mark."""

NOTHING_ASKED: Final = MARKS[0]
MIDDLE: Final = 3

STRONG: Final[Mapping[Quality, str]] = {
    Quality.PASSING: N_("strong passer"),
    Quality.STRENGTH: N_("strong in the body"),
    Quality.SPEED: N_("fast"),
    Quality.FINISHING: N_("strong finisher"),
    Quality.SHOOTING: N_("strong shooter"),
    Quality.SCREENING: N_("strong screener"),
    Quality.READING: N_("reads the play well"),
    Quality.REACH: N_("long reach"),
}
ENOUGH: Final[Mapping[Quality, str]] = {
    Quality.PASSING: N_("passes well enough"),
    Quality.STRENGTH: N_("strong enough"),
    Quality.SPEED: N_("fast enough"),
    Quality.FINISHING: N_("finishes well enough"),
    Quality.SHOOTING: N_("shoots well enough"),
    Quality.SCREENING: N_("screens well enough"),
    Quality.READING: N_("reads the play well enough"),
    Quality.REACH: N_("enough reach"),
}
BELOW: Final[Mapping[Quality, str]] = {
    Quality.PASSING: N_("below the passing that {role} needs"),
    Quality.STRENGTH: N_("below the strength that {role} needs"),
    Quality.SPEED: N_("below the speed that {role} needs"),
    Quality.FINISHING: N_("below the finishing that {role} needs"),
    Quality.SHOOTING: N_("below the shooting that {role} needs"),
    Quality.SCREENING: N_("below the screening that {role} needs"),
    Quality.READING: N_("below the reading of the play that {role} needs"),
    Quality.REACH: N_("below the reach that {role} needs"),
}
UNKNOWN: Final[Mapping[Quality, str]] = {
    Quality.PASSING: N_("passing not rated"),
    Quality.STRENGTH: N_("strength not rated"),
    Quality.SPEED: N_("speed not rated"),
    Quality.FINISHING: N_("finishing not rated"),
    Quality.SHOOTING: N_("shooting not rated"),
    Quality.SCREENING: N_("screening not rated"),
    Quality.READING: N_("reading of the play not rated"),
    Quality.REACH: N_("height not known"),
}
NO_NEEDS: Final = N_("this role asks for nothing in particular")
THIS_THROWER: Final = N_("this thrower")
THIS_ROLE: Final = N_("this role")


@dataclass(frozen=True, slots=True)
class Term:
    """One need and what the player brings to it; ``rating`` is None where it is not known."""

    quality: Quality
    level: int
    weight: int
    rating: int | None
    mark: float

    @property
    def gap(self) -> int | None:
        """Rating minus level: below 0 falls short."""
        return None if self.rating is None else self.rating - self.level


@dataclass(frozen=True, slots=True)
class Fit:
    """A fit from 0 to 1: as best known, and between which limits whatever is not rated.

    ``rests_on`` is the part, 0 to 1, of the needs' weight that is rated.
    """

    value: float
    low: float
    high: float
    rests_on: float
    terms: tuple[Term, ...]

    @property
    def hundredths(self) -> int | None:
        """The fit of 100 for people; None where no rating stands behind it."""
        rated = any(term.rating is not None for term in self.terms)
        return round(100 * self.value) if rated else None


def fit(needs: Sequence[Need], player: Player, role: Role, group: AgeGroup = AgeGroup.ADULT) -> Fit:
    """The fit of a player for one role; needs of other roles are passed over.

    Two needs of one quality count as the higher of them.
    """
    terms = tuple(_term(need, player, group) for need in _needs_of(needs, role))
    total = sum(term.weight for term in terms)
    if not total:
        return Fit(NOTHING_ASKED, NOTHING_ASKED, NOTHING_ASKED, 1.0, ())

    def mean(unknown: int) -> float:
        marks = (
            term.mark if term.rating is not None else mark(unknown, term.level) for term in terms
        )
        return sum(m * term.weight for m, term in zip(marks, terms, strict=True)) / total

    rated = sum(term.weight for term in terms if term.rating is not None)
    return Fit(mean(MIDDLE), mean(RATINGS[0]), mean(RATINGS[-1]), rated / total, terms)


def mark(rating: int, level: int) -> float:
    """The mark, 0 to 1, of a rating where a level is asked."""
    return MARKS[rating - level]


def fit_table(
    plays: Sequence[Sequence[Need]], players: Sequence[Player], group: AgeGroup = AgeGroup.ADULT
) -> NDArray[np.float64]:
    """(players, plays, 5): the fit of everybody for every role of every play."""
    table = np.empty((len(players), len(plays), len(ROLES)))
    for row, player in enumerate(players):
        for column, needs in enumerate(plays):
            table[row, column] = [fit(needs, player, role, group).value for role in ROLES]
    return table


def in_words(found: Fit, *, thrower: bool = False, language: Language = ENGLISH) -> str:
    """The terms in one sentence, strengths first: "Strong finisher, below the passing ..."."""
    if not found.terms:
        return sentence(language.say(NO_NEEDS)) + "."
    ordered = sorted(found.terms, key=lambda term: (_class_of(term), -term.weight))
    said = [_said(term, thrower, language) for term in ordered]
    return sentence(", ".join(said)) + "."


def _class_of(term: Term) -> int:
    if term.gap is None:
        return 3
    return 0 if term.gap > 0 else 1 if term.gap == 0 else 2


def _said(term: Term, thrower: bool, language: Language) -> str:
    words = (STRONG, ENOUGH, BELOW, UNKNOWN)[_class_of(term)][term.quality]
    return language.say(words, role=language.say(THIS_THROWER if thrower else THIS_ROLE))


def _needs_of(needs: Sequence[Need], role: Role) -> list[Need]:
    highest: dict[Quality, Need] = {}
    for need in needs:
        if need.role != role:
            continue
        known = highest.get(need.quality)
        if known is None or (need.level, need.weight) > (known.level, known.weight):
            highest[need.quality] = need
    return list(highest.values())


def _term(need: Need, player: Player, group: AgeGroup) -> Term:
    rating = player.rating(need.quality, group)
    marked = mark(MIDDLE if rating is None else rating, need.level)
    return Term(need.quality, need.level, need.weight, rating, marked)


def needs_differ(old: Sequence[Need], new: Sequence[Need]) -> list[Role]:
    """The roles of which other things are asked, in whatever order they are written."""
    return [role for role in ROLES if _asked(old, role) != _asked(new, role)]


def _asked(needs: Sequence[Need], role: Role) -> set[tuple[str, int, int]]:
    return {(need.quality.value, need.level, need.weight) for need in needs if need.role == role}
