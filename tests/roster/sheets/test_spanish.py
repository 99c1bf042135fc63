"""A team that speaks Spanish: its players' pages and papers hold no English of ours."""

from __future__ import annotations

import html
import io
import re

import pytest
from pypdf import PdfReader

from coachbook.catalogue import po_files
from coachbook.catalogue import read as read_po
from roster.models import Player
from tests.cast import Cast
from tests.phone import opened_by

STANDS_IN = "Sustituyes a Zoë"
SAID = (
    "Saltar al contenido",
    "Mis jugadas",
    "Las opciones",
    "como siempre",
    "Cómo leer las líneas",
)


@pytest.fixture
def spanish(cast: Cast) -> Cast:
    cast.team.language = "es"
    cast.team.save()
    return cast


def ours() -> list[str]:
    """English of the catalogue between its slots, too long for a coach to type by chance."""
    entries = read_po(po_files()[0].read_text("utf-8")).sentences()
    sources = (e.id if isinstance(e.id, str) else e.id[0] for e in entries)
    pieces = {piece.strip() for one in sources for piece in re.split(r"%?[({]\w+[)}]s?", one)}
    return sorted(piece for piece in pieces if len(piece) > 12 and " " in piece)


def pages(cast: Cast, player: Player, speaks: str = "es") -> tuple[str, str]:
    """The player's own pages without tags, and the paper."""
    client = cast.client(None)
    path = opened_by(client, player)
    index = client.get(path, headers={"accept-language": "en"}).content.decode()
    addresses = [path, f"{path}reading/", *re.findall(r'href="(/my/[^"]+/\d+/\d/)"', index)]
    answers = [client.get(each, headers={"accept-language": "en"}) for each in addresses]
    texts = [answer.content.decode() for answer in answers]
    assert all(f'<html lang="{speaks}">' in text for text in texts)
    read = PdfReader(io.BytesIO(client.get(f"{path}sheet.pdf").content))
    said = html.unescape(re.sub(r"<[^>]+>", " ", " ".join(texts)))
    return said, " ".join(leaf.extract_text() for leaf in read.pages)


def test_nothing_of_ours_stays_english(spanish: Cast) -> None:
    english = ours()
    assert len(english) > 500
    for player in spanish.players:
        for text in pages(spanish, player):
            assert [one for one in english if one in text] == []


def test_a_stand_in_reads_for_whom(spanish: Cast) -> None:
    for text in pages(spanish, spanish.players[5]):
        assert STANDS_IN in text


def test_the_page_names_its_parts_in_spanish(spanish: Cast) -> None:
    page, paper = pages(spanish, spanish.players[4])
    assert [said for said in SAID if said not in page] == []
    assert "Puesto 5" in paper
    assert "¿Golpe en la cabeza?" in paper
