"""Nothing that is sent makes the server fail: every form, address and import, with nasty input."""

from __future__ import annotations

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.urls import reverse

from coachbook.demo.files import demo_play
from plays.core.document.file import to_json
from roster.core.file.cells import COLUMNS
from tests.cast import Cast
from tests.coachbook.nasty import doors, failures
from tests.machine import ALL


def test_every_kind_of_door_is_tried(cast: Cast) -> None:
    found = doors(cast, cast.client(cast.runner))
    posts = {door.name for door in found if door.method == "post"}
    assert {"new-player", "edit-unit", "cast-play", "edit-texts", "team-pace"} <= posts
    assert sum(door.method == "post" for door in found) > 40
    assert sum(door.method == "get" for door in found) > 60


@pytest.mark.parametrize("member", ["9" * 5_000, str(2**63), str(2**70), "²", "\0", "-1"])
def test_a_unit_member_that_no_row_is(cast: Cast, member: str) -> None:
    path = reverse("new-unit", args=[cast.team.pk])
    five = [*(str(player.pk) for player in cast.players[:4]), member]
    answer = cast.client(cast.head).post(path, {"name": "Second", "members": five})
    assert answer.status_code == 422


@pytest.mark.parametrize("number", ["0", str(2**63), "9" * 5_000])
@pytest.mark.parametrize("end", ["/", "/check/", "/picture/", "/file/", "/card-dark.svg"])
def test_a_revision_that_no_play_has(cast: Cast, number: str, end: str) -> None:
    path = f"/library/{cast.play.key}/revisions/{number}{end}"
    assert cast.client(cast.head).get(path).status_code == 404


@pytest.mark.parametrize("odd", ["\\ud800", "\\u0000", "\\udfff\\ud800", "\\u202e"])
@pytest.mark.parametrize("place", ["name", "key", "level", "extra", "version"])
def test_half_letters_in_a_play_file(cast: Cast, odd: str, place: str) -> None:
    document = to_json(demo_play("gangway"))
    document["coachbook_play" if place == "version" else place] = "ODD" + "x" * (place == "extra")
    data = json.dumps(document).replace("ODD", odd).encode()
    sent = {"file": SimpleUploadedFile("x.json", data)}
    answer = cast.client(cast.keeper).post(reverse("import-plays"), sent)
    assert answer.status_code in {200, 422}


@pytest.mark.parametrize("lines", [84, 99])
def test_a_whole_club_in_one_roster_file(cast: Cast, lines: int) -> None:
    """Every cell of the preview comes back as a field, more than the framework takes unasked."""
    sent = {"previewed": "1", "bring": "1"}
    for line in range(2, lines + 2):
        sent |= {f"row-{line}-{column}": "" for column in COLUMNS}
        sent |= {f"row-{line}-name": f"Player {line}", f"row-{line}-number": str(line - 1)}
    cast.team.players.all().delete()
    path = reverse("import-roster", args=[cast.team.pk])
    shown = cast.client(cast.head).post(path, {key: sent[key] for key in sent if key != "bring"})
    sent["mark"] = shown.context["preview"].mark
    assert cast.client(cast.head).post(path, sent).status_code == 302
    assert cast.team.players.count() == lines


# The whole run is two minutes long, and tries what the short one tries too.
WHOLE = ALL and connection.vendor == "sqlite"


@pytest.mark.skipif(WHOLE, reason="the ten thousand are tried")
def test_some_nasty_inputs_and_no_failure(cast: Cast) -> None:
    """What comes out soon, on every database; ten thousand follow below, in every whole run."""
    assert failures(cast, 500, seed=20_261) == []


@pytest.mark.skipif(not WHOLE, reason="minutes long: with COACHBOOK_TESTS=all, on SQLite")
def test_ten_thousand_nasty_inputs_and_no_failure(cast: Cast) -> None:
    """Beside the other tests: it measures nothing, and keeps one core busy for long."""
    assert failures(cast, 10_000, seed=7) == []
