"""How players and plays are called in a sentence: the one place that says who is who.

A player is "Ida" where one Ida is on the team and "Ida (7)" where there are two; lists of people
that stand by themselves say "Ida (7)" always.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from plays.core.calls import CallName, told_apart
from roster.core.cast import PlayerId, PlayId
from shared.core.language import ENGLISH, Language


@dataclass(frozen=True, slots=True)
class Names:
    """Names by id, and the language to speak; an id without a name speaks for itself."""

    players: Mapping[PlayerId, str] = field(default_factory=dict)
    plays: Mapping[PlayId, str] = field(default_factory=dict)
    language: Language = ENGLISH

    @classmethod
    def of(
        cls,
        people: Mapping[PlayerId, CallName],
        plays: Mapping[PlayId, str] | None = None,
        language: Language = ENGLISH,
    ) -> Names:
        """The names of a team, each told apart from all others."""
        return cls(told_apart(people, language), plays or {}, language)

    def player(self, player: PlayerId) -> str:
        return self.players.get(player, str(player))

    def play(self, play: PlayId) -> str:
        return self.plays.get(play, str(play))

    def all_players(self, players: Iterable[PlayerId]) -> str:
        """As in "Ida, Noor and Mia"."""
        return self.language.all_of([self.player(player) for player in players])

    def all_plays(self, plays: Iterable[PlayId]) -> str:
        return self.language.all_of([self.play(play) for play in plays])
