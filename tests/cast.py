"""The one small cast of the tests: who they are is said once, here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.test import Client

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.models import Play
from practice.models import Block, Drill, Game, Observation, Opponent, Practice
from roster.models import PackagePlay, Player, Team, Unit
from shared.models import User

FIVE = ("Ida", "Noor", "Ada", "Mila", "Zoë")
BENCH = ("Runa", "Pia")
DEMO_DAY = date(2026, 11, 25)  # of the demo club, where a test builds it


@dataclass(frozen=True, slots=True)
class Cast:
    """A club with one furnished team, and somebody of every kind of person."""

    runner: User  # runs the club
    keeper: User  # keeps the library, coaches no team
    head: User  # head coach of the team
    assistant: User  # assistant of the team
    stranger: User  # head coach of another team
    team: Team
    other_team: Team
    players: tuple[Player, ...]
    other_player: Player
    play: Play
    entry: PackagePlay
    unit: Unit
    practice: Practice
    block: Block
    game: Game
    drill: Drill
    opponent: Opponent
    observation: Observation

    def client(self, user: User | None) -> Client:
        """A signed-in browser without the browser."""
        client = Client()
        if user is not None:
            client.force_login(user, "django.contrib.auth.backends.ModelBackend")
        return client


def make_cast() -> Cast:
    factories.ClubFactory.create()
    runner = factories.UserFactory.create(username="runner", name="Rosa", runs_club=True)
    keeper = factories.UserFactory.create(username="keeper", name="Kim", keeps_library=True)
    head = factories.UserFactory.create(username="head", name="Hedda", password="head-password")
    assistant = factories.UserFactory.create(username="assistant", name="Arne")
    stranger = factories.UserFactory.create(username="stranger", name="Stig")
    team, other = (
        factories.TeamFactory.create(name="Herons"),
        factories.TeamFactory.create(name="Otters"),
    )
    factories.StaffFactory.create(team=team, user=head)
    factories.StaffFactory.create(team=team, user=assistant, duty="assistant")
    factories.StaffFactory.create(team=other, user=stranger)
    players = tuple(
        factories.PlayerFactory.create(team=team, name=name, number=str(number))
        for number, name in enumerate(FIVE + BENCH, start=4)
    )
    play = factories.published(demo_play("gangway"), keeper)
    entry = factories.PackagePlayFactory.create(team=team, play=play, call="Gangway {5}")
    for role, player in enumerate(players[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    factories.CastingFactory.create(entry=entry, role="5", depth=2, player=players[5])
    unit = factories.UnitFactory.create(team=team, name="First")
    unit.members.set(players[:5])
    practice = factories.PracticeFactory.create(team=team)
    opponent = factories.OpponentFactory.create(team=team, name="Millbrook")
    return Cast(
        runner=runner,
        keeper=keeper,
        head=head,
        assistant=assistant,
        stranger=stranger,
        team=team,
        other_team=other,
        players=players,
        other_player=factories.PlayerFactory.create(team=other, name="Olaf", number="7"),
        play=play,
        entry=entry,
        unit=unit,
        practice=practice,
        block=factories.BlockFactory.create(
            practice=practice, kind="install", entry=entry, mode="live"
        ),
        game=factories.GameFactory.create(team=team, met=opponent),
        drill=factories.DrillFactory.create(team=team),
        opponent=opponent,
        observation=factories.ObservationFactory.create(opponent=opponent),
    )
