"""A cast at once: the best players for each play by itself, nothing shared over the package.

Each depth of each play is one linear assignment (``five``). Availability, bans and locks hold;
limits of load and roles do not: that is what the whole-package casting is for.
"""

from __future__ import annotations

from typing import Final

from roster.core.casting.five import FORBIDDEN, Numbers, Taken, fill, may_stand, place_locks
from roster.core.casting.question import CastingAnswer, CastingQuestion, Ending
from roster.core.casting.score import cast_of, nothing_filled, score

_IN_PLAY_ALREADY: Final = -100.0  # rather anybody else than somebody with a role in the play


def quick_casting(question: CastingQuestion) -> CastingAnswer:
    """Every play cast by itself. A slot that nobody can fill is left as a hole."""
    filled = nothing_filled(question)
    for play in range(len(question.plays)):
        taken = filled[:, play]
        place_locks(question, play, taken)
        for depth in range(question.depth):
            worth = _worth(question, play, depth, taken)
            fill(question, depth, taken, worth, question.worth[:, play, :, depth])
    cast = cast_of(question, filled)
    return CastingAnswer(cast, Ending.QUICK, score(question, cast).total)


def _worth(question: CastingQuestion, play: int, depth: int, taken: Taken) -> Numbers:
    """(players, 5): what everybody is worth in the roles of one five."""
    worth: Numbers = question.worth[:, play, :, depth].copy()
    members = [question.player_index.get(p) for p in question.plays[play].unit]
    if depth == 0 and members:
        inside = [row for row in members if row is not None]
        worth[inside] += question.wishes.outside_unit
    worth[taken.any(axis=(1, 2))] += _IN_PLAY_ALREADY
    worth[~may_stand(question, play, depth, taken)] = FORBIDDEN
    return worth
