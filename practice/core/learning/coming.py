"""What the coming opponents will do, from counts of what they did: the doubt of few counts kept.

Of each opponent a share is (n + 1) / (N + k): Laplace's rule of succession for k kinds, the mean of
a multinomial under a flat Dirichlet (Laplace 1774; Good 1965, "The Estimation of Probabilities":
from memory). Nothing seen is the even guess, and few times stay near it. Opponents count alike, a
game is a game, however often one of them was watched. That the rule is Laplace's and not another
one is our choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from shared.core.language import N_, NN_, Language

KINDS: Final = (Tactic.CHASE, Tactic.SWITCH, Tactic.FRONT, Tactic.TRAP, Tactic.ZONE, Tactic.SAG)
"""The defences that are told apart here."""
MAN_TO_MAN: Final = frozenset(
    {Tactic.TIGHT, Tactic.JUMP, Tactic.DENY, Tactic.BEHIND, Tactic.OVER, Tactic.UNDER}
)
"""Ways of staying with one's man; they count as the plain one."""

NEXT_DID: Final = NN_(
    "Your next opponent in {total} throw-ins seen: {defences}.",
    "Your next {n} opponents in {total} throw-ins seen: {defences}.",
)
TIMES: Final = N_("{count} {defence}")

Counts = Mapping[Tactic, int]


@dataclass(frozen=True, slots=True)
class ComingShare:
    """A defence seen ``count`` of ``total`` times by all of them; ``share`` is what is expected."""

    defence: Tactic
    count: int
    total: int
    share: float


def kinds(counts: Counts) -> dict[Tactic, int]:
    """The counts by the kinds, ways of staying with one's man as the plain one."""
    found = dict.fromkeys(KINDS, 0)
    for tactic, count in counts.items():
        found[Tactic.CHASE if tactic in MAN_TO_MAN else tactic] += count
    return found


def expected(counts: Counts) -> dict[Tactic, float]:
    """The share of each kind for one opponent, by Laplace's rule; they sum to 1."""
    own = kinds(counts)
    total = sum(own.values()) + len(KINDS)
    return {tactic: (count + 1) / total for tactic, count in own.items()}


def coming_shares(opponents: Sequence[Counts]) -> tuple[ComingShare, ...]:
    """For each kind what is expected of the coming games, an opponent for each of them.

    Without any opponent, or where nothing was seen of any, there is nothing to say: ().
    """
    own = [kinds(counts) for counts in opponents]
    total = sum(sum(counts.values()) for counts in own)
    if not total:
        return ()
    shares = [expected(counts) for counts in opponents]
    return tuple(
        ComingShare(
            tactic,
            sum(counts[tactic] for counts in own),
            total,
            _mean(each[tactic] for each in shares),
        )
        for tactic in KINDS
    )


def next_text(seen: Sequence[ComingShare], opponents: int, language: Language) -> str:
    """The counts in a sentence, the most frequent first; empty where nothing was seen."""
    told = sorted((each for each in seen if each.count), key=lambda each: -each.count)
    if not told:
        return ""
    words = [
        language.say(TIMES, defence=language.say(TACTICS[each.defence]), count=each.count)
        for each in told
    ]
    said = " · ".join(words)  # some defences have a comma in their name
    return language.say_n(*NEXT_DID, opponents, defences=said, total=told[0].total)


def _mean(values: Iterable[float]) -> float:
    every = list(values)
    return sum(every) / len(every)
