"""What was seen of opponents, as values for the pages, the call sheet and the choice of plays."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plays.core.play import Situation
from practice.core.learning.tendencies import DefenceSighting, Tendencies, tendencies
from practice.models import Observation, Opponent
from roster.models import Team


def tendencies_of(opponent: Opponent) -> Tendencies:
    """What one opponent does, by situation. One query."""
    return tendencies(sightings(opponent.observations.all()))


def tendencies_of_all(team: Team) -> Tendencies:
    """What a team's opponents do, taken together. One query."""
    return tendencies(sightings(Observation.objects.filter(opponent__team=team)))


def tendencies_by_opponent(team: Team) -> dict[int, Tendencies]:
    """What each of a team's opponents does, by its key. One query."""
    rows: dict[int, list[Observation]] = {}
    for row in Observation.objects.filter(opponent__team=team):
        rows.setdefault(row.opponent_id, []).append(row)
    return {key: tendencies(sightings(own)) for key, own in rows.items()}


def sightings(rows: Iterable[Observation]) -> Iterator[DefenceSighting]:
    """Each defence that was seen, as the core counts it."""
    for row in rows:
        for tactic, count in row.counts.items():
            if count:
                yield DefenceSighting(Situation(row.situation), tactic, count, row.day)
