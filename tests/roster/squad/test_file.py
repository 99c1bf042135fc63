"""Bringing a roster in over the page, and saving it: everything or nothing, and nothing lost."""

from __future__ import annotations

import io
import re
import tracemalloc
import zipfile
from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from openpyxl import Workbook

from roster.models import Player
from roster.squad import workbook as workbooks
from shared.models import Change
from tests.cast import Cast

GOOD = "name,number,height_cm\nTuva,31,171\nYrsa,32,\n"
FAULTY = "name;number;height_cm;passing\nTuva;31;171;5\n;32;;\nYrsa;31;900;9\n"


def upload(cast: Cast, data: bytes, name: str = "roster.csv") -> HttpResponse:
    client = cast.client(cast.head)
    return client.post(address(cast), {"file": SimpleUploadedFile(name, data)})  # type: ignore[return-value]


def address(cast: Cast) -> str:
    return f"/teams/{cast.team.pk}/roster/import/"


def cells(response: Any) -> dict[str, str]:
    """What the preview's form would send."""
    preview = response.context["preview"]
    typed = {f"row-{r.line}-{c.column}": c.text for r in preview.rows for c in r.cells}
    return {"previewed": "1", "mark": preview.mark, **typed}


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
    assert "2 lines have to be put right" in text
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
        "Tuva",
        "Yrsa",
    }


def test_a_number_of_somebody_on_the_roster_is_told(cast: Cast) -> None:
    text = upload(cast, b"name,number\nTuva,4\n").content.decode()
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


def workbook(*rows: list[Any], empty_first: bool = False) -> bytes:
    """An XLSX file, written by openpyxl."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    if empty_first:
        sheet = book.create_sheet("Squad")
    for row in rows:
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_a_workbook_is_read_like_a_file(cast: Cast) -> None:
    data = workbook(["Name", "No.", "Height"], ["Tuva", 31, 171.0], ["Yrsa", "32", "5'9\""])
    sent = {**cells(upload(cast, data, "squad.xlsx")), "bring": "1"}
    assert cast.client(cast.head).post(address(cast), sent).status_code == 302
    found = Player.objects.filter(number__in=("31", "32")).values_list("name", "height_cm")
    assert set(found) == {("Tuva", 171), ("Yrsa", 175)}


def test_the_first_sheet_that_holds_anything_counts(cast: Cast) -> None:
    data = workbook(["Name", "No."], [None, None], ["Tuva", 31], empty_first=True)
    assert upload(cast, data).context["preview"].fresh == 1  # type: ignore[attr-defined]


@pytest.mark.parametrize("harm", ["cut", "other", "empty", "bomb"])
def test_a_workbook_that_is_none_is_told_at_the_field(cast: Cast, harm: str) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b"0" * (30_000_000 if harm == "bomb" else 10))
    data = {"cut": workbook(["Name", "No."])[:900], "empty": workbook()}.get(harm, out.getvalue())
    response = upload(cast, data)
    assert response.status_code == 422
    assert 'id="file-error"' in response.content.decode()


def changed(data: bytes, part: str, change: Callable[[str], str]) -> bytes:
    """A workbook with one of its parts written anew."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", 8) as new:
        for name in old.namelist():
            text = old.read(name)
            new.writestr(name, change(text.decode()) if name == part else text)
    return out.getvalue()


def test_one_sheet_named_three_thousand_times_is_opened_a_few_times(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file of 30 kB; each name of the same empty sheet would be another reading of it."""
    one = re.compile(r"<sheet [^>]*/>")

    def repeat(text: str) -> str:
        found = one.search(text)
        assert found
        more = (found[0].replace('name="Sheet', f'name="S{n}') for n in range(3000))
        return one.sub(lambda _: "".join(more), text)

    data = changed(workbook(), "xl/workbook.xml", repeat)
    opened: list[object] = []
    monkeypatch.setattr(workbooks, "_rows_of", opened.append)
    assert upload(cast, data, "squad.xlsx").status_code == 422
    assert 1 < len(opened) <= workbooks.MOST_SHEETS


def test_a_workbook_that_lies_about_its_size_is_not_unpacked(cast: Cast) -> None:
    """Its directory says ten bytes where thirty million come out (APPNOTE, 4.3.12)."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", b" " * 30_000_000)
    size = (30_000_000).to_bytes(4, "little")
    data = out.getvalue().replace(size, (10).to_bytes(4, "little"))
    assert data != out.getvalue()
    tracemalloc.start()
    try:
        response = upload(cast, data, "squad.xlsx")
        _now, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert response.status_code == 422
    assert most < 10_000_000


