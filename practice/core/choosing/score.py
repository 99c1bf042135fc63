"""What a package is worth: the count that the quick choice and the programme both answer to."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from plays.core.defence.verdict import Tactic
from practice.core.choosing.question import (
    PRICE,
    SECOND,
    Candidate,
    ChosenPackage,
    Occasion,
    PackageQuestion,
    PackageScore,
)
from roster.core.cast import PlayId


def at_hand(
    question: PackageQuestion,
    picks: Collection[PlayId],
    turned: Collection[PlayId],
    occasion: Occasion,
) -> list[Candidate]:
    """The picked plays that can be called on an occasion, in the question's order."""
    return [
        one
        for one in question.candidates
        if one.id in picks
        and (occasion in one.covers or (one.id in turned and occasion in one.turned))
    ]


def ranked(plays: Collection[Candidate], tactic: Tactic) -> list[Candidate]:
    """The best against a defence first; of equals the first one."""
    return sorted(plays, key=lambda one: -one.worth.get(tactic, 0.0))


def score_of(
    question: PackageQuestion, picks: Collection[PlayId], turned: Collection[PlayId]
) -> PackageScore:
    """The score of any set of plays, whether it can be learnt or not."""
    covered = held = 0
    worth = 0.0
    for occasion in question.occasions:
        plays = at_hand(question, picks, turned, occasion)
        covered += bool(plays)
        held += min(question.against, len(held_on(question, plays)))
        for tactic, share in question.faced.items():
            best = [one.worth.get(tactic, 0.0) for one in ranked(plays, tactic)[:2]]
            worth += share * sum(v * w for v, w in zip(best, (1.0, SECOND), strict=False))
    mean = worth / max(1, len(question.occasions))
    return PackageScore(covered, held, mean - PRICE * len(picks))


def held_on(question: PackageQuestion, plays: Collection[Candidate]) -> list[Tactic]:
    """The defences that opponents play and one of these plays has a look against."""
    return [tactic for tactic in question.faced if any(tactic in one.holds for one in plays)]


def learning_of(
    question: PackageQuestion, picks: Collection[PlayId], turned: Collection[PlayId]
) -> tuple[float, dict[str, PlayId]]:
    """Minutes that a set of plays takes, and which play of each series is learnt first.

    Where several plays of a series are in it, the one learnt first is that from which the
    others save most.
    """
    chosen = [one for one in question.candidates if one.id in picks]
    minutes = sum(one.minutes for one in chosen)
    minutes += sum(one.turning for one in chosen if one.id in turned)
    first: dict[str, PlayId] = {}
    for series, members in _series(chosen):
        saved = {lead.id: sum(one.saves.get(lead.id, 0.0) for one in members) for lead in members}
        lead = max(saved, key=lambda play: saved[play])
        if saved[lead] > 0:
            first[series] = lead
            minutes -= saved[lead]
    return minutes, first


def _series(chosen: Collection[Candidate]) -> Iterator[tuple[str, list[Candidate]]]:
    names = dict.fromkeys(one.series for one in chosen if one.series)
    for name in names:
        members = [one for one in chosen if one.series == name]
        if len(members) > 1:
            yield name, members


def fits_in(
    question: PackageQuestion, picks: Collection[PlayId], turned: Collection[PlayId]
) -> bool:
    """Whether a set of plays can be learnt in the time there is."""
    begun = sum(question.by_id[play].begins for play in picks)
    minutes, _ = learning_of(question, picks, turned)
    return begun <= question.beginnings and minutes <= question.minutes + 1e-6


def package_of(
    question: PackageQuestion,
    picks: Collection[PlayId],
    turned: Collection[PlayId],
    bound: float | None = None,
) -> ChosenPackage:
    """The package of these plays, with its score."""
    minutes, first = learning_of(question, picks, turned)
    return ChosenPackage(
        picks=tuple(one.id for one in question.candidates if one.id in picks),
        turned=frozenset(turned) & frozenset(picks),
        first=first,
        minutes=minutes,
        score=score_of(question, picks, turned),
        bound=bound,
    )
