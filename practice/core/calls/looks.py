"""What is believed of a play's looks against one opponent, and the one sentence that says why.

A play is worth the chance that some look of it is there. Looks are passed up in turn, so that the
chance that none was there is a product over the turns of the passer (the continuation ratios of
``practice.core.learning.order``); of looks that are read with one glance one at most is there.
Looks that only a thrown look leads to do not count: the ball has to get there first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.defence.stance import Tactic
from plays.core.defence.words import DEFENCES
from plays.core.play import Look
from plays.core.words.terms import look_words
from practice.core.learning.looks import LookEstimate
from practice.core.learning.order import LookOrder
from shared.core.language import N_, NN_, Language

AGAINST: Final = NN_(
    "{look}: there {there} of {n} time against {defence}",
    "{look}: there {there} of {n} times against {defence}",
)
OVERALL: Final = NN_("{look}: there {there} of {n} time", "{look}: there {there} of {n} times")
GUESSED: Final = N_("{look}: guessed {n} of 10")


@dataclass(frozen=True, slots=True)
class PlayLooks:
    """A play against one opponent.

    ``chance`` (0 to 1) that some look is there, None where neither a guess nor a game tells;
    ``told`` is the estimate that gives the reason.
    """

    chance: float | None = None
    told: LookEstimate | None = None


NOTHING_KNOWN: Final = PlayLooks()


def against(
    order: LookOrder,
    found: Sequence[LookEstimate],
    shares: Mapping[Tactic, float],
    usual: Tactic | None = None,
) -> PlayLooks:
    """One play against an opponent who defends by these shares, and most often by ``usual``.

    Without shares it is the play over all defences; a defence that the play has not met is
    taken to be like the others.
    """
    if not any(each.count.reached or each.guess is not None for each in found):
        return NOTHING_KNOWN
    by_key = {(each.look, each.defence): each.belief.mean for each in found}
    mixed: dict[Tactic | None, float] = dict(shares.items()) or {None: 1.0}
    whole = sum(mixed.values())
    chance = sum(part * _some_look(order, by_key, one) for one, part in mixed.items()) / whole
    return PlayLooks(chance, _telling(found, usual))


def reason(told: PlayLooks, looks: Iterable[Look], language: Language) -> str:
    """The counts behind it, "2 to 4: there 6 of 9 times against a zone"; or nothing."""
    estimate = told.told
    look = next((each for each in looks if estimate and each.id == estimate.look), None)
    if estimate is None or look is None:
        return ""
    words, count = look_words(look, {}, language), estimate.count
    if not count.reached:
        return language.say(GUESSED, look=words, n=round(10 * (estimate.guess or 0.0)))
    if estimate.defence is None:
        return language.say_n(*OVERALL, count.reached, look=words, there=count.there)
    defence = language.say(DEFENCES[estimate.defence])
    return language.say_n(*AGAINST, count.reached, look=words, there=count.there, defence=defence)


def _some_look(
    order: LookOrder, means: Mapping[tuple[str, Tactic | None], float], defence: Tactic | None
) -> float:
    """The chance that one of the first looks is there; their estimates are all present."""
    turns: dict[int, float] = {}
    for place in order.places:
        if place.by is None:
            mean = means.get((place.id, defence), means[place.id, None])
            turns[place.turn] = turns.get(place.turn, 0.0) + mean
    none = 1.0
    for there in turns.values():
        none *= 1.0 - min(1.0, there)
    return 1.0 - none


def _telling(found: Sequence[LookEstimate], usual: Tactic | None) -> LookEstimate | None:
    """The most hopeful look: by the games against what they do most, by any, by the guesses.

    One that was never there is told of only where none was.
    """
    seen = [each for each in found if each.count.reached]
    kinds = (
        [each for each in seen if usual is not None and each.defence is usual],
        [each for each in seen if each.defence is None],
        [each for each in found if each.guess is not None and each.defence is None],
    )
    best = next((kind for kind in kinds if kind), [])
    return max(best, key=lambda each: (each.count.there > 0, each.belief.mean), default=None)
