"""Builds the demo club in an empty database: the same rows for the same day."""

from __future__ import annotations

from datetime import date, time
from itertools import cycle
from random import Random
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction

from coachbook.demo import factories
from coachbook.demo.club import CLUB, SEASON, SPRINTS, SQUADS, Carried, DemoSquad
from coachbook.demo.drills import make_drills
from coachbook.demo.files import demo_plays
from coachbook.demo.games import GameTeam, played_games
from coachbook.demo.opponents import make_observations
from coachbook.demo.played import game_plays, game_row, write_games
from coachbook.demo.season import Season, SeasonPlay, SeasonPractice, SeasonTeam, season, stories
from plays.models import Play
from practice.core.reps.rep import Id, touches
from practice.core.reps.rep import Rep as RepValue
from practice.models import Attendance, Block, Practice, Rep, RepRole
from practice.plan.changes import block_row
from practice.reps.sums import remake
from roster.models import Casting, PackagePlay, Player, Team
from shared.models import User

SEED = 20_260_901
PLACE = "Boathouse hall"
OPPONENTS = ("Millbrook Magpies", "Ostergate Owls")
HAS_PLAYED = "U16"  # the others have their season's first game ahead
WEEKDAYS = {"U16": (0, 2, 4), "U12": (1, 3)}
START = time(18, 0)
MINUTES = {"U16": 90, "U12": 60}
REPS = {"U16": 450, "U12": 250}


@transaction.atomic
def build_demo(today: date) -> None:
    """The whole club. ``today`` is the day after which the games lie."""
    factories.ClubFactory.create(name=CLUB)
    staff = _staff()
    keeper = next(user for user in staff.values() if user.keeps_library)
    plays = {value.key: factories.published(value, keeper) for value in demo_plays()}
    teams = [_Team(squad, staff, plays) for squad in SQUADS]
    zone = ZoneInfo(settings.TIME_ZONE)
    made = season(
        Random(SEED),  # noqa: S311 - a season to look at, no secret
        [team.for_season() for team in teams],
        today,
        zone,
    )
    for team in teams:
        team.play_season(made)
        if team.squad.age_group == HAS_PLAYED:
            team.play_games(made, today, zone, plays)
        make_observations(team.team, today)


def _staff() -> dict[str, User]:
    """Everybody on the staff, once, whatever number of teams they coach."""
    coaches = {coach.username: coach for squad in SQUADS for coach in squad.staff}
    head = SQUADS[0].staff[0].username
    return {
        name: factories.UserFactory.create(
            username=name,
            name=coach.name,
            keeps_library=coach.keeps_library,
            runs_club=name == head,
        )
        for name, coach in coaches.items()
    }


