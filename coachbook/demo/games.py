"""The games that the demo club has played: who was out, what was called, and what came of it.

Plain values, drawn from a seeded generator like the season. What is called and whether it runs
clean follows from readiness; whether a look is there, from the guess and the defence too.
Two guesses are wrong on purpose, so that the pages have something to say.
"""

from __future__ import annotations

import math
import uuid
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Final
from zoneinfo import ZoneInfo

from coachbook.demo.opponents import SEEN
from plays.core.defence.stance import Tactic
from plays.core.play import ROLES, Role, Situation
from practice.core.instants import later
from practice.core.learning.order import LookOrder, LookPlace
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import readiness
from practice.core.reps.called import CalledPlay, CallResult, Take
from practice.core.reps.rep import Id, Touch, as_cast

OPPONENTS: Final = (
    "Millbrook Magpies",
    "Quillford Quails",
    "Ostergate Owls",
    "Saltmoor Swallows",
)
PLAYED, WEEKENDS = 8, 6
TWO_DAYS: Final = (2, 4)  # the weekends, counted back from the last, with a game on Sunday too
START: Final = time(14, 30)
PERIODS, PERIOD_MINUTES, PERIOD_TAKES = 4, 10, 20  # minutes on the clock, and in the hall
CALLS: Final = (13, 18)  # plays called in a game, fewest and most
SQUAD: Final = 12
LEFT_ALONE: Final = timedelta(days=10)  # not practised for so long, it is hardly called
UNSAID: Final = 0.1  # how often nobody said the defence, and nobody the five
# Log-odds by which a guess is off: what the coach has not noticed.
OFF: Final[Mapping[tuple[str, str], float]] = {
    ("harbour-light", "duck-in"): 5.0,
    ("tow-rope", "corner"): -5.0,
}
# Who goes wrong more often than the others, by play and role; most of all in the last game.
PRONE: Final = {("gangway", "3"): 6.0}
LAST: Final = 5.0  # times
FAVOURED: Final = {
    "harbour-light": 1.5,
    "tow-rope": 4.5,
    "bow-wave": 3.0,
}  # called oftener than others


@dataclass(frozen=True, slots=True)
class GamePlay:
    """A play as it is called: ``name`` is its key in the library, ``calls`` its calls by turns.

    ``until`` is the day from which on it is carried no longer.
    """

    key: Id
    name: str
    revision: Id
    situation: Situation
    order: LookOrder
    priority: int
    cast: Mapping[Role, tuple[Id, ...]]
    calls: tuple[str, ...] = ()
    until: date | None = None


@dataclass(frozen=True, slots=True)
class GameTeam:
    """Whose games these are; ``history`` is what it has run, ``out`` who is out until cleared."""

    plays: tuple[GamePlay, ...]
    players: tuple[Id, ...]
    history: tuple[Touch, ...]
    absent: Mapping[date, Collection[Id]]  # by practice
    place: str
    out: frozenset[Id] = frozenset()
    limited: frozenset[Id] = frozenset()


@dataclass(frozen=True, slots=True)
class PlayedGame:
    """``called`` says ``number`` for its game; ``undone`` are ids that somebody took back at once,
    ``held`` what a phone sent that cannot count as it is."""

    number: int
    starts: datetime
    opponent: str
    place: str
    out: frozenset[Id]
    called: tuple[CalledPlay, ...]
    undone: tuple[str, ...] = ()
    held: tuple[CalledPlay, ...] = ()


def played_games(
    chance: Random, team: GameTeam, today: date, zone: ZoneInfo
) -> tuple[PlayedGame, ...]:
    """Eight games in the six weeks before ``today``, the oldest first."""
    days = game_days(today)
    return tuple(
        _Game(chance, team, number, datetime.combine(day, START, zone)).played()
        for number, day in enumerate(days, start=1)
    )


