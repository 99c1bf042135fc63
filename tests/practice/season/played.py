"""A season played through the views by a client without a browser, on a clock that a test moves.

What was logged is counted here by hand, tap by tap, to be held against what the pages say.
"""

from __future__ import annotations

import json
import uuid
from collections import Counter
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from typing import Any, Final

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.play import ROLES
from practice.bridge import moment
from practice.models import Block, Game, Practice, Rep, RepSum
from practice.reps.sums import remake
from roster.models import PackagePlay, Player
from tests.cast import Cast

FIRST_DAY: Final = date(2026, 9, 7)  # a Monday
WEEKDAYS: Final = (0, 2, 4)
OTHERS: Final = ("slipway", "foghorn", "breakwater")
NEW_NAMES: Final = ("Bo", "Lea", "Ronja", "Tove", "Yara", "Wilma")
TEAM_PAGES: Final = (
    *("team", "roster", "team-ratings", "package", "cast", "the-five", "coverage", "team-minutes"),
    *("cast-record", "cast-wishes", "practices", "calendar", "readiness", "drills", "sheets"),
    *("print", "link-cards", "understood", "season", "next-season", "team-pace", "held-reps"),
)
PLAYER_PAGES: Final = ("sheet", "sheet-pdf", "player-data", "player-cast", "edit-player")
Cell = tuple[int, int, str]  # player, entry, role