class _Team:
    """One team being built: rows by the names that the plain data uses."""

    def __init__(self, squad: DemoSquad, staff: dict[str, User], plays: dict[str, Play]) -> None:
        self.squad = squad
        self.team: Team = factories.TeamFactory.create(
            name=squad.name,
            season=SEASON,
            age_group=squad.age_group.value,
            rule_set=squad.rule_set.value,
        )
        for coach in squad.staff:
            factories.StaffFactory.create(
                team=self.team, user=staff[coach.username], duty=coach.duty
            )
        self.logger = staff[squad.staff[-1].username]
        self.players = {member.number: self._player(member.number) for member in squad.members}
        self.entries = {carried.play: self._carry(carried, plays) for carried in squad.package}
        # A play with several calls is run on them by turns.
        self.calls = {
            entry.pk: cycle([call for call, _heard in entry.calls()])
            for entry in self.entries.values()
        }
        self.drills = make_drills(self.team)
        self.units = {name: self._unit(name) for name in squad.units}

    def _player(self, number: str) -> Player:
        member = self.squad.member(number)
        ten, twenty = SPRINTS.get(self.squad.name, {}).get(number, (None, None))
        player: Player = factories.PlayerFactory.create(
            team=self.team,
            name=member.name,
            number=number,
            height_cm=member.height_cm,
            positions=",".join(member.positions),
            availability=member.availability.value,
            expected_minutes=member.minutes,
            sprint_10=ten,
            sprint_20=twenty,
            **{quality.value: rating for quality, rating in member.rated().items()},
        )
        return player

    def _carry(self, carried: Carried, plays: dict[str, Play]) -> PackagePlay:
        entry: PackagePlay = factories.PackagePlayFactory.create(
            team=self.team,
            play=plays[carried.play],
            call=carried.call,
            signal=carried.signal,
            priority=carried.priority,
        )
        Casting.objects.bulk_create(
            Casting(
                entry=entry,
                role=each.role,
                depth=each.depth,
                player=self.players[str(each.player)],
            )
            for each in carried.assignments()
        )
        return entry

    def _unit(self, name: str) -> int:
        unit = factories.UnitFactory.create(team=self.team, name=name)
        unit.members.set(self.players[number] for number in self.squad.units[name])
        return int(unit.pk)

    def for_season(self) -> SeasonTeam:
        """What the generator of the season needs, with primary keys for names."""
        group = self.squad.age_group.value
        told = stories(len(self.squad.package))
        plays = tuple(
            SeasonPlay(
                self.entries[carried.play].pk,
                {
                    role: tuple(self.players[number].pk for number in numbers)
                    for role, numbers in carried.cast.items()
                },
                story,
            )
            for carried, story in zip(self.squad.package, told, strict=True)
        )
        return SeasonTeam(
            key=self.team.pk,
            players=tuple(player.pk for player in self.players.values()),
            units=tuple(self.units.values()),
            plays=plays,
            weekdays=WEEKDAYS[group],
            start=START,
            minutes=MINUTES[group],
            reps=REPS[group],
            place=PLACE,
            opponents=OPPONENTS,
            logger=self.logger.pk,
            out=self._who("out"),
            limited=self._who("limited"),
        )

    def _who(self, availability: str) -> frozenset[Id]:
        players = self.players.values()
        return frozenset(player.pk for player in players if player.availability == availability)

    def play_season(self, made: Season) -> None:
        """Write this team's practices, attendance, reps and games."""
        for game in made.games:
            if game.team == self.team.pk:
                game_row(self.team, game)
        for practice in made.practices:
            if practice.team == self.team.pk:
                self._practice(practice)

    def play_games(self, made: Season, today: date, zone: ZoneInfo, plays: dict[str, Play]) -> None:
        """Write the games that are over, with what was called in them."""
        own = [practice for practice in made.practices if practice.team == self.team.pk]
        past = [practice for practice in own if practice.is_over]
        entries = dict(self.entries)
        for carried in self.squad.dropped:
            entries[carried.play] = self._carry(carried, plays)
        numbers = {number: int(player.pk) for number, player in self.players.items()}
        called = game_plays(self.squad, entries, numbers, today)
        team = GameTeam(
            plays=called,
            players=tuple(numbers.values()),
            history=touches(rep for practice in past for rep in practice.reps),
            absent={practice.plan.starts.date(): practice.absent for practice in past},
            place=PLACE,
            out=self._who("out"),
            limited=self._who("limited"),
        )
        chance = Random(SEED + 1)  # noqa: S311 - games to look at, no secret
        games = played_games(chance, team, today, zone)
        write_games(self.team, games, called, self.logger)

    def _practice(self, made: SeasonPractice) -> None:
        booking = made.plan.booking
        practice = Practice.objects.create(
            team=self.team,
            date=made.plan.starts.date(),
            start=made.plan.starts.time(),
            place=made.place,
            hall_from=booking.opens.time() if booking else None,
            hall_until=booking.closes.time() if booking else None,
        )
        Block.objects.bulk_create(
            self._drilled(block_row(practice, order, block))
            for order, block in enumerate(made.plan.blocks, start=1)
        )
        self._attendance(practice, made)
        self._reps(practice, made.reps)

    def _drilled(self, row: Block) -> Block:
        """The block with the team's drill for its kind, which stands in for what is left blank."""
        row.drill = drill = self.drills.get(row.kind)
        if drill is not None:
            row.title = row.title or drill.name
            row.equipment = row.equipment or drill.equipment
        return row

    def _attendance(self, practice: Practice, made: SeasonPractice) -> None:
        marks = dict.fromkeys(made.absent, "absent") | dict.fromkeys(made.late, "late")
        everybody = [player.pk for player in self.players.values()]
        marked = everybody if made.is_over else list(marks)
        Attendance.objects.bulk_create(
            Attendance(practice=practice, player_id=pk, presence=marks.get(pk, "present"))
            for pk in marked
        )

    def _reps(self, practice: Practice, reps: tuple[RepValue, ...]) -> None:
        revisions = {entry.pk: entry.revision_id for entry in self.entries.values()}
        Rep.objects.bulk_create(
            Rep(
                id=rep.id,
                practice=practice,
                entry_id=rep.play,
                revision_id=revisions[int(rep.play)],
                unit_id=rep.unit,
                mode=rep.mode.value,
                is_clean=rep.clean,
                erred=rep.erred or "",
                slip=rep.slip.value if rep.slip else "",
                call=next(self.calls[int(rep.play)], None),
                at=rep.at,
                logged_by=self.logger,
            )
            for rep in reps
        )
        RepRole.objects.bulk_create(
            RepRole(rep_id=rep.id, role=role, player_id=who)
            for rep in reps
            for role, who in rep.cast
        )
        remake([practice.pk])
