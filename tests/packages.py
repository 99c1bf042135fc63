"""More plays for the cast's team, as the demo club has them."""

from __future__ import annotations

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from tests.cast import Cast


def carried(cast: Cast, play: str, role: int) -> int:
    """The team carries one more play; its last starter is first in ``role``."""
    published = factories.published(demo_play(play), cast.keeper)
    entry = factories.PackagePlayFactory.create(team=cast.team, play=published, call=play)
    for number in range(1, 6):
        player = cast.players[(number - 1 - role + 5) % 5]
        factories.CastingFactory.create(entry=entry, role=str(number), player=player)
    return int(entry.pk)
