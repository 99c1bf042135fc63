"""A team that speaks Spanish: its players' pages and papers hold no English of ours."""

from __future__ import annotations

import html
import io
import re
from typing import Any

import pytest
from django.test import Client
from pypdf import PdfReader

from coachbook.catalogue import po_files
from coachbook.catalogue import read as read_po
from roster.models import Player
from tests.cast import Cast
from tests.phone import moved_start, opened_by

pytestmark = pytest.mark.reading

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


ENGLISH_BROWSER = {"accept-language": "en"}


def without_tags(text: str) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", text))


def pages(cast: Cast, player: Player, speaks: str = "es") -> tuple[str, str]:
    """All pages of the player's own without tags, and the paper."""
    client = cast.client(None)
    path = opened_by(client, player)
    index = client.get(path, headers=ENGLISH_BROWSER).content.decode()
    parts = re.findall(r'href="(/my/[^"]+/\d+/\d/)"', index)
    more = ("", "?eyes=own", "?side=other", "moving/", "quiz/")
    addresses = [path, f"{path}reading/", *(f"{part}{end}" for part in parts for end in more)]
    answers = [client.get(each, headers=ENGLISH_BROWSER) for each in addresses]
    answers += [answered(client, f"{part}quiz/", choice) for part in parts for choice in range(4)]
    texts = [answer.content.decode() for answer in answers]
    assert all(f'<html lang="{speaks}">' in text for text in texts)
    moments = [client.get(f"{part}motion/").json()["moments"] for part in parts]
    read = PdfReader(io.BytesIO(client.get(f"{path}sheet.pdf").content))
    said = without_tags(" ".join([*texts, *attributes(texts), str(moments)]))
    return said, " ".join(leaf.extract_text() for leaf in read.pages)


def attributes(texts: list[str]) -> list[str]:
    """What screen readers and scripts say: it stands in the tags."""
    named = r'(?:aria-label|alt|title|data-[a-z]+)="([^"]*)"'
    return [said for text in texts for said in re.findall(named, text)]


def answered(client: Client, address: str, choice: int) -> Any:
    """The page after an answer, right or wrong, to what is asked now."""
    asks = client.get(f"{address}?again", headers=ENGLISH_BROWSER).content.decode()
    fields = dict(re.findall(r'name="(question|number)" value="([^"]+)"', asks))
    said = {**fields, "choice": choice}
    answer = client.post(address, said, headers=ENGLISH_BROWSER)
    assert "note is-" in answer.content.decode()
    return answer


def test_nothing_of_ours_stays_english(spanish: Cast) -> None:
    english = ours()
    assert len(english) > 500
    for player in spanish.players:
        for text in pages(spanish, player):
            assert [one for one in english if one in text] == []


def test_what_is_new_and_what_is_closed_is_told_in_spanish(spanish: Cast) -> None:
    client = spanish.client(None)
    path = opened_by(client, spanish.players[4])
    client.post(f"{path}{spanish.entry.pk}/5/got/")
    moved_start(spanish)
    client.cookies["speaks"] = "es"
    addresses = path, f"{path}{spanish.entry.pk}/5/", "/my/wrong/"
    texts = [without_tags(client.get(each).content.decode()) for each in addresses]
    assert [text.count("Nuevo desde que dijiste") for text in texts] == [1, 1, 0]
    assert [one for one in ours() for text in texts if one in text] == []


def test_a_stand_in_reads_for_whom(spanish: Cast) -> None:
    for text in pages(spanish, spanish.players[5]):
        assert STANDS_IN in text


def test_the_page_names_its_parts_in_spanish(spanish: Cast) -> None:
    page, paper = pages(spanish, spanish.players[4])
    assert [said for said in SAID if said not in page] == []
    assert "Puesto 5" in paper
    assert "¿Golpe en la cabeza?" in paper
