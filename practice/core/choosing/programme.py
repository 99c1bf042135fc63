"""The best package, as an integer programme in three stages, by HiGHS.

First as many occasions as can be covered, then as many defences held against, then the worth,
each without giving up what the stage before has reached. Which play answers a defence on an
occasion is a facility location (Cornuéjols, Fisher and Nemhauser 1977, Manage Sci 23:789: from
memory): the plays are the sites, each pair of occasion and defence a customer with a first and a
second choice.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from practice.core.choosing.question import (
    PRICE,
    SECOND,
    Candidate,
    ChosenPackage,
    Occasion,
    PackageQuestion,
)
from practice.core.choosing.quick import pins_that_fit, quick_package
from practice.core.choosing.score import package_of
from roster.core.cast import PlayId
from shared.core.milp import INFEASIBLE, Growing, Milp, Rows, Solved, Term, solved, weighted

Clock = Callable[[], float]


class NoSuchPackageError(ValueError):
    """No package has so many plays within the minutes."""


class _OutOfTimeError(Exception):
    """The time was over before anything was found."""


@dataclass(slots=True)
class _Columns:
    """The columns of the programme by what they stand for."""

    pick: dict[PlayId, int] = field(default_factory=dict)
    turn: dict[PlayId, int] = field(default_factory=dict)
    covered: list[int] = field(default_factory=list)
    held: list[int] = field(default_factory=list)


def best_package(
    question: PackageQuestion, seconds: float | None = None, clock: Clock | None = None
) -> ChosenPackage:
    """The best package there is, or the best found within ``seconds`` by ``clock``.

    Where the time is over before the search has found anything, the quick package, without a
    bound. Raises PinnedTooMuchError, and NoSuchPackageError where ``count`` plays do not fit.
    """
    pins_that_fit(question)
    try:
        return _searched(question, seconds, clock)
    except _OutOfTimeError:
        found = quick_package(question)
        if question.count not in (None, len(found.picks)):
            raise NoSuchPackageError from None
        return found


def _searched(
    question: PackageQuestion, seconds: float | None, clock: Clock | None
) -> ChosenPackage:
    rows, columns = Growing(), _Columns()
    _plays(rows, columns, question)
    for occasion in question.occasions:
        _occasion(rows, columns, question, occasion)
    _learning(rows, columns, question)
    began = clock() if clock else 0.0

    def left() -> float | None:
        return None if seconds is None or clock is None else seconds - (clock() - began)

    programme = rows.milp()
    for stage in (columns.covered, columns.held):
        programme = _kept(programme, stage, left())
    found = solved(programme, left(), gap=0.0)
    return _read(question, columns, found)


def _kept(programme: Milp, stage: list[int], seconds: float | None) -> Milp:
    """The programme that gives up nothing of the most that a stage can reach."""
    cost = np.zeros_like(programme.cost)
    cost[stage] = -1.0
    found = solved(replace(programme, cost=cost), seconds, gap=0.0)
    if found.fun is None:
        raise NoSuchPackageError if found.status == INFEASIBLE else _OutOfTimeError
    reached = Rows()
    # Half a step below: both stages count in whole numbers.
    reached.at_most(weighted(stage, -1.0), round(found.fun) + 0.5)
    return programme.with_rows(reached) if stage else programme


def _read(question: PackageQuestion, columns: _Columns, found: Solved) -> ChosenPackage:
    if found.x is None:
        raise NoSuchPackageError if found.status == INFEASIBLE else _OutOfTimeError
    picks = {play for play, column in columns.pick.items() if found.x[column] > 0.5}
    turned = {play for play, column in columns.turn.items() if found.x[column] > 0.5}
    useful = {play for play in turned if _turned_here(question, question.by_id[play])}
    return package_of(question, picks, useful, bound=None if found.bound is None else -found.bound)


def _turned_here(question: PackageQuestion, one: Candidate) -> frozenset[Occasion]:
    return (one.turned - one.covers) & frozenset(question.occasions)


def _plays(rows: Growing, columns: _Columns, question: PackageQuestion) -> None:
    for one in question.open:
        least = 1.0 if one.id in question.pinned else 0.0
        columns.pick[one.id] = pick = rows.column(least, 1.0, -PRICE, integer=True)
        if _turned_here(question, one):
            columns.turn[one.id] = turn = rows.column(0.0, 1.0, integer=True)
            rows.at_most([(turn, 1.0), (pick, -1.0)], 0.0)
    if question.count is not None:
        every = list(columns.pick.values())
        rows.at_most(weighted(every, 1.0), question.count)
        rows.at_most(weighted(every, -1.0), -question.count)
    begun = [columns.pick[one.id] for one in question.open if one.begins]
    rows.at_most(weighted(begun, 1.0), question.beginnings)


def _occasion(
    rows: Growing, columns: _Columns, question: PackageQuestion, occasion: Occasion
) -> None:
    """Whether an occasion is covered, what holds there, and which plays are called first."""
    ways = [
        (one, columns.pick[one.id] if occasion in one.covers else columns.turn[one.id])
        for one in question.open
        if occasion in one.covers or occasion in one.turned
    ]
    covered = rows.column(0.0, 1.0)
    columns.covered.append(covered)
    rows.at_most([(covered, 1.0), *weighted([way for _, way in ways], -1.0)], 0.0)
    held = rows.column(0.0, question.against)
    columns.held.append(held)
    against = []
    for tactic, share in question.faced.items():
        holds = rows.column(0.0, 1.0)
        against.append(holds)
        who = [way for one, way in ways if tactic in one.holds]
        rows.at_most([(holds, 1.0), *weighted(who, -1.0)], 0.0)
        value = share / len(question.occasions)
        worth = {way: value * one.worth.get(tactic, 0.0) for one, way in ways}
        _called(rows, {way: each for way, each in worth.items() if each > 0})
    rows.at_most([(held, 1.0), *weighted(against, -1.0)], 0.0)


def _called(rows: Growing, worth: dict[int, float]) -> None:
    """One play is called first and one second, if they are carried; never the same for both."""
    first = {way: rows.column(0.0, 1.0, value) for way, value in worth.items()}
    second = {way: rows.column(0.0, 1.0, SECOND * value) for way, value in worth.items()}
    rows.at_most(weighted(list(first.values()), 1.0), 1.0)
    rows.at_most(weighted(list(second.values()), 1.0), 1.0)
    for way in worth:
        rows.at_most([(first[way], 1.0), (second[way], 1.0), (way, -1.0)], 0.0)


def _learning(rows: Growing, columns: _Columns, question: PackageQuestion) -> None:
    """The minutes: one play of a series is learnt first, and the others save by it."""
    terms: list[Term] = [(columns.pick[one.id], one.minutes) for one in question.open]
    terms += [(turn, question.by_id[play].turning) for play, turn in columns.turn.items()]
    series = dict.fromkeys(one.series for one in question.open if one.series)
    for name in series:
        members = [one for one in question.open if one.series == name]
        leads = {one.id: rows.column(0.0, 1.0, integer=True) for one in members}
        rows.at_most(weighted(list(leads.values()), 1.0), 1.0)
        for one in members:
            rows.at_most([(leads[one.id], 1.0), (columns.pick[one.id], -1.0)], 0.0)
            behind = []
            for lead, saved in one.saves.items():
                if lead in leads and lead != one.id and saved > 0:
                    both = rows.column(0.0, 1.0)
                    rows.at_most([(both, 1.0), (leads[lead], -1.0)], 0.0)
                    behind.append(both)
                    terms.append((both, -saved))
            rows.at_most([*weighted(behind, 1.0), (columns.pick[one.id], -1.0)], 0.0)
    rows.at_most(terms, question.minutes)
