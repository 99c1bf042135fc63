"""Factories of every row: the demo club is built with them, and so are the tests' casts."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import factory
from django.contrib.auth.hashers import make_password
from factory.django import DjangoModelFactory
from PIL import Image

from plays.core.play import Play as PlayValue
from plays.library.changes import add_play
from plays.models import Play
from practice.models import (
    Attendance,
    Block,
    Drill,
    Game,
    Observation,
    Opponent,
    Practice,
    Rep,
    RepRole,
)
from practice.reps.sums import remake
from roster.models import Casting, PackagePlay, Player, Staff, Team, Unit
from shared.models import Club, User
from shared.photos import as_jpeg


class ClubFactory(DjangoModelFactory[Club]):
    class Meta:
        model = Club

    name = "Lindwater Basketball"


class UserFactory(DjangoModelFactory[User]):
    """Somebody of the staff; the password is the sign-in name."""

    class Meta:
        model = User

    username = factory.Sequence(lambda n: f"coach{n}")
    name = factory.LazyAttribute(lambda user: user.username.title())
    password: str | None = None  # as it is typed; hashed as the row is written

    @classmethod
    def _create(cls, model_class: type[User], *args: Any, **fields: Any) -> User:
        hashed = make_password(fields.pop("password"))
        made: User = super()._create(model_class, *args, **fields, password=hashed)
        return made


class TeamFactory(DjangoModelFactory[Team]):
    class Meta:
        model = Team

    name = factory.Sequence(lambda n: f"Team {n}")
    season = "2026/27"
    age_group = "U16"
    rule_set = "FIBA"


class StaffFactory(DjangoModelFactory[Staff]):
    class Meta:
        model = Staff

    team = factory.SubFactory(TeamFactory)
    user = factory.SubFactory(UserFactory)
    duty = "head"


class PlayerFactory(DjangoModelFactory[Player]):
    class Meta:
        model = Player

    team = factory.SubFactory(TeamFactory)
    name = factory.Sequence(lambda n: f"Player {n}")
    number = factory.Sequence(lambda n: str(n % 99 + 1))


class UnitFactory(DjangoModelFactory[Unit]):
    class Meta:
        model = Unit

    team = factory.SubFactory(TeamFactory)
    name = factory.Sequence(lambda n: f"Unit {n}")


class PackagePlayFactory(DjangoModelFactory[PackagePlay]):
    """A carried play; give ``play``, whose current revision is taken unless another is given."""

    class Meta:
        model = PackagePlay

    team = factory.SubFactory(TeamFactory)
    revision = factory.LazyAttribute(lambda entry: entry.play.current)
    call = factory.LazyAttribute(lambda entry: entry.play.name)


class CastingFactory(DjangoModelFactory[Casting]):
    class Meta:
        model = Casting

    depth = 1


class PracticeFactory(DjangoModelFactory[Practice]):
    class Meta:
        model = Practice

    team = factory.SubFactory(TeamFactory)
    date = factory.Sequence(lambda n: date(2026, 9, 1) + timedelta(days=n))
    start = time(18, 0)
    place = "Boathouse hall"


class BlockFactory(DjangoModelFactory[Block]):
    class Meta:
        model = Block

    practice = factory.SubFactory(PracticeFactory)
    order = factory.Sequence(lambda n: n)
    kind = "skill"
    minutes = 10


class DrillFactory(DjangoModelFactory[Drill]):
    """A drill with a small white picture."""

    class Meta:
        model = Drill

    team = factory.SubFactory(TeamFactory)
    name = factory.Sequence(lambda n: f"Drill {n}")
    text = "Two lines. Swap after each turn."

    @classmethod
    def _create(cls, model_class: type[Drill], **fields: Any) -> Drill:
        drill = model_class(**fields)
        drill.show(as_jpeg(Image.new("RGB", (40, 30), "white")))
        drill.save()
        return drill


class AttendanceFactory(DjangoModelFactory[Attendance]):
    class Meta:
        model = Attendance

    presence = "present"


class GameFactory(DjangoModelFactory[Game]):
    class Meta:
        model = Game

    team = factory.SubFactory(TeamFactory)
    date = date(2026, 12, 5)
    start = time(15, 0)
    opponent = "Millbrook"


class OpponentFactory(DjangoModelFactory[Opponent]):
    class Meta:
        model = Opponent

    team = factory.SubFactory(TeamFactory)
    name = factory.Sequence(lambda n: f"Opponent {n}")


class ObservationFactory(DjangoModelFactory[Observation]):
    """Three switches and a zone against sideline throw-ins."""

    class Meta:
        model = Observation

    opponent = factory.SubFactory(OpponentFactory)
    day = factory.Sequence(lambda n: date(2026, 9, 1) + timedelta(days=n))
    situation = "sideline"
    switch = 3
    zone = 1


class RepFactory(DjangoModelFactory[Rep]):
    """A rep; give ``practice`` and ``entry``, and the five through ``cast``."""

    class Meta:
        model = Rep
        skip_postgeneration_save = True

    revision = factory.LazyAttribute(lambda rep: rep.entry.revision)
    mode = "half_speed"
    is_clean = True
    at = datetime(2026, 9, 1, 16, 0, tzinfo=UTC)

    @factory.post_generation
    def cast(self, create: bool, extracted: dict[str, Player] | None, **_: Any) -> None:
        rep: Rep = self  # type: ignore[assignment]
        if create and extracted:
            RepRole.objects.bulk_create(
                [RepRole(rep=rep, role=role, player=who) for role, who in extracted.items()]
            )
            remake([rep.practice_id], [rep.entry_id])


def published(value: PlayValue, author: User | None = None) -> Play:
    """A play of the library with this value as its current revision."""
    return add_play(value, author)
