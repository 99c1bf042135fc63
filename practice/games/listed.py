"""What was called in a game, as its page lists it: one line a possession."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from plays.core.play import Play
from plays.values import play_value, read_ahead
from practice.core.reps.called import CalledPlay as CalledPlayValue
from practice.games.forms import clock_told
from practice.models import CalledPlay, Game
from practice.reps.called_words import defence_told, look_told, looks_told, result_told
from practice.reps.sums import called_value
from roster.models import PackagePlay
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class CalledLine:
    """One possession in words. ``clock`` is the time left, or empty."""

    id: str
    at: datetime
    call: str
    defence: str
    look: str
    result: str
    period: int | None
    clock: str

    @classmethod
    def of(
        cls, called: CalledPlayValue, play: Play, language: Language, call: str = ""
    ) -> CalledLine:
        """A possession in the words of the play that was run."""
        return cls(
            id=called.id,
            at=called.at,
            call=call,
            defence=defence_told(called.defence),
            look=look_told(dict(looks_told(play, language)), called.taken, called.look),
            result=result_told(called.result, called.points),
            period=called.period,
            clock=clock_told(called.clock),
        )

    @property
    def told(self) -> str:
        """As the record of changes keeps it."""
        return " · ".join(each for each in (self.defence, self.look, self.result) if each)


def lines_of(game: Game, language: Language) -> tuple[CalledLine, ...]:
    """The counted possessions of a game, the last one first: constant queries."""
    rows = list(
        CalledPlay.objects.counted()
        .filter(game=game)
        .select_related("game", "revision")
        .defer("revision__document")
        .order_by("-at", "pk")
    )
    read_ahead(row.revision for row in rows)
    plays = PackagePlay.objects.filter(pk__in={row.entry_id for row in rows})
    entries = {entry.pk: entry for entry in plays.prefetch_related("castings__player")}
    heard = {
        (row.entry_id, row.call or ""): entries[row.entry_id].heard(row.call or "") for row in rows
    }
    return tuple(
        CalledLine.of(
            called_value(row, {}),
            play_value(row.revision),
            language,
            heard[row.entry_id, row.call or ""],
        )
        for row in rows
    )
