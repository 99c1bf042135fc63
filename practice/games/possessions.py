"""The possessions that count, as values: what estimates and the page after a game start from."""

from __future__ import annotations

from practice.core.reps.called import CalledPlay as CalledPlayValue
from practice.models import CalledPlay, Game
from practice.reps.sums import called_values_of
from roster.models import PackagePlay, Team


def possessions_of(
    team: Team, *, game: Game | None = None, entry: PackagePlay | None = None
) -> tuple[CalledPlayValue, ...]:
    """Every counted possession of a team, the oldest first: two queries, however many.

    With a game or an entry only what is of it. ``play`` is the key of the carried play,
    ``revision`` of the state that was run: a look's id is one of that state. ``points`` is None
    where the possession went on, or nobody said what the free throws gave.
    """
    rows = CalledPlay.objects.counted().filter(game__team=team)
    if game is not None:
        rows = rows.filter(game=game)
    if entry is not None:
        rows = rows.filter(entry=entry)
    return tuple(called_values_of(rows.order_by("game__date", "game__start", "at", "pk")))
