"""What a cast is worth, part by part, on the scale that casting maximises.

The integer programme and this count must agree; it also judges a cast made by hand.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.cast import Assignment, Cast
from roster.core.casting.question import CastingQuestion

Filled = NDArray[np.bool_]
Counts = NDArray[np.number]


@dataclass(frozen=True, slots=True)
class CastScore:
    """Sums over the package. Only ``worth`` adds; the rest is taken off.

    ``worth`` is fit by depth and priority, with what is kept and learnt already.
    """

    worth: float
    roles: float
    uneven: float
    left_out: float
    two_in_play: float
    outside_unit: float
    holes: float

    @property
    def total(self) -> float:
        taken = (
            self.roles
            + self.uneven
            + self.left_out
            + self.two_in_play
            + self.outside_unit
            + self.holes
        )
        return self.worth - taken


@dataclass(frozen=True, slots=True)
class CastCounts:
    """What a cast lacks or has too much of, as the programme counts it."""

    roles: Filled  # (players, 5): the role numbers that each has
    holes: Filled  # (plays, 5, depth)
    two: Counts  # (players, plays): roles of a player in a play beyond the first
    over: Counts  # (players,): slots above the fair share, rounded up
    under: Counts  # (players,): slots below the fair share, rounded down
    left: Counts  # (players,): slots below half of the fair share
    outside: Counts  # (plays,): of the first five, those who could be of the play's unit


def counts(question: CastingQuestion, filled: Filled) -> CastCounts:
    loads, in_play = filled.sum(axis=(1, 2, 3)), filled.sum(axis=(2, 3))
    fair = question.fair_shares()
    return CastCounts(
        roles=np.asarray(filled.any(axis=(1, 3))),
        holes=np.asarray(~filled.any(axis=0)),
        two=np.maximum(in_play - 1, 0),
        over=np.maximum(loads - np.ceil(fair), 0),
        under=np.maximum(np.floor(fair) - loads, 0),
        left=np.maximum(question.least_slots() - loads, 0),
        outside=_missing_from_units(question, filled),
    )


def score(question: CastingQuestion, cast: Cast) -> CastScore:
    """The score of a cast. Slots outside the question count for nothing."""
    filled = filled_array(question, cast)
    wishes, found = question.wishes, counts(question, filled)
    return CastScore(
        worth=float((question.worth * filled).sum()),
        roles=wishes.role * float(found.roles.sum()),
        uneven=wishes.uneven * float(found.over.sum() + found.under.sum()),
        left_out=wishes.left_out * float(found.left.sum()),
        two_in_play=wishes.two_in_play * float(found.two.sum()),
        outside_unit=wishes.outside_unit * float(found.outside.sum()),
        holes=wishes.hole * float(found.holes.sum()),
    )


def nothing_filled(question: CastingQuestion) -> Filled:
    """(players, plays, 5, depth) bool: where nobody stands anywhere yet."""
    shape = (len(question.players), len(question.plays), len(ROLES), question.depth)
    return np.zeros(shape, dtype=np.bool_)


def filled_array(question: CastingQuestion, cast: Cast) -> Filled:
    """(players, plays, 5, depth) bool."""
    filled = nothing_filled(question)
    for a in cast.assignments:
        known = a.player in question.player_index and a.play in question.play_index
        if known and a.depth <= question.depth:
            player, play = question.player_index[a.player], question.play_index[a.play]
            filled[player, play, ROLES.index(a.role), a.depth - 1] = True
    return filled


def cast_of(question: CastingQuestion, filled: Filled) -> Cast:
    """The cast that a filled array shows, play by play, role by role."""
    found = np.argwhere(filled.transpose(1, 2, 3, 0))
    return Cast(
        tuple(
            Assignment(question.plays[j].id, ROLES[k], int(d) + 1, question.players[p].id)
            for j, k, d, p in found
        )
    )


def unit_members(question: CastingQuestion, play: int) -> list[int]:
    """The rows of a play's unit members who can play."""
    return [
        question.player_index[player]
        for player in dict.fromkeys(question.plays[play].unit)
        if player in question.player_index
        and question.players[question.player_index[player]].can_play
    ]


def _missing_from_units(question: CastingQuestion, filled: Filled) -> Counts:
    """(plays,): how many of the first five are not from the play's unit and could be."""
    missing = np.zeros(len(question.plays), dtype=np.int64)
    for play in range(len(question.plays)):
        members = unit_members(question, play)
        wanted = min(len(ROLES), len(members))
        missing[play] = max(0, wanted - int(filled[members, play, :, 0].sum()))
    return missing
