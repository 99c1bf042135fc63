"""A sheet that was drawn before is not drawn again, and never shown to whom it is not for."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.drawing.phase import diagram
from plays.library.changes import publish, save_draft
from roster.core.paper.sheet_pdf import write_sheets
from roster.models import PackagePlay, Player, Team
from shared.models import Club, User
from tests.cast import Cast


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> Path:
    settings.DATA = tmp_path
    return tmp_path


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The phases that were drawn, and the papers that were written."""
    made: list[str] = []

    def drawing(play: Any, phase: str, how: Any) -> Any:
        made.append(phase)
        return diagram(play, phase, how)

    def writing(*args: Any, **options: Any) -> Any:
        made.append("pdf")
        return write_sheets(*args, **options)

    monkeypatch.setattr("roster.sheets.page.diagram", drawing)
    monkeypatch.setattr("roster.sheets.single.write_sheets", writing)
    return made


def sheet(cast: Cast, name: str = "sheet", **headers: str) -> Any:
    path = reverse(name, args=[cast.players[0].pk])
    return cast.client(cast.head).get(path, headers=headers or None)


def test_a_sheet_is_drawn_once_as_a_page_and_once_on_paper(cast: Cast, drawn: list[str]) -> None:
    first = sheet(cast).content.decode()
    phases = len(drawn)
    assert phases == len(demo_play("gangway").phases)
    again = sheet(cast).content.decode()
    assert first.partition("<main")[2] == again.partition("<main")[2]
    assert len(drawn) == phases
    assert sheet(cast, "sheet-pdf").content == sheet(cast, "sheet-pdf").content
    assert drawn.count("pdf") == 1


def test_every_change_is_seen_at_once(cast: Cast, drawn: list[str]) -> None:
    assert "Runa" not in sheet(cast).content.decode()
    cast.entry.castings.filter(depth=1, role="5").update(player=cast.players[5])
    cast.entry.castings.filter(depth=2, role="5").delete()
    assert "Runa" in sheet(cast).content.decode()
    cast.entry.call = "Harbour"
    cast.entry.save()
    assert "Harbour" in sheet(cast).content.decode()
    cast.team.language = "es"
    cast.team.save()
    assert 'lang="es"' in sheet(cast).content.decode()


def test_a_browser_that_has_it_is_told_so(cast: Cast) -> None:
    client = cast.client(cast.head)
    path = reverse("sheet", args=[cast.players[0].pk])
    first = client.get(path)
    assert first.headers["Cache-Control"] == "private, no-cache"
    tag = first.headers["ETag"]
    again = client.get(path, headers={"If-None-Match": tag})
    assert (again.status_code, again.content) == (304, b"")
    other = cast.client(cast.runner).get(path, headers={"If-None-Match": tag})
    assert other.status_code == 200  # another viewer's page is another page
    stranger = cast.client(cast.stranger).get(path, headers={"If-None-Match": tag})
    assert stranger.status_code == 404
    factories.CastingFactory.create(entry=cast.entry, role="1", depth=3, player=cast.players[6])
    cast.players[0].name = "Ines"
    cast.players[0].save()
    assert client.get(path, headers={"If-None-Match": tag}).status_code == 200


def test_who_has_the_page_is_told_so_without_reading_what_was_drawn(
    cast: Cast, drawn: list[str], data: Path
) -> None:
    client = cast.client(cast.head)
    path = reverse("sheet", args=[cast.players[0].pk])
    tag = client.get(path).headers["ETag"]
    count = len(drawn)
    for piece in data.glob("pieces/*/*"):
        piece.unlink()
    assert client.get(path, headers={"If-None-Match": tag}).status_code == 304
    assert len(drawn) == count
    assert "<svg" in client.get(path).content.decode()
    assert len(drawn) > count


def put_out(cast: Cast) -> None:
    cast.players[1].availability = "out"
    cast.players[1].save()


def cast_again(cast: Cast) -> None:
    """Role 2 goes to who was the second of role 5; Ida's own row of the cast stays."""
    cast.entry.castings.filter(role="5", depth=2).delete()
    cast.entry.castings.filter(role="2").update(player=cast.players[5])


def carry_the_next(cast: Cast) -> None:
    value = replace(demo_play("gangway"), name="Gangway of Tuesday")
    draft = save_draft(cast.play, value, cast.keeper)
    PackagePlay.objects.update(revision=publish(draft, cast.keeper))


CHANGES: dict[str, Callable[[Cast], object]] = {
    "own name": lambda cast: Player.objects.filter(pk=cast.players[0].pk).update(name="Ines"),
    "own number": lambda cast: Player.objects.filter(pk=cast.players[0].pk).update(number="77"),
    "name of a fellow": lambda cast: Player.objects.filter(pk=cast.players[1].pk).update(
        name="Eva"
    ),
    "somebody out": put_out,
    "cast": cast_again,
    "call": lambda cast: PackagePlay.objects.update(call="Harbour"),
    "signal": lambda cast: PackagePlay.objects.update(signal="a fist"),
    "revision": carry_the_next,
    "dropped": lambda cast: PackagePlay.objects.update(dropped_on=date(2030, 1, 1)),
    "language": lambda cast: Team.objects.update(language="es"),
    "words": lambda cast: Team.objects.update(wording="plain"),
    "team": lambda cast: Team.objects.update(name="Cranes"),
    "club": lambda cast: Club.objects.update(name="Harbour club"),
    "viewer": lambda cast: User.objects.update(name="Henny"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_tag_holds_only_as_long_as_the_page_is_the_same(change: str, cast: Cast) -> None:
    client = cast.client(cast.head)
    path = reverse("sheet", args=[cast.players[0].pk])
    before = client.get(path)
    CHANGES[change](cast)
    after = client.get(path, headers={"If-None-Match": before.headers["ETag"]})
    assert after.status_code == 200
    assert after.headers["ETag"] != before.headers["ETag"]
    assert said(after) != said(before)


def said(response: Any) -> str:
    return re.sub(r'csrfmiddlewaretoken" value="[^"]*', "", response.content.decode())


@pytest.mark.django_db(transaction=True)
def test_pieces_go_when_a_person_is_renamed_or_erased(cast: Cast, data: Path) -> None:
    def named() -> int:
        return sum(b"Ida" in path.read_bytes() for path in data.glob("pieces/*/*"))

    sheet(cast)
    assert named() == 1
    cast.players[0].name = "Ines"
    cast.players[0].save()
    assert named() == 0
    sheet(cast)
    cast.players[0].delete()
    assert not list(data.glob(f"pieces/{cast.team.pk}/*"))
