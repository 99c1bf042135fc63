"""What the demo club has seen of its opponents: invented like everything in it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from plays.models import Situation
from practice.models import Observation, Opponent
from roster.models import Team

NOTES: Final = (
    "They call their switches early. The tall one stays at the rim.",
    "Pressure on whoever throws in, and a second defender at the first catch.",
)
# Days ago, the kind of throw-in, and the times by defence, for each opponent in turn.
SEEN: Final = (
    (
        (41, Situation.SIDELINE, {"switch": 6, "chase": 3, "trap": 1}),
        (41, Situation.BASELINE, {"zone": 5, "chase": 2}),
        (20, Situation.SIDELINE, {"switch": 8, "chase": 4}),
        (20, Situation.LAST_SHOT, {"switch": 2, "front": 1}),
    ),
    (
        (34, Situation.SIDELINE, {"deny": 4, "trap": 5, "chase": 2}),
        (34, Situation.BASELINE, {"front": 3, "sag": 4, "chase": 1}),
    ),
)


def make_observations(team: Team, today: date) -> None:
    """Notes and counts for the opponents that the team's games name."""
    for opponent, notes, seen in zip(team.opponents.order_by("pk"), NOTES, SEEN, strict=False):
        Opponent.objects.filter(pk=opponent.pk).update(notes=notes)
        Observation.objects.bulk_create(
            Observation(
                opponent=opponent, day=today - timedelta(days=ago), situation=situation, **counts
            )
            for ago, situation, counts in seen
        )
