"""A copy of what is held, and taking somebody out so that no byte of the file tells who it was."""

from __future__ import annotations

import csv
import io
import json
import re
from datetime import UTC, timedelta
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import connection, models
from django.db.migrations.loader import MigrationLoader
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from plays.models import Revision
from practice.models import (
    Absence,
    Attendance,
    CalledPlay,
    CalledRole,
    Clearing,
    FeedLink,
    HeldRep,
    PlanPattern,
    Rep,
    RepRole,
    RepSum,
    SquadMark,
)
from practice.privacy.erase import erase, mentions
from practice.privacy.held import counted_about, held_about, tables_about_players, write_csv
from practice.privacy.retention import KEPT_FOR
from practice.reps.sums import remake
from roster.core.quiz.spacing import answered
from roster.models import (
    CastBan,
    Casting,
    CastLock,
    GotIt,
    KeptApart,
    Lesson,
    Player,
    PlayerLink,
    QuizAnswer,
)
from roster.squad.links import link_for
from shared.models import Change
from shared.record import note_change
from shared.worker import Work, perform
from tests.cast import Cast
from tests.phone import opened_by

NAME = "Quetzalina"  # that no other text of the test holds by chance


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> Path:
    settings.DATA = tmp_path
    return tmp_path


@pytest.fixture
def known(cast: Cast) -> Player:
    """A player about whom there is something in every table."""
    player = cast.players[0]
    player.name, player.height_cm, player.passing = NAME, 171, 4
    player.save()
    link_for(player, timezone.now())
    today = timezone.localdate()
    Absence.objects.create(player=player, first=today, last=today)
    Attendance.objects.create(practice=cast.practice, player=player, presence="late")
    Lesson.objects.create(team=cast.team, player=player, entry=cast.entry, role="2")
    FeedLink.objects.create(team=cast.team, player=player, nonce="n")
    cast.unit.members.add(player)
    KeptApart.objects.create(team=cast.team, one=player, other=cast.players[1])
    for table in (CastLock, CastBan):
        table._default_manager.create(entry=cast.entry, role="1", player=player)
    part = {"player": player, "entry": cast.entry, "role": "1"}
    GotIt.objects.create(**part, revision=cast.entry.revision)
    said_at = timezone.now()
    memory = answered(None, right=True, at=said_at.astimezone(UTC)).to_json()
    QuizAnswer.objects.create(
        **part, question="start", number=1, right=True, memory=memory, said_at=said_at
    )
    rep = Rep.objects.create(
        practice=cast.practice,
        entry=cast.entry,
        revision=cast.entry.revision,
        mode="live",
        is_clean=True,
        at=timezone.now(),
    )
    RepRole.objects.create(rep=rep, role="1", player=player)
    called = CalledPlay.objects.create(
        game=cast.game,
        entry=cast.entry,
        revision=cast.entry.revision,
        taken="none",
        result="turnover",
        at=timezone.now(),
    )
    CalledRole.objects.create(called=called, role="1", player=player)
    SquadMark.objects.create(game=cast.game, player=player, is_out=False)
    remake([cast.practice.pk])
    note_change(cast.head, "saved player", player, team=cast.team.pk, after=[NAME, {"who": NAME}])
    cast.practice.notes = f"{NAME} brings the balls"
    cast.practice.save()
    return player


def whole_database() -> str:
    """Every value of every row, also of tables that nobody thought of."""
    found = []
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names():
            cursor.execute(f'SELECT * FROM "{table}"')
            found.append(repr(cursor.fetchall()))
    return "\n".join(found)


def test_a_copy_holds_what_every_table_says(cast: Cast, known: Player) -> None:
    answer = cast.client(cast.head).get(reverse("player-data-file", args=[known.pk, "json"]))
    facts = json.loads(answer.content)
    assert facts["player"][0]["name"] == NAME
    assert facts["player"][0]["height_cm"] == 171
    for table, _ in tables_about_players():
        assert facts.get(str(table._meta.verbose_name_raw)), table
    assert facts["rep role"][0]["mode"] == "live"
    assert "attachment" in answer.headers["Content-Disposition"]


def test_what_is_counted_is_what_the_copy_holds(known: Player) -> None:
    held = {table: len(rows) for table, rows in held_about(known).items()}
    assert counted_about(known) == held
    assert len(held) > 4


