"""A team that speaks Spanish: its players' pages and papers hold no English of ours."""

from __future__ import annotations

import html
import io
import re

import pytest
from django.utils import timezone
from pypdf import PdfReader

from coachbook.catalogue import po_files
from coachbook.catalogue import read as read_po
from roster.models import Player
from roster.squad.links import link_for, path_of_player
from tests.cast import Cast

STANDS_IN = "Sustituyes a Zoë"
SAID = ("Saltar al contenido", "Las opciones", "Cuando la defensa responde", "Cómo leer las líneas")


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


def pages(cast: Cast, player: Player) -> tuple[str, str]:
    """The player's own page without tags, and the paper."""
    path = path_of_player(link_for(player, timezone.now()))
    page = cast.client(None).get(path, headers={"accept-language": "en"})
    paper = cast.client(None).get(f"{path}sheet.pdf")
    assert (page.status_code, paper.status_code) == (200, 200)
    assert '<html lang="es">' in page.content.decode()
    text = html.unescape(re.sub(r"<[^>]+>", " ", page.content.decode()))
    read = PdfReader(io.BytesIO(paper.content))
    return text, " ".join(leaf.extract_text() for leaf in read.pages)


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
