"""The booklets of the demo club on paper, read back by readers that did not write them.

Pages: our own measure, half of the 142 that its 13 players took at first. Letters: 9 points (our
own aim, no source). Lines: no two words share a place, by poppler's boxes of them.
"""

from __future__ import annotations

import re
import subprocess
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from pypdf import PageObject, PdfReader

from coachbook.demo.build import build_demo
from roster.core.paper.sheet_pdf import write_sheets
from roster.models import Team
from roster.sheets.load import team_sheets
from tests.machine import needs

pytestmark = pytest.mark.reading

DAY = date(2026, 11, 25)
MOST_PAGES = 71
PAPERS = ("a4", "letter")
FOOT = 12 / 25.4 * 72  # points from the lower edge: club, caution and page
Languages = dict[str, dict[str, Path]]
Box = tuple[str, float, float, float, float]  # a word: left, top, right, bottom


KEPT: Languages = {}


@pytest.fixture
def booklets(db: None, tmp_path_factory: pytest.TempPathFactory) -> Languages:
    """All booklets of the larger team, by language and paper: made once for all tests here."""
    if KEPT:
        return KEPT
    folder = tmp_path_factory.mktemp("booklets")
    build_demo(DAY)
    team = max(Team.objects.all(), key=lambda team: team.players.count())
    for code in ("en", "es"):
        team.language = code
        loaded, speech = team_sheets(team), team.speech()
        sheets = [loaded.sheet(who, DAY, speech) for who in loaded.players]
        for paper in PAPERS:
            path = folder / f"{code}-{paper}.pdf"
            with path.open("wb") as out:
                write_sheets(sheets, out, paper=paper, club="Lindwater", language=speech)
            KEPT.setdefault(code, {})[paper] = path
    return KEPT


class Page(NamedTuple):
    """What a reader finds on a page: its text, and each piece of lettering with its height on the
    page and its size, in points."""

    text: str
    letters: list[tuple[float, str, float]]


@cache
def read(path: Path) -> list[Page]:
    """The pages of a booklet; read once, which is what takes long here."""
    return [_page(page) for page in PdfReader(path).pages]


def _page(page: PageObject) -> Page:
    found: list[tuple[float, str, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], _: Any, size: float) -> None:
        if text.strip():
            found.append((tm[5] * cm[3] + cm[5], text.strip(), size * abs(cm[0] * tm[0])))

    return Page(page.extract_text(visitor_text=visit), found)


@pytest.mark.parametrize(
    ("code", "paper", "most"),
    [
        ("en", "a4", MOST_PAGES),
        ("en", "letter", 74),  # on paper that is 6 % shorter
        ("es", "a4", 75),  # longer words, and 142 pages were counted in English
        ("es", "letter", 81),  # and on shorter paper
    ],
)
def test_the_booklets_of_a_team_take_half_the_paper(
    booklets: Languages, code: str, paper: str, most: int
) -> None:
    pages = PdfReader(booklets[code][paper]).pages
    assert 40 < len(pages) <= most


@pytest.mark.parametrize(("code", "paper"), [("en", "a4"), ("en", "letter"), ("es", "a4")])
def test_no_word_above_the_foot_is_smaller_than_9_points(
    booklets: Languages, code: str, paper: str
) -> None:
    found = [each for page in read(booklets[code][paper]) for each in page.letters]
    small = {words for y, words, size in found if y > FOOT and size < 8.995}
    assert not {words for words in small if len(words) > 1}, small
    assert len(found) > 3000


@needs("poppler")
@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("paper", PAPERS)
def test_no_words_lie_over_each_other_or_the_edge(
    booklets: Languages, code: str, paper: str, tmp_path: Path
) -> None:
    out = tmp_path / "words.html"
    subprocess.run(["pdftotext", "-bbox", str(booklets[code][paper]), str(out)], check=True)
    pages = ET.parse(out).getroot().iter("{http://www.w3.org/1999/xhtml}page")
    for number, page in enumerate(pages, 1):
        wide, high = float(page.get("width", 0)), float(page.get("height", 0))
        boxes = [(word.text or "", *_box(word)) for word in page]
        for text, left, top, right, bottom in boxes:
            assert left > 10 and right < wide - 10 and top > 10 and bottom < high - 10, text  # noqa: PT018
        over = [(a[0], b[0]) for a, b in _near(boxes) if _overlap(a[1:], b[1:])]
        assert not over, (number, over)


def _near(boxes: list[Box]) -> Iterator[tuple[Box, Box]]:
    """Pairs of which the lower begins above the other's lower edge."""
    ordered = sorted(boxes, key=lambda box: box[2])
    for n, upper in enumerate(ordered):
        for lower in ordered[n + 1 :]:
            if lower[2] >= upper[4]:
                break
            yield upper, lower


def _box(word: ET.Element) -> tuple[float, float, float, float]:
    """The box of a word's letters: half the line's height about the middle."""
    left, top, right, bottom = (
        float(word.get(side, 0)) for side in ("xMin", "yMin", "xMax", "yMax")
    )
    middle, half = (top + bottom) / 2, (bottom - top) / 4
    return left, middle - half, right, middle + half


def _overlap(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return wide > 0.5 and high > 0.5


@pytest.mark.parametrize("paper", PAPERS)
def test_every_booklet_begins_on_a_front_and_counts_its_pages(
    booklets: Languages, paper: str
) -> None:
    texts = [page.text for page in read(booklets["en"][paper])]
    counts = [re.search(r"page (\d+) of (\d+)", text) for text in texts]
    fronts = [n for n, found in enumerate(counts) if found and found[1] == "1"]
    assert len(fronts) == 13
    assert all(n % 2 == 0 for n in fronts)
    for front in fronts:
        found = counts[front]
        assert found
        inside = counts[front : front + int(found[2])]
        assert [each and each.groups() for each in inside] == [
            (str(n), found[2]) for n in range(1, int(found[2]) + 1)
        ]
    blank = [n for n, text in enumerate(texts) if not text.strip()]
    assert all(n % 2 for n in blank), "only the back of a last leaf is empty"


def test_the_calls_name_the_page_of_each_play_and_of_the_legend(booklets: Languages) -> None:
    texts = [page.text for page in read(booklets["en"]["a4"])]
    fronts = [n for n, text in enumerate(texts) if "Your calls" in text]
    assert len(fronts) == 13
    for front in fronts:
        said = re.search(r"What the lines mean\s+p\. (\d+)", texts[front])
        assert said, texts[front]
        assert "you and your lines" in texts[front + int(said[1]) - 1]