class Clock:
    """The time that everything asks for."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now = datetime(2026, 9, 6, 12, tzinfo=UTC)
        monkeypatch.setattr(timezone, "now", lambda: self.now)


class SeasonPlayed:
    """A team of 13 and what its coach does, with a count of all reps by hand."""

    def __init__(self, cast: Cast, clock: Clock, weeks: int) -> None:
        self.cast, self.clock, self.weeks = cast, clock, weeks
        self.team, self.chance = cast.team, Random(weeks)
        self.counted: Counter[Cell] = Counter()
        self.runs: dict[date, list[bool]] = {}  # of each practice day: was the run clean?
        self.gone: list[Player] = []
        self.announced: list[tuple[Player, date, date]] = []
        Practice.objects.all().delete()
        Game.objects.all().delete()

    @property
    def client(self) -> Client:
        """The head coach, signed in anew: a session does not last for a season."""
        return self.cast.client(self.cast.head)

    def send(self, route: str, *args: Any, **data: Any) -> None:
        answer = self.client.post(reverse(route, args=args), data)
        assert answer.status_code == 302, (route, answer.status_code, errors_of(answer))

    def begins(self) -> None:
        """The squad, the plays with their cast, and the practices of the whole season."""
        for number, name in enumerate(NEW_NAMES, start=20):
            self.adds_a_player(name, number)
        for key in OTHERS:
            play = factories.published(demo_play(key), self.cast.keeper)
            self.send("take-up", self.team.pk, play.key, call=play.name, priority=2)
        for entry in self.carried():
            self.casts(entry)
        last = FIRST_DAY + timedelta(days=7 * self.weeks - 1)
        self.send(
            "new-series",
            self.team.pk,
            first=FIRST_DAY,
            last=last,
            start="18:00",
            minutes=90,
            every=1,
            place="Hall",
            weekdays=WEEKDAYS,
        )
        assert self.team.practices.count() == self.weeks * len(WEEKDAYS)

    def adds_a_player(self, name: str, number: int) -> Player:
        self.send("new-player", self.team.pk, name=name, number=number, availability="available")
        return self.team.players.get(name=name)

    def carried(self) -> list[PackagePlay]:
        return list(self.team.package.all().carried().order_by("pk"))

    def casts(self, entry: PackagePlay) -> None:
        """Two for each role, drawn from everybody."""
        squad = list(self.team.players.present())
        self.chance.shuffle(squad)
        named = {f"role-{r}-1": who.pk for r, who in zip(ROLES, squad[:5], strict=True)}
        named |= {f"role-{r}-2": who.pk for r, who in zip(ROLES, squad[5:10], strict=True)}
        entry.refresh_from_db()
        self.send("cast-play", entry.pk, version=entry.cast_version, **named)

    def practises(self, practice: Practice) -> None:
        """The plan on today's page, who is missing, and the reps through the door of the log."""
        self.clock.now = moment(practice.date, time(17, 30))
        if not practice.blocks.exists():
            for entry in self.chance.sample(self.carried(), 2):
                self.send(
                    "add-block",
                    practice.pk,
                    kind="install",
                    minutes=10,
                    contact="none",
                    entry=entry.pk,
                    mode="half_speed",
                )
        blocks = list(practice.blocks.select_related("entry"))
        self.sees_tonight(practice, blocks)
        away = set(self.chance.sample([p.pk for p in self.team.players.present()], 2))
        marks = {f"presence-{pk}": "absent" for pk in away}
        self.send("attendance", practice.pk, **marks)
        marked = practice.attendance.filter(presence="absent")
        announced = {
            who.pk for who, first, last in self.announced if first <= practice.date <= last
        }
        assert set(marked.values_list("player", flat=True)) == away | announced
        self.clock.now = moment(practice.date, time(18, 20))
        for block in blocks:
            if block.entry_id and block.mode:
                self.logs(practice, block, away | announced)

    def sees_tonight(self, practice: Practice, blocks: list[Block]) -> None:
        page = self.client.get(reverse("team", args=[self.team.pk]))
        following = page.context["today"].practice
        assert (following.practice.pk, following.is_today) == (practice.pk, True)
        assert [block.pk for _at, block in following.lines] == [block.pk for block in blocks]
        said = page.content.decode()
        assert all(block.entry.spoken() in said for block in blocks if block.entry)

    def logs(self, practice: Practice, block: Block, away: set[int]) -> None:
        """Five runs, one of which is sent twice and one taken back."""
        assert block.entry
        five = self.five(block.entry, away)
        taps = [self.tap(practice, block, five) for _ in range(5)]
        back = {"kind": "undo", "id": str(uuid.uuid4()), "rep": taps[0]["id"], "at": taps[0]["at"]}
        answer = self.client.post(
            reverse("taps", args=[self.team.pk]),
            json.dumps({"version": 1, "taps": [*taps, back, taps[1]]}),
            content_type="application/json",
        ).json()
        assert not answer["held"], answer
        assert not answer["refused"], answer
        self.counts(practice, block.entry, five, [tap["clean"] for tap in taps[1:]])

    def counts(
        self, practice: Practice, entry: PackagePlay, five: dict[str, int], clean: list[bool]
    ) -> None:
        """By hand: what these runs of a five add."""
        self.runs.setdefault(practice.date, []).extend(clean)
        for role, who in five.items():
            self.counted[who, entry.pk, role] += len(clean)

    def tap(self, practice: Practice, block: Block, five: dict[str, int]) -> dict[str, Any]:
        assert block.entry
        return {
            "kind": "rep",
            "id": str(uuid.uuid4()),
            "practice": practice.pk,
            "play": block.entry.pk,
            "mode": block.mode,
            "at": self.clock.now.isoformat(),
            "cast": five,
            "clean": self.chance.random() < 0.8,
        }

    def five(self, entry: PackagePlay, away: set[int]) -> dict[str, int]:
        """The first of each role who is there, and whoever is free for a hole."""
        fit = [p.pk for p in self.team.players.present() if p.availability != "out"]
        free = [pk for pk in fit if pk not in away]
        five: dict[str, int] = {}
        for role in ROLES:
            named = (
                entry.castings.filter(role=role).order_by("depth").values_list("player", flat=True)
            )
            who = next(pk for pk in [*named, *free] if pk in free)
            free.remove(who)
            five[role] = who
        return five

    def plans_for(self, day: date) -> Game:
        """A game, and its install plan taken into the practices before it."""
        self.send("new-game", self.team.pk, date=day, start="15:00", opponent=f"Millbrook {day}")
        game = self.team.games.get(date=day)
        self.send("propose", game.pk)
        self.send("accept-install", game.pk)
        assert Block.objects.filter(practice__team=self.team, practice__date__lt=day).exists()
        return game

    def holds(self) -> None:
        """What is true at the end of every week."""
        assert self.sums() == self.counted
        before = dict(RepSum.objects.values_list("pk", "count"))
        remake([practice.pk for practice in self.team.practices.all()])
        assert self.sums() == self.counted
        assert sum(before.values()) == sum(self.counted.values())
        assert Rep.objects.counted().count() * len(ROLES) == sum(self.counted.values())
        for who in self.gone:
            kept = sum(n for (pk, _entry, _role), n in self.counted.items() if pk == who.pk)
            assert RepSum.objects.filter(player=who).exists() == (kept > 0)

    def sums(self) -> Counter[Cell]:
        found: Counter[Cell] = Counter()
        rows = RepSum.objects.values_list("player", "entry", "role", "count")
        for who, entry, role, count in rows:
            found[who, entry, role] += count
        return found

    def walks(self, *, put_away: bool = False) -> None:
        """The pages of the team, of a player and of a play: there, or closed to changes."""
        right = {200, 403} if put_away else {200}
        client = self.client
        paths = [reverse(name, args=[self.team.pk]) for name in TEAM_PAGES]
        who = self.chance.choice(list(self.team.players.present()))
        paths += [reverse(name, args=[who.pk]) for name in PLAYER_PAGES]
        entry = self.chance.choice(self.carried())
        paths += [reverse("cast-play", args=[entry.pk]), reverse("edit-entry", args=[entry.pk])]
        for practice in self.team.practices.filter(date__lte=self.clock.now.date())[:2]:
            paths += [
                reverse(name, args=[practice.pk]) for name in ("practice", "log", "attendance")
            ]
        paths += [reverse("install", args=[game.pk]) for game in self.team.games.all()]
        paths += [reverse("player-data", args=[who.pk]) for who in self.gone]
        faulty = {
            path: status for path in paths if (status := client.get(path).status_code) not in right
        }
        assert not faulty
        for who in self.gone:  # what is about the squad as it is now is not found, and no fault
            for name in PLAYER_PAGES:
                assert client.get(reverse(name, args=[who.pk])).status_code in {*right, 404}, name


def errors_of(answer: Any) -> object:
    form = (answer.context or {}).get("form") if answer.context else None
    return form.errors if form is not None else answer.content[:300]
