"""What the demo club has seen of its opponents: invented like everything in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Final

from plays.models import Situation
from practice.models import Observation, Opponent
from roster.models import Team

NOTES: Final = {
    "Millbrook Magpies": "They call their switches early. The tall one stays at the rim.",
    "Ostergate Owls": "Pressure on whoever throws in, and a second defender at the first catch.",
    "Quillford Quails": "They wait in their zone, whatever we call.",
    "Saltmoor Swallows": "Man to man all game. Number 8 cheats into the lane.",
}
# Days ago, the kind of throw-in, and the times by defence, for each opponent.
SEEN: Final[Mapping[str, Sequence[tuple[int, Situation, Mapping[str, int]]]]] = {
    "Millbrook Magpies": (
        (41, Situation.SIDELINE, {"switch": 6, "chase": 3, "trap": 1}),
        (41, Situation.BASELINE, {"zone": 5, "chase": 2}),
        (20, Situation.SIDELINE, {"switch": 8, "chase": 4}),
        (20, Situation.LAST_SHOT, {"switch": 2, "front": 1}),
    ),
    "Ostergate Owls": (
        (34, Situation.SIDELINE, {"deny": 4, "trap": 5, "chase": 2}),
        (34, Situation.BASELINE, {"front": 3, "sag": 4, "chase": 1}),
    ),
    "Quillford Quails": (
        (37, Situation.SIDELINE, {"zone": 7, "sag": 2}),
        (37, Situation.BASELINE, {"zone": 6}),
    ),
    "Saltmoor Swallows": (
        (30, Situation.SIDELINE, {"chase": 7, "deny": 1}),
        (30, Situation.BASELINE, {"chase": 3, "sag": 2}),
    ),
}


def make_observations(team: Team, today: date) -> None:
    """Notes and counts for the opponents that the team's games name."""
    for opponent in team.opponents.order_by("pk"):
        Opponent.objects.filter(pk=opponent.pk).update(notes=NOTES[opponent.name])
        Observation.objects.bulk_create(
            Observation(
                opponent=opponent, day=today - timedelta(days=ago), situation=situation, **counts
            )
            for ago, situation, counts in SEEN[opponent.name]
        )