def test_a_pasted_list_is_enough_and_stays_when_it_is_no_table(cast: Cast) -> None:
    client = cast.client(cast.head)
    good = client.post(address(cast), {"pasted": "31 Tuva\r\n32 Yrsa"})
    assert good.context["preview"].fresh == 2
    bad = client.post(address(cast), {"pasted": 'name,number\n"Tuva,31'})
    assert bad.status_code == 422
    assert "&quot;Tuva,31" in bad.content.decode()
    assert 'id="pasted-error"' in bad.content.decode()


ODD = "First name;Born;Trikot;Size\nTuva;2012;31;171\nYrsa;2013;32;\n"


def test_unknown_columns_are_matched_by_a_person(cast: Cast) -> None:
    response = upload(cast, ODD.encode())
    headings = response.context["headings"]  # type: ignore[attr-defined]
    assert [(each.heading, each.chosen) for each in headings] == [
        ("First name", "name"),
        ("Born", ""),
        ("Trikot", ""),
        ("Size", ""),
    ]
    assert headings[1].examples == ("2012", "2013")
    client = cast.client(cast.head)
    sent = {"pasted": response.context["pasted"], "column-0": "name", "column-3": "height_cm"}  # type: ignore[attr-defined]
    short = client.post(address(cast), sent)
    assert short.status_code == 422
    assert "which is the shirt number" in short.content.decode()
    twice = client.post(address(cast), {**sent, "column-2": "name"})
    assert "Two columns" in twice.content.decode()
    right = client.post(address(cast), {**sent, "column-2": "number"})
    assert right.status_code == 200
    done = client.post(address(cast), {**cells(right), "bring": "1"})
    assert done.status_code == 302
    assert Player.objects.get(team=cast.team, number="31").height_cm == 171


def test_a_first_line_can_be_a_player(cast: Cast) -> None:
    client = cast.client(cast.head)
    asked = client.post(address(cast), {"pasted": "Tuva;31;171\nYrsa;32;168"})
    assert not asked.context["matching"].headed
    sent = {"pasted": asked.context["pasted"], "column-0": "name", "column-1": "number"}
    found = client.post(address(cast), {**sent, "unheaded": "on"}).context["preview"]
    assert [player.name for player in found.found.players] == ["Tuva", "Yrsa"]


def known_file(cast: Cast) -> tuple[Client, str]:
    client = cast.client(cast.head)
    return client, client.get(f"/teams/{cast.team.pk}/roster/file/").content.decode("utf-8-sig")


def test_the_own_file_unchanged_changes_nothing(cast: Cast) -> None:
    _client, text = known_file(cast)
    preview = upload(cast, text.encode()).context["preview"]  # type: ignore[attr-defined]
    assert preview.known == cast.team.players.present().count()
    assert not preview.does_something


def test_the_own_file_brought_back_changes_values_and_shirts(cast: Cast) -> None:
    ida, bo = cast.team.players.present()[:2]
    Player.objects.filter(pk=ida.pk).update(passing=3)
    text = (
        f"name,number,height_cm,passing\n{ida.name},{bo.number},170,\n{bo.name},{ida.number},,5\n"
    )
    response = upload(cast, text.encode())
    preview = response.context["preview"]  # type: ignore[attr-defined]
    assert (preview.known, preview.fresh, preview.changes) == (2, 0, 4)
    assert "Change 4 values" in response.content.decode()
    client = cast.client(cast.head)
    assert client.post(address(cast), {**cells(response), "bring": "1"}).status_code == 302
    now = {player.pk: player for player in Player.objects.filter(pk__in=(ida.pk, bo.pk))}
    assert (now[ida.pk].number, now[bo.pk].number) == (bo.number, ida.number)
    assert (now[ida.pk].height_cm, now[ida.pk].passing, now[bo.pk].passing) == (170, 3, 5)
    line = Change.objects.get(verb="changed players by a file")
    assert len(line.after or ()) == 2
    assert Player.objects.filter(team=cast.team).count() == len(cast.players)


def test_a_roster_that_moved_on_is_shown_again(cast: Cast) -> None:
    ida = cast.team.players.present()[0]
    sent = cells(upload(cast, f"name,number,passing\n{ida.name},{ida.number},5\n".encode()))
    Player.objects.filter(pk=ida.pk).update(passing=2)
    again = cast.client(cast.head).post(address(cast), {**sent, "bring": "1"})
    assert again.status_code == 200
    assert "has changed since" in again.content.decode()
    assert Player.objects.get(pk=ida.pk).passing == 2