def test_a_copy_opens_nothing_and_names_no_team_mate(cast: Cast, known: Player) -> None:
    link = PlayerLink.objects.get(player=known)
    said = json.dumps(held_about(known), default=str)
    assert link.nonce not in said
    assert link.digest not in said
    assert not [mate.name for mate in cast.players[1:] if mate.name in said.replace("Gangway", "")]


def test_no_cell_of_the_csv_computes(cast: Cast, known: Player) -> None:
    """OWASP, CSV Injection: a cell that begins with = + - @, tab or CR is taken for a formula."""
    for name in ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1"):
        known.name = name
        rows = list(csv.reader(io.StringIO(write_csv(held_about(known)).decode("utf-8-sig"))))
        assert not [cell for row in rows for cell in row if cell[:1] in tuple("=+-@\t\r")]
    assert {"height_cm", "passing"} <= {row[2] for row in rows if row[0] == "player"}


@pytest.mark.django_db(transaction=True)
def test_no_byte_of_the_file_tells_who_it_was(
    cast: Cast, known: Player, data: Path, spawned: list[Work]
) -> None:
    client = cast.client(cast.head)
    assert NAME in client.get(reverse("sheet", args=[known.pk])).content.decode()
    assert any(NAME.encode() in path.read_bytes() for path in data.glob("pieces/*/*"))
    page = client.get(reverse("player-data", args=[known.pk])).content.decode()
    assert "brings the balls" in page
    client.post(reverse("player-data", args=[known.pk]), {"typed": "on"})
    assert NAME not in whole_database()
    if connection.vendor == "sqlite":
        (cleared,) = (row for row in spawned if isinstance(row, Clearing))
        perform(cleared)
        assert cleared.read_again().state == "done"
        connection.ensure_connection()
        assert NAME.encode() not in connection.connection.serialize()
    assert not any(NAME.encode() in path.read_bytes() for path in data.glob("pieces/*/*"))


def test_history_stays_under_a_number(cast: Cast, known: Player) -> None:
    erase([known], cast.head, typed=True)
    known.refresh_from_db()
    assert (known.name, known.number, known.height_cm, known.passing) == (
        f"#{known.anonymous_number}",
        "0",
        None,
        None,
    )
    assert known.left_on is not None
    assert RepRole.objects.filter(player=known).count() == 1
    assert known.rep_sums.count() == 1
    assert not Casting.objects.filter(player=known).exists()
    for table, field in tables_about_players():
        found = table._default_manager.filter(**{field: known}).exists()
        assert found is (table in (RepRole, CalledRole, RepSum, Attendance)), table
    said = Change.objects.filter(verb="erased a player").get()
    assert (said.subject, said.user) == (known.name, cast.head)
    assert erase([known], cast.head, typed=True) == [known.name]  # pressed twice
    assert Change.objects.filter(verb="erased a player").count() == 1


