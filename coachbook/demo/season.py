"""A believable season, drawn from a seeded generator: practices, attendance, reps, games.

Plain values from the ids of teams, people and plays that somebody else invents. It looks
like a real one because it is uneven: people miss practices, one is away for a while, some
plays are run every week, some were learnt and then left alone, one was begun last week, and
one was never begun at all. Whether a rep is clean is drawn from how well the five know the
play by then. The same generator state gives the same season, to the byte.

Long since it is one story: every draw follows from the one before it, out of one generator.
"""

from __future__ import annotations

import math
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from random import Random
from typing import Final
from zoneinfo import ZoneInfo

from plays.core.play import ROLES, Role
from practice.core.install.question import Rules
from practice.core.instants import later
from practice.core.plan.plan import Block, BlockKind, Booking, PracticePlan, running_clock
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import readiness
from practice.core.reps.rep import Id, Mode, Rep, Slip, Touch, as_cast, touches

WEEKS: Final = 6
MOST_PER_BLOCK: Final = 9  # minutes
MISSES: Final = 0.07  # chance that a player misses a practice
TRIES: Final = 0.1  # chance that somebody else of the cast is tried in a role
OUT_SINCE: Final = 17  # days; who is out until cleared has been so for so long
AWAY_DAYS: Final = 11  # one player of each team is away for so long
RULES: Final = Rules()


class Story(StrEnum):
    """What becomes of a play in the season."""

    STEADY = "steady"
    SPARSE = "sparse"
    FADING = "fading"  # learnt in the first weeks, then left alone
    LATE = "late"  # begun in the last week
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class SeasonPlay:
    """A play of the package; ``cast`` names first, second, third for each role."""

    key: Id
    cast: Mapping[Role, tuple[Id, ...]]
    story: Story


@dataclass(frozen=True, slots=True)
class SeasonTeam:
    """A team, and when it practises: ``weekdays`` from 0, Monday; ``units`` first five first.

    ``reps`` is about how many reps the season is to hold. ``opponents`` are those of the
    games to come, ``game_days`` how many days after today these are. ``out`` have been out
    until cleared for some weeks, ``limited`` run nothing live.
    """

    key: Id
    players: tuple[Id, ...]
    units: tuple[Id, ...]
    plays: tuple[SeasonPlay, ...]
    weekdays: tuple[int, ...]
    start: time
    minutes: int
    reps: int
    place: str
    opponents: tuple[str, ...]
    game_days: tuple[int, ...] = (4, 11)
    logger: Id | None = None
    out: frozenset[Id] = frozenset()
    limited: frozenset[Id] = frozenset()


@dataclass(frozen=True, slots=True)
class SeasonPractice:
    """One practice; ``absent`` is what is known: of a practice to come, in advance."""

    key: str
    team: Id
    plan: PracticePlan
    place: str
    absent: tuple[Id, ...]
    late: tuple[Id, ...]
    reps: tuple[Rep, ...]
    is_over: bool


@dataclass(frozen=True, slots=True)
class SeasonGame:
    key: str
    team: Id
    starts: datetime
    opponent: str
    place: str


@dataclass(frozen=True, slots=True)
class Season:
    practices: tuple[SeasonPractice, ...]
    games: tuple[SeasonGame, ...]

    @property
    def reps(self) -> tuple[Rep, ...]:
        return tuple(rep for practice in self.practices for rep in practice.reps)


def season(chance: Random, teams: Sequence[SeasonTeam], today: date, zone: ZoneInfo) -> Season:
    """Six weeks before ``today``, and the practices up to the last game after it."""
    practices, games = [], []
    for team in teams:
        own_games = _games(team, today, zone)
        games += own_games
        practices += _Club(chance, team, today, zone).practices(own_games[-1].starts)
    return Season(tuple(practices), tuple(games))


