"""Bringing a roster in over the page, and saving it: everything or nothing, and nothing lost."""

from __future__ import annotations

from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse

from roster.models import Player
from tests.cast import Cast

GOOD = "name,number,height_cm\nRuna,31,171\nSol,32,\n"
FAULTY = "name;number;height_cm;passing\nRuna;31;171;5\n;32;;\nSol;31;900;9\n"


def upload(cast: Cast, data: bytes, name: str = "roster.csv") -> HttpResponse:
    client = cast.client(cast.head)
    return client.post(address(cast), {"file": SimpleUploadedFile(name, data)})  # type: ignore[return-value]


def address(cast: Cast) -> str:
    return f"/teams/{cast.team.pk}/roster/import/"


def cells(response: HttpResponse) -> dict[str, str]:
    """What the preview's form would send."""
    preview = response.context["preview"]  # type: ignore[attr-defined]
    typed = {f"row-{r.line}-{c.column}": c.text for r in preview.rows for c in r.cells}
    return {"previewed": "1", **typed}


def test_the_preview_saves_nothing(cast: Cast) -> None:
    before = Player.objects.count()
    response = upload(cast, GOOD.encode())
    assert response.status_code == 200
    assert Player.objects.count() == before


def test_a_settled_preview_brings_all_in(cast: Cast) -> None:
    sent = {**cells(upload(cast, GOOD.encode())), "bring": "1"}
    response = cast.client(cast.head).post(address(cast), sent)
    assert response.status_code == 302
    assert Player.objects.get(number="31").height_cm == 171
    assert Player.objects.filter(number__in=("31", "32")).count() == 2


def test_every_faulty_row_is_told_with_its_reason_and_none_is_saved(cast: Cast) -> None:
    before = Player.objects.count()
    response = upload(cast, FAULTY.encode())
    assert response.status_code == 422
    text = response.content.decode()
    assert "2 lines need another look" in text
    assert "The name is empty" in text
    assert "used twice" in text
    assert "no height" in text
    assert "no rating" in text
    sent = {**cells(response), "bring": "1"}
    again = cast.client(cast.head).post(address(cast), sent)
    assert again.status_code == 422
    assert Player.objects.count() == before
    assert 'value="900"' in again.content.decode()  # what was typed is still there


def test_mended_and_skipped_rows_settle_the_file(cast: Cast) -> None:
    sent = cells(upload(cast, FAULTY.encode()))
    sent |= {"skip-3": "on", "row-4-number": "33", "row-4-height_cm": "180", "row-4-passing": "4"}
    client = cast.client(cast.head)
    checked = client.post(address(cast), sent)
    assert checked.status_code == 200
    assert client.post(address(cast), {**sent, "bring": "1"}).status_code == 302
    assert set(Player.objects.filter(number__in=("31", "33")).values_list("name", flat=True)) == {
        "Runa",
        "Sol",
    }


def test_a_number_of_somebody_on_the_roster_is_told(cast: Cast) -> None:
    text = upload(cast, b"name,number\nRuna,4\n").content.decode()
    assert "Number 4 is used already" in text


def test_latin_1_and_semicolons_are_understood_and_said(cast: Cast) -> None:
    response = upload(cast, "name;number\nZoé;41\n".encode("latin-1"))
    assert response.status_code == 200
    assert "Zoé" in response.content.decode()


def test_what_is_no_roster_is_refused_at_the_field(cast: Cast) -> None:
    assert "larger than 1 MB" in upload(cast, b"x" * 2_000_000).content.decode()
    assert upload(cast, b"\x00\x01\x02").status_code == 422
    assert "Choose a file" in cast.client(cast.head).post(address(cast)).content.decode()


def test_the_saved_file_brings_the_same_players_in(cast: Cast) -> None:
    Player.objects.filter(name="Ida").update(height_cm=170, passing=5, positions="1,2")
    client = cast.client(cast.head)
    data = client.get(f"/teams/{cast.team.pk}/roster/file/").content
    before = list(cast.team.players.values_list(*FIELDS))
    cast.team.players.all().delete()
    sent = {**cells(upload(cast, data)), "bring": "1"}
    assert client.post(address(cast), sent).status_code == 302
    assert list(cast.team.players.values_list(*FIELDS)) == before


FIELDS = ("name", "number", "height_cm", "positions", "passing", "availability")