def test_the_number_of_an_erased_player_is_not_the_key_of_the_row(
    cast: Cast, known: Player, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By chance, and drawn again where a team has it already: none leads back, no two are one."""
    drawn = iter([41, 41, 42])
    monkeypatch.setattr("practice.privacy.erase.secrets.randbelow", lambda _: next(drawn))
    mate = cast.team.players.exclude(pk=known.pk)[0]
    assert erase([known, mate], cast.head, typed=True) == ["#1041", "#1042"]
    known.refresh_from_db()
    assert known.call_name.name == "#1041"
    copy = write_csv(held_about(known)).decode("utf-8-sig")
    assert "#1041" in copy
    assert not re.search(rf"#{known.pk}\b", copy)


def test_who_was_erased_under_the_key_of_the_row_gets_a_number_by_chance(
    cast: Cast, known: Player
) -> None:
    before = f"#{known.pk}"
    Player.objects.filter(pk=known.pk).update(name=before)
    note_change(cast.head, "erased a player", before, team=cast.team.pk)
    draw = import_module("roster.migrations.0010_erased_by_chance").draw_numbers
    at_that_time = MigrationLoader(connection).project_state(("roster", "0010_erased_by_chance"))
    draw(at_that_time.apps, None)
    known.refresh_from_db()
    assert known.name == f"#{known.anonymous_number}" != before
    assert Change.objects.get(verb="erased a player").subject == known.name
    assert not Player.objects.exclude(pk=known.pk).filter(anonymous_number__isnull=False).exists()


def test_every_table_that_points_at_players_is_emptied_but_for_history(
    cast: Cast, known: Player
) -> None:
    """By Django's own list of fields, so that a table that is added later is held to it."""
    erase([known], cast.head, typed=True)
    kept = {"RepRole", "CalledRole", "RepSum", "Attendance"}
    for model in apps.get_models(include_auto_created=True):
        for field in model._meta.concrete_fields:
            if isinstance(field, models.ForeignKey) and field.related_model is Player:
                left = model._default_manager.filter(**{field.name: known}).exists()
                assert not left or model.__name__ in kept, model


def test_a_name_that_two_share_stays_with_the_other(cast: Cast, known: Player) -> None:
    other = factories.PlayerFactory.create(team=cast.team, name=NAME, number="77")
    note_change(cast.head, "saved player", other, team=cast.team.pk)
    erase([known], cast.head, typed=True)
    subjects = list(Change.objects.values_list("subject", flat=True))
    assert f"{NAME} (77)" in subjects
    assert f"{NAME} ({known.number})" not in subjects


def test_a_name_from_before_a_change_goes_with_the_person(cast: Cast, known: Player) -> None:
    form = {"name": "Wilhelmine", "number": known.number, "availability": "available"}
    path = reverse("edit-player", args=[known.pk])
    page = cast.client(cast.head).get(path).content.decode()
    stood = dict(re.findall(r'name="(stood[^"]*|once)" value="([^"]*)"', page))
    assert cast.client(cast.head).post(path, {**form, **stood}).status_code == 302
    said = list(Change.objects.values_list("subject", flat=True))
    assert f"Wilhelmine ({known.number})" in said
    assert f"{NAME} ({known.number})" not in said


def test_a_player_reads_name_and_number_of_team_mates_only(
    client: Client, cast: Cast, known: Player
) -> None:
    mates = cast.team.players.exclude(pk=known.pk)
    mates.update(height_cm=193, sprint_10=2.468, sprint_20=4.321, expected_minutes=37, passing=5)
    address = opened_by(client, known)
    own = [address, f"{address}{cast.entry.pk}/1/"]
    texts = [re.sub(r"<svg.*?</svg>", "", shown(client, path), flags=re.DOTALL) for path in own]
    for text in texts:
        for secret in ("193", "2.468", "4.321", "37 min", "availab", *staff_of(cast)):
            assert secret not in text, secret
    assert any("Noor" in text for text in texts)


def staff_of(cast: Cast) -> list[str]:
    return [cast.head.name, cast.head.email or "@", cast.assistant.name]


def shown(client: Client, path: str) -> str:
    return re.sub(r"<[^>]+>", " ", client.get(path).content.decode())


def test_what_coaches_typed_stays_where_they_want_it(cast: Cast, known: Player) -> None:
    assert [each.text for each in mentions(known)] == [f"{NAME} brings the balls"]
    erase([known], cast.head, typed=False)
    cast.practice.refresh_from_db()
    assert cast.practice.notes == f"{NAME} brings the balls"


@pytest.mark.parametrize("field", ["practice place", "game opponent", "game place"])
def test_a_name_typed_in_a_place_or_an_opponent_is_told_and_replaced(
    cast: Cast, known: Player, field: str
) -> None:
    kind, name = field.split()
    row = {"practice": cast.practice, "game": cast.game}[kind]
    setattr(row, name, f"at {NAME}'s")
    row.save()
    assert f"at {NAME}'s" in [each.text for each in mentions(known)]
    (number,) = erase([known], cast.head, typed=True)
    row.refresh_from_db()
    assert getattr(row, name) == f"at {number}'s"


def test_a_name_in_a_pattern_a_tap_or_a_call_is_told_and_replaced(
    cast: Cast, known: Player
) -> None:
    blocks = [{"title": f"{NAME} shows it", "minutes": 8}]
    pattern = PlanPattern.objects.create(team=cast.team, name="Usual", blocks=blocks)
    held = HeldRep.objects.create(team=cast.team, tap={"call": f"Gangway {NAME}", "cast": {}})
    rep = Rep.objects.filter(practice__team=cast.team).first()
    assert rep
    Rep.objects.filter(pk=rep.pk).update(call=f"Oars {NAME}")
    told = {each.text for each in mentions(known)}
    assert told >= {f"{NAME} shows it", f"Gangway {NAME}", f"Oars {NAME}"}
    (number,) = erase([known], cast.head, typed=True)
    for row in (pattern, held, rep):
        row.refresh_from_db()
    assert pattern.blocks == [{"title": f"{number} shows it", "minutes": 8}]
    assert (held.tap["call"], rep.call) == (f"Gangway {number}", f"Oars {number}")


@pytest.mark.parametrize("name", [NAME, "Zoë"])
@pytest.mark.parametrize("place", ["note", "document"])
def test_plays_that_name_a_player_are_told_before_erasing(
    cast: Cast, known: Player, place: str, name: str
) -> None:
    known.name = name
    known.save()
    address = reverse("player-data", args=[known.pk])
    said = "in the texts of plays"
    assert said not in cast.client(cast.head).get(address).content.decode()
    revision = cast.entry.revision
    document = {**revision.document, "teach": f"Watch {name}"}
    changed: dict[str, Any] = {"note": f"for {name}"} if place == "note" else {"document": document}
    Revision.objects.filter(pk=revision.pk).update(**changed)
    shown = cast.client(cast.head).get(address).content.decode()
    assert said in shown
    assert revision.play.name in shown.partition(said)[2]


@pytest.mark.skipif(connection.vendor != "sqlite", reason="a file that is cleared")
def test_a_squad_is_erased_at_once_and_the_file_cleared_once(
    cast: Cast,
    known: Player,
    spawned: list[Work],
    django_capture_on_commit_callbacks: Any,
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        said = erase(list(cast.team.players.all()), cast.head, typed=True)
    assert len(said) == len(set(said)) == cast.team.players.count()
    assert [type(row) for row in spawned].count(Clearing) == 1


@pytest.mark.skipif(connection.vendor != "sqlite", reason="a file that is cleared")
def test_the_page_tells_of_the_clearing_and_tries_again_what_failed(
    cast: Cast, known: Player, monkeypatch: pytest.MonkeyPatch
) -> None:
    erase([known], cast.head, typed=True)
    client, path = cast.client(cast.head), reverse("retention", args=[cast.team.pk])
    assert "is being cleared from the free room" in client.get(path).content.decode()
    monkeypatch.setattr("practice.privacy.clearing._cleared", lambda: False)
    monkeypatch.setattr("practice.privacy.clearing.PAUSE", 0)
    perform(Clearing.objects.get())
    assert Clearing.objects.get().state == "failed"
    assert "could not be cleared" in client.get(path).content.decode()
    assert "is being cleared" in client.get(path).content.decode()
    monkeypatch.setattr("practice.privacy.clearing._cleared", lambda: True)
    perform(Clearing.objects.all()[0])
    assert [row.state for row in Clearing.objects.all()] == ["done"]
    assert "free room" not in client.get(path).content.decode()


def test_after_the_season_the_data_goes(cast: Cast, known: Player) -> None:
    path = reverse("retention", args=[cast.team.pk])
    client = cast.client(cast.head)
    assert "no last day yet" in client.get(path).content.decode()
    today = timezone.localdate()
    cast.team.season_ends = today - KEPT_FOR + timedelta(days=1)
    cast.team.save()
    page = client.get(path).content.decode()
    assert NAME in page
    assert "Erase these for good" not in page
    client.post(path)  # too early: nothing goes
    assert Player.objects.filter(name=NAME).exists()
    cast.team.season_ends = today - KEPT_FOR
    cast.team.save()
    assert "Erase these for good" in client.get(path).content.decode()
    client.post(path)
    assert not Player.objects.filter(team=cast.team).exclude(name__startswith="#").exists()
    assert Player.objects.filter(pk=cast.other_player.pk, name="Olaf").exists()
    assert "No personal data is left" in client.get(path).content.decode()


def test_the_command_says_first_and_does_when_told(
    cast: Cast, known: Player, capsys: pytest.CaptureFixture[str]
) -> None:
    cast.team.season_ends = timezone.localdate() - timedelta(days=10)
    cast.team.save()
    call_command("retention", "--days", "10")
    assert f"{cast.team}: 7 players" in capsys.readouterr().out
    assert Player.objects.filter(name=NAME).exists()
    call_command("retention", "--days", "11", "--erase")
    assert Player.objects.filter(name=NAME).exists()
    call_command("retention", "--days", "10", "--erase")
    assert f"{cast.team}: 7 players erased." in capsys.readouterr().out
    assert not Player.objects.filter(name=NAME).exists()
