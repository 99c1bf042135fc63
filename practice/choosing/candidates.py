"""The plays of the library as the choice sees them: occasions, minutes, worth, and bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from plays.check.results import ShelfRow
from plays.core.defence.verdict import index
from plays.core.play import ROLES, AgeGroup, Situation
from plays.core.play import Play as PlayValue
from practice.choosing.judging import OwnVerdict, Verdicts, library_verdicts
from practice.core.choosing.learning import MOST, saved_by, walking
from practice.core.choosing.question import Candidate, Occasion, RuledOut
from practice.core.install.question import Rules
from practice.core.reps.rep import Id
from roster.core.cast import PlayId
from roster.models import Availability, Player, Team

GROUPS = tuple(AgeGroup)
SIDES = {"left": Occasion.LEFT, "right": Occasion.RIGHT}
SITUATIONS: Mapping[Situation, Occasion] = {
    Situation.BASELINE: Occasion.BASELINE,
    Situation.PRESS_BREAK: Occasion.PRESSURE,
    Situation.LAST_SHOT: Occasion.LAST_SHOT,
    Situation.HALF_COURT: Occasion.HALF_COURT,
    Situation.AFTER_TIMEOUT: Occasion.AFTER_TIMEOUT,
}


def verdicts_of(row: ShelfRow, own: Mapping[str, Verdicts], age: str) -> Verdicts | None:
    return own.get(row.play.published().content_hash) or library_verdicts(row, age)


@dataclass(frozen=True, slots=True)
class ChoiceShelf:
    """What is known of the plays, by play."""

    values: Mapping[int, PlayValue]
    judged: Mapping[int, Verdicts | None]
    fits: Mapping[PlayId, float]
    minutes: Mapping[Id, float | None]
    run: set[Id]
    rules: Rules

    def candidate(self, pk: int) -> Candidate:
        """A play as the choice sees it, but for its level and the size of the squad."""
        value, judged, minutes = self.values[pk], self.judged[pk] or {}, self.minutes[pk]
        covers, turned = occasions_of(value)
        takes = MOST if minutes is None else minutes
        begins = pk not in self.run
        return Candidate(
            id=pk,
            covers=covers,
            turned=turned,
            series=value.series,
            minutes=takes,
            turning=walking(self.rules) if turned else 0.0,
            saves={play: min(saved, takes) for play, saved in self._saved(pk) if begins},
            worth={tactic: _worth(one) * self.fits[pk] for tactic, one in judged.items()},
            holds=frozenset(tactic for tactic, one in judged.items() if one.there),
            begins=begins,
            bar=_bar(self.judged[pk], minutes),
        )

    def _saved(self, pk: int) -> Iterator[tuple[int, float]]:
        for other, value in self.values.items():
            saved = 0.0 if other == pk else saved_by(self.values[pk], value, self.rules)
            if saved > 0:
                yield other, saved


def _worth(judged: OwnVerdict) -> float:
    """How often of once such a pass was thrown by professionals; 0 without a look in time."""
    return 0.0 if judged.margin is None else index(judged.margin)


def _bar(judged: Verdicts | None, minutes: float | None) -> RuledOut | None:
    if judged is None:
        return RuledOut.UNCHECKED
    if not any(one.suits for one in judged.values()):
        return RuledOut.SERIOUS
    return RuledOut.TIME if minutes is None else None


def barred(
    candidates: Sequence[Candidate],
    rows: Sequence[ShelfRow],
    team: Team,
    players: Sequence[Player],
) -> tuple[Candidate, ...]:
    """With what is barred for its level, or since there are not five to play it."""
    able = sum(player.availability != Availability.OUT for player in players)
    ours = GROUPS.index(AgeGroup(team.age_group))
    return tuple(
        replace(one, bar=RuledOut.LEVEL)
        if GROUPS.index(AgeGroup(row.play.level)) > ours
        else replace(one, bar=RuledOut.NO_FIVE)
        if able < len(ROLES)
        else one
        for one, row in zip(candidates, rows, strict=True)
    )


def occasions_of(play: PlayValue) -> tuple[frozenset[Occasion], frozenset[Occasion]]:
    """When a play can be called as it is drawn, and when besides once taught from both sides."""
    if play.situation is not Situation.SIDELINE:
        return frozenset({SITUATIONS[play.situation]}), frozenset()
    drawn = SIDES[play.spot.side if play.spot else "right"]
    both = frozenset(SIDES.values())
    if any(variant.mirror for variant in play.variants):
        return both, frozenset()
    return frozenset({drawn}), both - {drawn}
