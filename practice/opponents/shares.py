"""What was seen of opponents, as values for the pages, the call sheet and the choice of plays.

Seen is what the staff noted and what a game's log says: a possession with a defence is a time.
Whoever counted a game by hand has mostly counted the logged possessions too, so that of a defence,
a day and a kind of throw-in the greater of the two numbers counts, never their sum.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Q

from plays.core.defence.stance import Tactic
from plays.core.play import Situation
from plays.models import Situation as SituationChoice
from practice.core.learning.tendencies import DefenceSighting, Tendencies, tendencies
from practice.models import CalledPlay, Observation, Opponent
from roster.models import Team

Kind = tuple[date, Situation, Tactic]
Seen = Mapping[Kind, int]


@dataclass(frozen=True, slots=True)
class LoggedDay:
    """How many possessions of a game's log, with a defence, were against one kind of throw-in."""

    game: int
    day: date
    situation: Situation
    total: int

    @property
    def title(self) -> str:
        """The kind of throw-in for people."""
        return str(SituationChoice(self.situation.value).label)


def tendencies_of(opponent: Opponent) -> Tendencies:
    """What one opponent does, by situation. Two queries."""
    return tendencies_by_opponent(opponent.team, {opponent.pk}).get(opponent.pk, tendencies(()))


def tendencies_by_opponent(
    team: Team, only: Collection[int] | None = None
) -> dict[int, Tendencies]:
    """What each of a team's opponents does, or of ``only`` those, by its key. Two queries."""
    return {key: tendencies(sightings(seen)) for key, seen in _seen(team, only).items()}


def counts_by_opponent(team: Team, only: Collection[int]) -> dict[int, dict[Tactic, int]]:
    """How often each of some opponents did what, in whatever situation. Two queries."""
    found: dict[int, dict[Tactic, int]] = {}
    for key, seen in _seen(team, only).items():
        counts: Counter[Tactic] = Counter()
        for (_day, _situation, tactic), count in seen.items():
            counts[tactic] += count
        found[key] = dict(counts)
    return found


def logged_days(opponent: Opponent) -> list[LoggedDay]:
    """What the logs of the games against an opponent say, the newest first. One query."""
    totals: Counter[tuple[date, int, Situation]] = Counter()
    for row in _logged(Q(game__met=opponent)):
        _key, game, day, situation, _tactic, count = row
        totals[day, game, situation] += count
    rows = sorted(totals.items(), key=lambda item: (item[0][0], item[0][1]), reverse=True)
    return [LoggedDay(game, day, situation, n) for (day, game, situation), n in rows]


def sightings(seen: Seen) -> Iterator[DefenceSighting]:
    """Each defence that was seen, as the core counts it."""
    for (day, situation, tactic), count in seen.items():
        yield DefenceSighting(situation, tactic, count, day)


def _seen(team: Team, only: Collection[int] | None) -> dict[int, dict[Kind, int]]:
    """By opponent, what was noted and what was logged, the greater number of the two."""
    found: defaultdict[int, dict[Kind, int]] = defaultdict(dict)
    logged: Counter[tuple[int, Kind]] = Counter()
    ours = Q(game__team=team, game__met__team=team)
    for key, _game, day, situation, tactic, count in _logged(
        ours if only is None else ours & Q(game__met__in=only)
    ):
        logged[key, (day, situation, tactic)] += count
    for (key, kind), count in logged.items():
        found[key][kind] = count
    noted = Observation.objects.filter(opponent__team=team)
    for row in noted if only is None else noted.filter(opponent__in=only):
        for tactic, count in row.counts.items():
            kind = row.day, Situation(row.situation), tactic
            if count > found[row.opponent_id].get(kind, 0):
                found[row.opponent_id][kind] = count
    return {key: seen for key, seen in found.items() if seen}


def _logged(where: Q) -> Iterable[tuple[int, int, date, Situation, Tactic, int]]:
    """Opponent, game, day, situation, defence and how many possessions: one query."""
    rows = CalledPlay.objects.counted().filter(where).exclude(defence="").order_by()
    columns = ("game__met_id", "game_id", "game__date", "entry__play__situation", "defence")
    for *place, situation, defence, count in rows.values_list(*columns).annotate(n=Count("pk")):
        key, game, day = place
        yield key, game, day, Situation(situation), Tactic(defence), count
