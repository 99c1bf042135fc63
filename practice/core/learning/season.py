"""The season so far, play by play: kept, fading, never called, dropped."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import comb
from typing import Final

from practice.core.reps.called import CalledPlay
from practice.core.reps.rep import Id

RECENT_SHARE: Final = 1 / 3  # of the games, the last ones; our choice
FEWEST_GAMES: Final = 3  # below, nothing fades
RARE: Final = 0.01  # a fall rarer than this by luck is told: over 40 plays one in some seasons


class PlayState(StrEnum):
    """What has become of a play."""

    KEPT = "kept"
    FADING = "fading"  # called far less in the last third of the games
    NEVER = "never"  # carried, and not called in any game
    DROPPED = "dropped"  # called once, and carried no longer


@dataclass(frozen=True, slots=True)
class SeasonPlayLine:
    """One play: its calls game by game, in the order of the games.

    ``luck`` is how likely so few of its calls fell into the last third if nothing had changed.
    """

    play: Id
    state: PlayState
    calls: tuple[int, ...]
    luck: float

    @property
    def total(self) -> int:
        return sum(self.calls)

    @property
    def recent(self) -> tuple[int, ...]:
        """The last third of the games: those that fading is judged by."""
        return self.calls[-_recent(len(self.calls)) :]


def season_lines(
    possessions: Iterable[CalledPlay], games: Sequence[Id], carried: Collection[Id]
) -> tuple[SeasonPlayLine, ...]:
    """Every play that is carried or was called; ``games`` are those played, the oldest first.

    Possessions of other games are left out. Plays that are called most come first.
    """
    place = {game: n for n, game in enumerate(games)}
    counts: dict[Id, Counter[int]] = {play: Counter() for play in carried}
    for each in possessions:
        if each.game in place:
            counts.setdefault(each.play, Counter())[place[each.game]] += 1
    table = {play: tuple(own[n] for n in range(len(games))) for play, own in counts.items()}
    whole = tuple(sum(column) for column in zip(*table.values(), strict=True))
    lines = []
    for play, calls in table.items():
        luck = luck_of_fall(calls, whole)
        lines.append(SeasonPlayLine(play, _state(calls, luck, play in carried), calls, luck))
    return tuple(sorted(lines, key=lambda line: -line.total))


def luck_of_fall(calls: Sequence[int], whole: Sequence[int]) -> float:
    """How likely as few of a play's calls fell into the last third of the games by luck.

    Fisher's exact test, one-sided: its calls against all calls, the last third against the games
    before (the hypergeometric distribution). 1 where there are too few games to tell.
    """
    if len(calls) < FEWEST_GAMES or not sum(calls):
        return 1.0
    recent = _recent(len(calls))
    late, all_late = sum(calls[-recent:]), sum(whole[-recent:])
    own, before = sum(calls), sum(whole) - all_late
    ways = sum(comb(all_late, k) * comb(before, own - k) for k in range(late + 1))
    return ways / comb(sum(whole), own)


def _recent(games: int) -> int:
    return max(1, round(RECENT_SHARE * games))


def _state(calls: Sequence[int], luck: float, is_carried: bool) -> PlayState:
    if not is_carried:
        return PlayState.DROPPED
    if not sum(calls):
        return PlayState.NEVER
    return PlayState.FADING if luck < RARE else PlayState.KEPT
