"""After a game: what was called, what gave something against what, who erred, what to practise.

Counts of what was logged, of one game, which prove nothing: no shares, no order among players.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from plays.core.play import Role, role_of
from practice.core.learning.lesson import GameLesson
from practice.core.reps.called import CalledPlay, CallResult, Take
from practice.core.reps.rep import Id
from shared.core.language import N_, NN_, Language

OFTEN: Final = 2  # times in one game, from which something goes on the list; our choice

AGAINST: Final = NN_(
    "Against {defence}: {n} call; points or a foul: {worked}.",
    "Against {defence}: {n} calls; points or a foul: {worked}.",
)
THROWS_MISSING: Final = NN_(
    "The points of {n} foul are missing: nobody logged its throws.",
    "The points of {n} fouls are missing: nobody logged their throws.",
)
BROKE: Final = N_("{play} broke {n} times: walk it through.")
ERRED: Final = N_("In {play} the {role} went wrong {n} times: go over that part.")
LATE: Final = N_("{play} ran into five seconds: rehearse the last look and the way out.")
NOTHING_THERE: Final = N_(
    "{play} was run {n} times and no look was there: hold it against what they did."
)


@dataclass(frozen=True, slots=True)
class AgainstDefence:
    """Calls of a play against one defence, and how many gave points or a foul."""

    defence: Tactic
    calls: int
    worked: int


@dataclass(frozen=True, slots=True)
class PlayCalled:
    """One play in one game. ``ended`` counts results, ``looks`` the looks that were taken.

    ``points`` are those that somebody logged; of the fouls of ``no_throws`` nobody did.
    """

    play: Id
    calls: int
    points: int
    no_throws: int
    ended: Mapping[CallResult, int]
    looks: Mapping[str, int]
    none: int
    broken: int
    worked: int
    against: tuple[AgainstDefence, ...]


@dataclass(frozen=True, slots=True)
class GameSlip:
    """How often a role of a play went wrong, and who was in it then, each once and in no order.

    ``who`` may be fewer than the times, or nobody: the five are not always said.
    """

    play: Id
    role: Role
    times: int
    who: frozenset[Id] = frozenset()


@dataclass(frozen=True, slots=True)
class ToPractise:
    """Something for the next practices; ``slip`` with ``GameLesson.ERRED`` only."""

    play: Id
    lesson: GameLesson
    times: int
    slip: GameSlip | None = None

    @classmethod
    def of(cls, play: Id, lesson: str, role: str, times: int) -> ToPractise:
        """As it was kept: who was in the role is not kept with it."""
        at = role_of(role)
        slip = None if at is None else GameSlip(play, at, times)
        return cls(play, GameLesson(lesson), times, slip)


@dataclass(frozen=True, slots=True)
class AfterGame:
    """Plays by how often they were called, slips by play and role, and the list."""

    lines: tuple[PlayCalled, ...]
    slips: tuple[GameSlip, ...]
    practise: tuple[ToPractise, ...]


def after_game(possessions: Iterable[CalledPlay]) -> AfterGame:
    """Of the possessions of one game."""
    by_play: dict[Id, list[CalledPlay]] = {}
    for each in possessions:
        by_play.setdefault(each.play, []).append(each)
    ranked = sorted(by_play, key=lambda play: -len(by_play[play]))  # first called stays first
    lines = tuple(_line(play, by_play[play]) for play in ranked)
    slips = tuple(slip for play in ranked for slip in _slips(play, by_play[play]))
    return AfterGame(lines, slips, tuple(_lessons(lines, slips)))


def against_text(line: AgainstDefence, language: Language) -> str:
    """What came of a play against one defence."""
    defence = language.say(TACTICS[line.defence])
    return language.say_n(*AGAINST, line.calls, defence=defence, worked=line.worked)


def throws_text(line: PlayCalled, language: Language) -> str:
    """What the points of a play leave out, or nothing."""
    return language.say_n(*THROWS_MISSING, line.no_throws) if line.no_throws else ""


def lesson_text(item: ToPractise, play: str, language: Language) -> str:
    """One line of the list, which names no player."""
    if item.slip is not None:
        return language.say(ERRED, n=item.times, play=play, role=item.slip.role)
    said = {
        GameLesson.FIVE_SECONDS: LATE,
        GameLesson.BROKEN: BROKE,
        GameLesson.NO_LOOK: NOTHING_THERE,
    }[item.lesson]
    slots = {"play": play} if said is LATE else {"play": play, "n": item.times}
    return language.say(said, **slots)


def _line(play: Id, own: Sequence[CalledPlay]) -> PlayCalled:
    met = Counter(each.defence for each in own if each.defence is not None)
    worked = Counter(each.defence for each in own if each.defence is not None and each.worked)
    return PlayCalled(
        play=play,
        calls=len(own),
        points=sum(each.points or 0 for each in own),
        no_throws=sum(each.result is CallResult.FOUL and each.points is None for each in own),
        ended=Counter(each.result for each in own),
        looks=Counter(each.look for each in own if each.look is not None),
        none=sum(each.taken is Take.NONE for each in own),
        broken=sum(each.taken is Take.BROKEN for each in own),
        worked=sum(each.worked for each in own),
        against=tuple(
            AgainstDefence(defence, count, worked[defence]) for defence, count in met.most_common()
        ),
    )


def _slips(play: Id, own: Iterable[CalledPlay]) -> list[GameSlip]:
    by_role: dict[Role, list[Id | None]] = {}
    for each in own:
        if each.erred is not None:
            by_role.setdefault(each.erred, []).append(each.player(each.erred))
    return [
        GameSlip(play, role, len(who), frozenset(one for one in who if one is not None))
        for role, who in sorted(by_role.items())
    ]


def _lessons(lines: Iterable[PlayCalled], slips: Iterable[GameSlip]) -> list[ToPractise]:
    found = []
    for line in lines:
        late = line.ended.get(CallResult.FIVE_SECONDS, 0)
        if late:  # once is enough: the ball was lost without a touch
            found.append(ToPractise(line.play, GameLesson.FIVE_SECONDS, late))
        if line.broken >= OFTEN:
            found.append(ToPractise(line.play, GameLesson.BROKEN, line.broken))
        if line.none >= OFTEN and not line.looks:
            found.append(ToPractise(line.play, GameLesson.NO_LOOK, line.none))
    found += [
        ToPractise(slip.play, GameLesson.ERRED, slip.times, slip)
        for slip in slips
        if slip.times >= OFTEN
    ]
    return sorted(found, key=lambda item: list(GameLesson).index(item.lesson))