def game_days(today: date) -> list[date]:
    """Every Saturday of six weeks, and two of the Sundays: all before ``today``."""
    last = today - timedelta(days=(today.weekday() - 5) % 7 or 7)
    days = [last - timedelta(weeks=n) for n in range(WEEKENDS)]
    days += [last - timedelta(weeks=n, days=-1) for n in TWO_DAYS]
    return sorted(days)[-PLAYED:]


@dataclass
class _Game:
    """Draws one game, possession by possession."""

    chance: Random
    team: GameTeam
    number: int
    starts: datetime
    known: dict[Id, float] = field(default_factory=dict)  # readiness of the first five, by play

    def played(self) -> PlayedGame:
        opponent = OPPONENTS[(self.number - 1) % len(OPPONENTS)]
        out = self.missing()
        plays = self.plays()
        moments = self.moments(self.chance.randint(*CALLS))
        called = tuple(self.called(self.choose(plays), opponent, out, at) for at in moments)
        return PlayedGame(
            number=self.number,
            starts=self.starts,
            opponent=opponent,
            place=self.team.place if self.number % 2 else "",
            out=out,
            called=called,
            undone=(called[3].id,) if self.number == 4 else (),
            held=self.late(opponent, out) if self.number == PLAYED else (),
        )

    def missing(self) -> frozenset[Id]:
        """Who is out, half of who missed the last practice, and who is one too many."""
        day = self.starts.date()
        before = max((each for each in self.team.absent if each < day), default=None)
        gone = set(self.team.absent[before]) if before else set()
        out = {
            *self.team.out,
            *(who for who in sorted(gone, key=str) if self.chance.random() < 0.5),
        }
        for who in (*self.team.limited, *reversed(self.team.players)):
            if len(self.team.players) - len(out) <= SQUAD:
                break
            out.add(who)
        return frozenset(out)

    def plays(self) -> dict[Id, tuple[GamePlay, float]]:
        """What the team can call by now, and how much it is liked."""
        found = {}
        for play in self.team.plays:
            day = self.starts.date()
            if play.until is not None and day >= play.until:
                continue
            run = [touch.at for touch in self.team.history if touch.play == play.key]
            past = [at for at in run if at < self.starts]
            if not past and play.until is None:
                continue
            self.known[play.key] = known = self.readiness(play)
            liked = (4 - play.priority) * (0.15 + known) * FAVOURED.get(play.name, 1.0)
            if past and self.starts - max(past) > LEFT_ALONE:
                liked *= 0.02
            found[play.key] = (play, liked)
        return found

    def readiness(self, play: GamePlay) -> float:
        """The mean of the first five, 0 to 1."""
        own = [touch for touch in self.team.history if touch.play == play.key]
        values = [
            readiness(own, (who[0], play.key, role), self.starts, Assumptions()).value
            for role, who in play.cast.items()
        ]
        return sum(values) / len(values)

    def choose(self, plays: Mapping[Id, tuple[GamePlay, float]]) -> GamePlay:
        weights = [liked for _, liked in plays.values()]
        return self.chance.choices([play for play, _ in plays.values()], weights)[0]

    def moments(self, count: int) -> list[tuple[int, int]]:
        """Period and seconds left on its clock, in the order of the game."""
        spread = sorted(self.chance.random() * PERIODS for _ in range(count))
        return [(int(at) + 1, round(60 * PERIOD_MINUTES * (1 - at % 1))) for at in spread]

    # --- one possession ---

    def called(
        self, play: GamePlay, opponent: str, out: Collection[Id], moment: tuple[int, int]
    ) -> CalledPlay:
        period, clock = moment
        defence = self.defence(opponent, play.situation)
        five = self.five(play, out)
        erred = next(
            (role for role in ROLES if self.chance.random() < self.slips(play, role)), None
        )
        look = None if erred else self.taken(play, defence)
        taken = Take.BROKEN if erred else Take.LOOK if look else Take.NONE
        result, points = self.ended(taken)
        in_hall = (period - 1) * PERIOD_TAKES + (1 - clock / 60 / PERIOD_MINUTES) * PERIOD_TAKES
        return CalledPlay(
            id=str(uuid.UUID(int=self.chance.getrandbits(128), version=4)),
            game=self.number,
            play=play.key,
            at=later(self.starts, round(in_hall, 2)),
            taken=taken,
            result=result,
            defence=None if self.chance.random() < UNSAID else defence,
            look=look,
            points=points,
            cast=() if self.chance.random() < UNSAID else as_cast(five),
            erred=erred,
            period=period,
            clock=clock,
            revision=play.revision,
            call=self.chance.choice(play.calls) if play.calls else None,
        )

    def defence(self, opponent: str, situation: Situation) -> Tactic:
        """What this team does against such a throw-in, as often as it was seen to."""
        seen = SEEN[opponent]
        own = [counts for _, where, counts in seen if where.value == situation.value]
        weights: dict[str, int] = {}
        for counts in own or [counts for _, _, counts in seen]:
            for name, count in counts.items():
                weights[name] = weights.get(name, 0) + count
        return Tactic(self.chance.choices(list(weights), list(weights.values()))[0])

    def five(self, play: GamePlay, out: Collection[Id]) -> dict[Role, Id]:
        """The first of each role, now and then the second; whoever is next where one is out."""
        five: dict[Role, Id] = {}
        second = self.chance.random() < 0.25
        for role, cast in play.cast.items():
            order = [*cast[second:], *cast, *self.team.players]
            taken = {*out, *self.team.limited, *five.values()}
            five[role] = next(who for who in order if who not in taken)
        return five

    def slips(self, play: GamePlay, role: Role) -> float:
        """How likely somebody goes wrong in a role, so that the play breaks."""
        prone = PRONE.get((play.name, role), 1.0)
        if prone > 1.0 and self.number == PLAYED:
            prone *= LAST
        return (0.075 - 0.06 * self.known[play.key]) * prone

    def taken(self, play: GamePlay, defence: Tactic) -> str | None:
        """The first look that is there, and what comes after it; None where there was none."""
        look: str | None = None
        while True:
            after = [place for place in play.order.places if place.by == look]
            there = (p for p in after if self.chance.random() < self.there(play, p, defence))
            found = next(there, None)
            if found is None:
                return look
            look = found.id

    def there(self, play: GamePlay, place: LookPlace, defence: Tactic) -> float:
        guess = 0.4 if place.guess is None else place.guess
        # Every team has its way with every look: always the same one.
        way = Random(f"{play.name} {place.id} {defence}").gauss(0.0, 0.5)  # noqa: S311
        off = OFF.get((play.name, place.id), way)
        known = 0.9 * (self.known[play.key] - 0.7)
        return 1 / (1 + math.exp(-(math.log(guess / (1 - guess)) + off + known)))

    def ended(self, taken: Take) -> tuple[CallResult, int | None]:
        """How a possession ends, and the points where somebody said them."""
        shares = {
            Take.LOOK: (0.72, 0.14, 0.07, 0.01, 0.06),
            Take.NONE: (0.16, 0.04, 0.2, 0.12, 0.48),
            Take.BROKEN: (0.18, 0.04, 0.36, 0.08, 0.34),
        }[taken]
        result = self.chance.choices(list(CallResult), shares)[0]
        if result is CallResult.POINTS:
            made = (0.5, 0.37, 0.13) if taken is Take.LOOK else (0.74, 0.2, 0.06)
            return result, self.chance.choices((0, 2, 3), made)[0]
        if result is CallResult.FOUL:
            return result, self.chance.choice((None, 0, 1, 2))
        return result, None

    def late(self, opponent: str, out: Collection[Id]) -> tuple[CalledPlay, ...]:
        """A possession with a play that was dropped meanwhile, from a phone that did not know."""
        gone = [play for play in self.team.plays if play.until is not None]
        for play in gone:
            self.known[play.key] = self.readiness(play)
        return tuple(self.called(play, opponent, out, (4, 95)) for play in gone[:1])
