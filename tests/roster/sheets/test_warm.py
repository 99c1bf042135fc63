"""A sheet that was drawn before is not drawn again, and never shown to whom it is not for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.drawing.phase import diagram
from roster.core.paper.sheet_pdf import write_sheets
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
    monkeypatch.setattr("roster.sheets.views_files.write_sheets", writing)
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
