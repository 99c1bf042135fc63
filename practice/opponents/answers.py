"""What the plays that a team carries have against what an opponent does, defence by defence."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.check.results import code_state
from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from plays.core.words.terms import answered, own_words
from plays.models import CheckResult
from plays.values import play_value, read_ahead
from practice.core.learning.coming import MAN_TO_MAN
from practice.core.learning.tendencies import SEEN, Tendency
from roster.cast.changes import package_with_cast
from roster.models import PackagePlay, Team
from shared.core.language import Language

MOST: Final = 4  # defences that are answered, those seen most


@dataclass(frozen=True, slots=True)
class CounterLine:
    """A play with a counter: what the coach says of it, headed where not all of them do it."""

    entry: PackagePlay
    heading: str
    says: str


@dataclass(frozen=True, slots=True)
class DefenceAnswers:
    """A defence, how often it was seen, and the carried plays by what they have against it.

    ``looks`` have no counter and a look that is there all the same, by the check of the library;
    ``unknown`` are those whose state the check has not reckoned for this age group.
    """

    defence: str
    seen: str
    counters: tuple[CounterLine, ...]
    looks: tuple[PackagePlay, ...]
    none: tuple[PackagePlay, ...]
    unknown: tuple[PackagePlay, ...]


def answers(team: Team, seen: Tendency, language: Language) -> list[DefenceAnswers]:
    """For each defence that was seen, the most frequent first: a constant number of queries."""
    if not seen.shares:
        return []
    entries = list(package_with_cast(team))
    read_ahead(entry.revision for entry in entries)
    there = _there(team, entries)
    return [
        _answers(
            entries,
            share.defence,
            language.say_n(*SEEN, share.total, count=share.count),
            there,
            language,
        )
        for share in seen.shares[:MOST]
    ]


def _answers(
    entries: Sequence[PackagePlay],
    tactic: Tactic,
    seen: str,
    there: Mapping[tuple[str, Tactic], bool],
    language: Language,
) -> DefenceAnswers:
    counters: list[CounterLine] = []
    by_looks: dict[bool | None, list[PackagePlay]] = {True: [], False: [], None: []}
    checked = Tactic.CHASE if tactic in MAN_TO_MAN else tactic
    for entry in entries:
        found = list(_counters(entry, tactic, language))
        counters += found
        if not found:
            by_looks[there.get((entry.revision.content_hash, checked))].append(entry)
    return DefenceAnswers(
        defence=language.say(TACTICS[tactic]),
        seen=seen,
        counters=tuple(counters),
        looks=tuple(by_looks[True]),
        none=tuple(by_looks[False]),
        unknown=tuple(by_looks[None]),
    )


def _counters(entry: PackagePlay, tactic: Tactic, language: Language) -> Iterable[CounterLine]:
    """The first counter that a play has for a defence; a further one is on the play's page."""
    for counter in play_value(entry.revision).counters:
        if counter.defence.value == tactic.value:
            says = own_words(counter, language)
            heading = answered(counter, language) if counter.whose or not says else ""
            yield CounterLine(entry, heading, says)
            return


def _there(team: Team, entries: Iterable[PackagePlay]) -> dict[tuple[str, Tactic], bool]:
    """Whether a look of the carried state is there, by content and defence."""
    hashes = {entry.revision.content_hash for entry in entries}
    rows = CheckResult.objects.filter(
        content_hash__in=hashes, age=team.age_group, code=code_state()
    ).values_list("content_hash", "defence", "there")
    return {(content, Tactic(defence)): there > 0 for content, defence, there in rows}
