"""Sheets as files, read back with readers that did not write them (pypdf, poppler)."""

from __future__ import annotations

import io
import subprocess
import zipfile
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cast import Cast
from tests.machine import needs

# ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: Letter is 8.5 x 11 in. 72 points to the inch.
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}


def pdf(cast: Cast, path: str) -> PdfReader:
    response = cast.client(cast.head).get(path)
    assert response.headers["Content-Type"] == "application/pdf"
    return PdfReader(io.BytesIO(response.content))


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_a_sheet_has_its_paper_and_its_names(paper: str, cast: Cast) -> None:
    zoe = cast.players[4]
    read = pdf(cast, f"/players/{zoe.pk}/sheet.pdf?paper={paper}")
    box = read.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(SIZES[paper], abs=0.01)
    text = read.pages[0].extract_text()
    for said in ("Zoë", "Gangway Zoë", "Mila (4)", "Herons", "revision 1", "run without the ball"):
        assert said in text, said


@needs("poppler")
def test_nothing_is_written_in_a_font_that_is_not_embedded(cast: Cast, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(cast.client(cast.head).get(f"/players/{cast.players[4].pk}/sheet.pdf").content)
    lines = subprocess.run(
        ["pdffonts", str(path)], check=True, capture_output=True, text=True
    ).stdout.splitlines()[2:]
    assert lines
    assert all(line.split()[-5] == "yes" for line in lines), lines


def test_all_sheets_in_one_file_begin_on_pages_of_their_own(cast: Cast) -> None:
    read = pdf(cast, f"/teams/{cast.team.pk}/sheets/all.pdf")
    firsts = [page.extract_text().splitlines()[0] for page in read.pages]
    names = list(dict.fromkeys(line.split("  ")[0].rsplit(" ", 1)[0] for line in firsts))
    assert [name.strip() for name in names] == [player.name for player in cast.team.players.all()]


def test_the_zip_holds_one_file_each(cast: Cast) -> None:
    response = cast.client(cast.head).get(f"/teams/{cast.team.pk}/sheets/each.zip")
    with zipfile.ZipFile(io.BytesIO(response.content)) as archive:
        assert len(archive.namelist()) == cast.team.players.count()
        assert all(archive.read(name).startswith(b"%PDF") for name in archive.namelist())


def test_the_same_cast_gives_the_same_bytes(cast: Cast) -> None:
    path = f"/players/{cast.players[4].pk}/sheet.pdf"
    client = cast.client(cast.head)
    assert client.get(path).content == client.get(path).content


def test_a_thrower_without_a_step_is_told_which_looks_to_read(cast: Cast) -> None:
    """In Gangway the 1 waits for two phases: looks 2 and 3 come in the first, look 1 then."""
    thrower = cast.players[0]
    read = pdf(cast, f"/players/{thrower.pk}/sheet.pdf").pages[0].extract_text()
    page = cast.client(cast.head).get(f"/players/{thrower.pk}/sheet/").content.decode()
    for text in (read, page):
        assert text.index("Read looks 2 and 3 here.") < text.index("Read look 1 here.")
        assert "Nothing new for you here" not in text


def test_a_stand_in_reads_for_whom(cast: Cast) -> None:
    runa = cast.players[5]
    text = cast.client(cast.head).get(f"/players/{runa.pk}/sheet/").content.decode()
    assert "You stand in for Zoë" in text
    assert "Gangway Runa" in text
