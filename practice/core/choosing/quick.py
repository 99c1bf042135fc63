"""A package at once: one step after the other, each the one that brings most for its minutes.

It has no guarantee; ``programme`` says how far it is from the best.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from practice.core.choosing.question import (
    ChosenPackage,
    PackageQuestion,
    PackageScore,
    PinnedTooMuchError,
)
from practice.core.choosing.score import fits_in, learning_of, package_of, score_of
from roster.core.cast import PlayId

TIE: Final = 1e-9
ROUNDS: Final = 40  # of swaps, at most: each betters the package, so it ends by itself
LEAST_MINUTES: Final = 0.5  # by which a gain is divided, so that what costs nothing has a rate

State = tuple[frozenset[PlayId], frozenset[PlayId]]  # the picks, and those taught from both sides


def quick_package(question: PackageQuestion) -> ChosenPackage:
    """A package within the minutes, with the pins. Raises PinnedTooMuchError."""
    state: State = (pins_that_fit(question), frozenset())
    state = _grown(question, state)
    for _ in range(ROUNDS):
        better = _swapped(question, state)
        if better is None:
            break
        state = _grown(question, better)
    return package_of(question, *state)


def pins_that_fit(question: PackageQuestion) -> frozenset[PlayId]:
    """The pinned plays. Raises PinnedTooMuchError where they cannot be carried together."""
    pins = question.pinned
    begun = sum(question.by_id[play].begins for play in pins)
    minutes, _ = learning_of(question, pins, ())
    if question.count is not None and len(pins) > question.count:
        raise PinnedTooMuchError("plays", len(pins), question.count)
    if begun > question.beginnings:
        raise PinnedTooMuchError("beginnings", begun, question.beginnings)
    if minutes > question.minutes + 1e-6:
        raise PinnedTooMuchError("minutes", minutes, question.minutes)
    return pins


def _grown(question: PackageQuestion, state: State) -> State:
    """Add plays and other sides, as long as one betters the package."""
    while True:
        now, spent = score_of(question, *state), learning_of(question, *state)[0]
        best: tuple[float, float, float] | None = None
        chosen: State | None = None
        for after in _steps(question, state):
            fresh = score_of(question, *after)
            if not _better(fresh, now) or not fits_in(question, *after):
                continue
            cost = max(LEAST_MINUTES, learning_of(question, *after)[0] - spent)
            rate = (
                (fresh.covered - now.covered) / cost,
                (fresh.held - now.held) / cost,
                (fresh.worth - now.worth) / cost,
            )
            if best is None or rate > best:
                best, chosen = rate, after
        if chosen is None:
            return state
        state = chosen


def _steps(question: PackageQuestion, state: State) -> Iterator[State]:
    picks, turned = state
    full = question.count is not None and len(picks) >= question.count
    for one in question.open:
        if one.id not in picks and not full:
            yield picks | {one.id}, turned
            if one.turned:
                yield picks | {one.id}, turned | {one.id}
        elif one.id in picks and one.turned and one.id not in turned:
            yield picks, turned | {one.id}


def _swapped(question: PackageQuestion, state: State) -> State | None:
    """The best package with one play out, or another in its place; None where none is better."""
    picks, turned = state
    best, found = score_of(question, *state), None
    for gone in sorted(picks - question.pinned, key=str):
        less = picks - {gone}, turned - {gone}
        for after in (less, *_steps(question, less)):
            fresh = score_of(question, *after)
            if _better(fresh, best) and fits_in(question, *after):
                best, found = fresh, after
    return found


def _better(one: PackageScore, other: PackageScore) -> bool:
    if (one.covered, one.held) != (other.covered, other.held):
        return (one.covered, one.held) > (other.covered, other.held)
    return one.worth > other.worth + TIE
