"""Sheets as files, read back with readers that did not write them (pypdf, poppler)."""

from __future__ import annotations

import io
import re
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from roster.sheets.printing import NOTHING
from shared.core.days import day_said, moment_said
from shared.core.language import ENGLISH
from tests.cast import Cast
from tests.machine import needs
from tests.roster.sheets.printed import answer_with, draw

# ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: Letter is 8.5 x 11 in. 72 points to the inch.
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> None:
    settings.DATA = tmp_path


def pdf(cast: Cast, path: str) -> PdfReader:
    response = cast.client(cast.head).get(path)
    assert response.headers["Content-Type"] == "application/pdf"
    return PdfReader(io.BytesIO(response.content))


def booklets(cast: Cast) -> PdfReader:
    return PdfReader(io.BytesIO(answer_with(cast, "booklets").content))


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_a_sheet_has_its_paper_and_its_names(paper: str, cast: Cast) -> None:
    zoe = cast.players[4]
    read = pdf(cast, f"/players/{zoe.pk}/sheet.pdf?paper={paper}")
    box = read.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(SIZES[paper], abs=0.01)
    text = read.pages[0].extract_text()
    for said in (
        "Zoë",
        "Gangway Zoë",
        "Mila (4)",
        "Herons",
        "Gangway, as of",
        "run without the ball",
    ):
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


def test_every_booklet_begins_on_an_odd_page_and_counts_its_own(cast: Cast) -> None:
    read = booklets(cast)
    texts = [leaf.extract_text() for leaf in read.pages]
    cast_in = [player for player in cast.team.players.all() if player.castings.exists()]
    for player in cast_in:
        pages = [n for n, text in enumerate(texts) if text.startswith(f"{player.name}  ")]
        assert pages[0] % 2 == 0, "the first page of a PDF is the front of a leaf"
        for number, page in enumerate(pages, start=1):
            assert f"page {number} of {len(pages)}" in texts[page]
    assert not any("Pia" in text for text in texts), "who has no role gets no sheet"


def test_every_page_says_team_day_club_and_as_of_when(cast: Cast) -> None:
    read = booklets(cast)
    today = day_said(timezone.localdate(), ENGLISH)
    of = moment_said(cast.entry.revision.at, ENGLISH)
    for text in filter(None, (leaf.extract_text() for leaf in read.pages)):
        for said in (str(cast.team), today, f"As of {of}: Gangway", "page 1 of 1"):
            assert said in text, said


def bookmarks(read: PdfReader) -> tuple[list[str], dict[str, int]]:
    """The players' bookmarks, and the page, from 1, of each play's."""
    names, plays = [], {}
    for mark in read.outline:
        if not isinstance(mark, list):
            names.append(str(mark.title))
            continue
        for inner in mark:
            assert not isinstance(inner, list)
            page = read.get_destination_page_number(inner)
            assert page is not None
            plays[str(inner.title)] = page + 1
    return names, plays


def test_bookmarks_lead_to_each_player_and_play(cast: Cast) -> None:
    names, plays = bookmarks(booklets(cast))
    assert names == [f"{p.name}  {p.number}" for p in cast.team.players.all() if p.castings.count()]
    assert list(plays)[:2] == ["Gangway Zoë · Role 1", "Gangway Zoë · Role 2"]
    assert list(plays.values())[:3] == [1, 3, 5]


@needs("poppler")
def test_the_calls_come_first_with_the_page_of_each(cast: Cast) -> None:
    for number, key in enumerate(("oar-rack", "weathervane", "sluice", "tow-rope"), start=1):
        play = factories.published(demo_play(key), cast.keeper)
        entry = factories.PackagePlayFactory.create(
            team=cast.team, play=play, call=f"Call {number}"
        )
        factories.CastingFactory.create(entry=entry, role="1", player=cast.players[0])
    answer = cast.client(cast.head).get(f"/players/{cast.players[0].pk}/sheet.pdf")
    lines = subprocess.run(
        ["pdftotext", "-layout", "-l", "1", "-", "-"],
        check=True,
        capture_output=True,
        input=answer.content,
    ).stdout.decode()
    index = dict(re.findall(r"(Call \d) .*?p\. (\d)", lines))
    _, plays = bookmarks(PdfReader(io.BytesIO(answer.content)))
    assert len(index) == 4
    assert {f"{call} · Role 1": int(page) for call, page in index.items()}.items() <= plays.items()


def test_nobody_cast_means_no_file(cast: Cast) -> None:
    cast.entry.castings.all().delete()
    response = cast.client(cast.head).get(f"/teams/{cast.team.pk}/sheets/all.pdf", follow=True)
    assert "nothing to print" in response.content.decode()
    assert draw(cast, "booklets").fault == NOTHING


def test_the_zip_holds_one_file_for_each_who_has_a_role(cast: Cast) -> None:
    response = answer_with(cast, "each")
    with zipfile.ZipFile(io.BytesIO(response.content)) as archive:
        assert len(archive.namelist()) == 6
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