def stories(count: int) -> tuple[Story, ...]:
    """A mixture for a package of so many plays, the important ones first."""
    if count <= 2:
        return (Story.STEADY,) * count
    tail = [Story.NEVER, Story.LATE, Story.FADING, Story.SPARSE][: max(1, count // 2)]
    middle = [Story.STEADY] * (count - len(tail))
    if len(middle) > 5:
        middle[-1] = Story.FADING
    return (*middle, *reversed(tail))


def _games(team: SeasonTeam, today: date, zone: ZoneInfo) -> list[SeasonGame]:
    return [
        SeasonGame(
            f"{team.key}-game-{number}",
            team.key,
            datetime.combine(today + timedelta(days=days), time(14, 30), zone),
            opponent,
            team.place if number % 2 else "",
        )
        for number, (days, opponent) in enumerate(
            zip(team.game_days, team.opponents, strict=False), start=1
        )
    ]


class _Club:
    """Draws one team's practices in the order of time."""

    def __init__(self, chance: Random, team: SeasonTeam, today: date, zone: ZoneInfo) -> None:
        self.chance, self.team, self.today, self.zone = chance, team, today, zone
        self.history: list[Touch] = []
        self.run: dict[Id, int] = {}  # in how many practices each play was run
        self.talent = {who: chance.gauss(0.0, 0.35) for who in team.players}
        self.liking = {play.key: chance.uniform(0.75, 1.2) for play in team.plays}
        self.traveller = chance.choice(team.players)
        self.leaves = today - timedelta(days=chance.randint(16, 30))

    def practices(self, until: datetime) -> list[SeasonPractice]:
        first = self.today - timedelta(weeks=WEEKS)
        days = [first + timedelta(days=n) for n in range((until.date() - first).days)]
        held = [day for day in days if day.weekday() in self.team.weekdays]
        past = sum(day < self.today for day in held)
        return [self.practice(n, day, past) for n, day in enumerate(held)]

    def practice(self, number: int, day: date, past: int) -> SeasonPractice:
        team, is_over = self.team, day < self.today
        key = f"{team.key}-{day.isoformat()}"
        starts = datetime.combine(day, team.start, self.zone)
        absent = self.absent(day, is_over=is_over)
        late = tuple(
            who for who in team.players if who not in absent and self.chance.random() < 0.03
        )
        chosen = self.chosen(number, past) if is_over else []
        wanted = self.wanted(len(chosen), past)
        runs = [
            run for play, reps in zip(chosen, wanted, strict=True) for run in self.runs(play, reps)
        ]
        plan = self.plan(starts, runs)
        reps = self.reps(key, plan, runs, absent)
        self.history += touches(reps)
        return SeasonPractice(
            key, team.key, plan, team.place, absent, late if is_over else (), reps, is_over
        )

    def absent(self, day: date, *, is_over: bool) -> tuple[Id, ...]:
        """Who is not there; of a practice to come only what a team knows in advance."""
        away = self.leaves <= day < self.leaves + timedelta(days=AWAY_DAYS)
        missing = MISSES if is_over else MISSES / 3
        drawn = [who for who in self.team.players if self.chance.random() < missing]
        gone = {*drawn, *([self.traveller] if away else [])}
        if day >= self.today - timedelta(days=OUT_SINCE):
            gone |= self.team.out
        return tuple(who for who in self.team.players if who in gone)

    def chosen(self, number: int, past: int) -> list[SeasonPlay]:
        """Two to four plays for this practice: what is due, and at most two new ones."""
        due = [
            (self.wish(play, order, number, past), order, play)
            for order, play in enumerate(self.team.plays)
        ]
        ranked = [play for wish, _, play in sorted(due, key=lambda item: -item[0]) if wish > 0]
        known = [play for play in ranked if play.key in self.run]
        new = [play for play in ranked if play.key not in self.run][:2]
        chosen = [*new, *known][: self.chance.choice((2, 3, 3, 4))]
        for play in chosen:
            self.run[play.key] = self.run.get(play.key, 0) + 1
        return chosen

    def wish(self, play: SeasonPlay, order: int, number: int, past: int) -> float:
        begins = past - 2 if play.story is Story.LATE else order // 2
        if play.story is Story.NEVER or number < begins:
            return 0.0
        share = {
            Story.STEADY: self.liking[play.key],
            Story.SPARSE: 0.5,
            Story.FADING: 1.5 if number < past * 0.3 else 0.0,
            Story.LATE: 3.0,
        }[play.story]
        return share * self.chance.uniform(0.2, 1.8)

    def wanted(self, plays: int, past: int) -> list[int]:
        """Reps for each play, uneven, and about the team's number over the season."""
        if not plays:
            return []
        each = self.team.reps / past / plays
        return [max(2, round(each * self.chance.uniform(0.6, 1.45))) for _ in range(plays)]

    def runs(self, play: SeasonPlay, reps: int) -> list[_Run]:
        """Which unit runs it in which mode how often; the first unit has the larger part."""
        mode = self.mode(self.run[play.key])
        shares = (0.6, 0.4) if len(self.team.units) > 1 else (1.0,)
        return [
            _Run(play, unit, depth, mode, max(2, round(reps * share)))
            for depth, (unit, share) in enumerate(zip(self.team.units, shares, strict=False), 1)
        ]

    def mode(self, times: int) -> Mode:
        """Walked through at first, then at half speed, then live more often than not."""
        if times <= 1:
            return Mode.WALK_THROUGH
        if times <= 3:
            return Mode.HALF_SPEED
        return Mode.LIVE if self.chance.random() < 0.55 else Mode.HALF_SPEED

    # --- the plan of a practice ---

    def plan(self, starts: datetime, runs: list[_Run]) -> PracticePlan:
        install = [
            Block(
                f"install-{n}",
                BlockKind.INSTALL,
                run.minutes,
                play=run.play.key,
                mode=run.mode,
                unit=run.unit,
            )
            for n, run in enumerate(runs, start=1)
        ]
        first, rest = install[: len(install) // 2], install[len(install) // 2 :]
        blocks = [
            Block("warm-up", BlockKind.WARM_UP, 10),
            Block("skill", BlockKind.SKILL, 8, equipment="cones"),
            *first,
            Block("shooting", BlockKind.SHOOTING, 8),
            *rest,
            Block("live", BlockKind.LIVE, 8, contact=True, equipment="bibs"),
            Block("cool-down", BlockKind.COOL_DOWN, 5),
        ]
        booking = Booking(starts, later(starts, self.team.minutes))
        return PracticePlan(starts, tuple(_fitted(blocks, self.team.minutes)), booking)

    # --- the reps ---

    def reps(
        self, key: str, plan: PracticePlan, runs: list[_Run], absent: tuple[Id, ...]
    ) -> tuple[Rep, ...]:
        lines = {line.block.id: line for line in running_clock(plan)}
        made: list[Rep] = []
        for number, run in enumerate(runs, start=1):
            line = lines.get(f"install-{number}")
            five = self.five(run, absent)
            if line is None or five is None:
                continue
            for rep in range(run.reps):
                minute = (line.to_minute - line.from_minute) * (rep + 1) / (run.reps + 1)
                at = later(line.starts, minute)
                made.append(self.rep(key, run, at, five, made))
        return tuple(made)

    def five(self, run: _Run, absent: tuple[Id, ...]) -> dict[Role, Id] | None:
        """The cast at the unit's depth, whoever is next where somebody is missing."""
        off = {*absent, *(self.team.limited if run.mode is Mode.LIVE else ())}
        here = [who for who in self.team.players if who not in off]
        five: dict[Role, Id] = {}
        for role in ROLES:
            cast = run.play.cast.get(role, ())
            order = [*cast[run.depth - 1 :], *reversed(cast[: run.depth - 1]), *here]
            if len(cast) > 1 and self.chance.random() < TRIES:
                order.insert(0, self.chance.choice(cast))
            free = [who for who in order if who in here and who not in five.values()]
            if not free:
                return None
            five[role] = free[0]
        return five

    def rep(self, key: str, run: _Run, at: datetime, five: dict[Role, Id], made: list[Rep]) -> Rep:
        mistakes = {role: self.mistake(run, role, who, at, made) for role, who in five.items()}
        erred = next((role for role in ROLES if self.chance.random() < mistakes[role]), None)
        slip = None if erred is None else self.chance.choice(list(Slip))
        return Rep(
            id=str(uuid.UUID(int=self.chance.getrandbits(128), version=4)),
            practice=key,
            play=run.play.key,
            mode=run.mode,
            at=at,
            cast=as_cast(five),
            clean=erred is None,
            erred=erred,
            slip=slip,
            unit=run.unit,
            by=self.team.logger,
        )

    def mistake(self, run: _Run, role: Role, who: Id, at: datetime, made: list[Rep]) -> float:
        """How likely a player is to go wrong: what they know by now, their talent, the mode."""
        known = readiness(self.history, (who, run.play.key, role), at, Assumptions()).strength
        today = sum(rep.play == run.play.key and rep.player(role) == who for rep in made)
        hard = {Mode.WALK_THROUGH: -0.7, Mode.HALF_SPEED: -0.2, Mode.LIVE: 0.5}[run.mode]
        ease = 1.1 * math.log(0.35 + known + 0.15 * today) + self.talent[who]
        return 1 / (1 + math.exp(2.2 + ease - hard))


@dataclass(frozen=True, slots=True)
class _Run:
    """Some reps of one play by one unit in one mode."""

    play: SeasonPlay
    unit: Id
    depth: int
    mode: Mode
    reps: int

    @property
    def minutes(self) -> int:
        return min(MOST_PER_BLOCK, max(2, math.ceil(self.reps * RULES.minutes(self.mode))))


def _fitted(blocks: list[Block], minutes: int) -> list[Block]:
    """The blocks, shortened where they are longest until they fit into the hall booking."""
    fitted = list(blocks)
    while sum(block.minutes for block in fitted) > minutes:
        index = max(range(len(fitted)), key=lambda i: (fitted[i].minutes, -i))
        fitted[index] = replace(fitted[index], minutes=fitted[index].minutes - 1)
    return fitted
