"""No page and no paper for the staff speaks a programmer's language, in English or in Spanish."""

from __future__ import annotations

import io
import re
from html import unescape
from typing import Final

import pytest
from django.db import transaction
from django.utils import timezone
from pypdf import PdfReader

from coachbook.demo import factories
from roster.sheets.papers import KINDS
from tests.cast import Cast
from tests.coachbook.test_access import TABLE, address
from tests.roster.sheets.printed import answer_with

FORBIDDEN: Final = {
    "a value of the language": re.compile(r"\b(?:None|True|False|null|undefined|NaN)\b"),
    "a row's key": re.compile(r"\b(?:id|pk)=|<\w+: |\bobject \(\d+\)"),
    "a name of the code": re.compile(r"(?<![\w./@:-])[a-z]+_[a-z_]+\b(?![\w.]*[/@.]\w)"),
    "a moment for machines": re.compile(r"\b\d{4}-\d\d-\d\d[T ]\d\d:\d\d"),
    "two full stops": re.compile(r"(?<!\.)\.\.(?!\.)"),
    "a depth by number": re.compile(r"\b(?:depth|profundidad) \d", re.IGNORECASE),
    "a slot that nothing filled": re.compile(r"\{[a-z_]*\}|%\([a-z_]+\)[sdf]"),
    "a state by number": re.compile(r"\b(?:revisions?|revisión|revisiones) \d"),
    "a day for machines": re.compile(r"\b\d{4}-\d\d-\d\d\b(?![T ]\d)"),
}
# What is written for machines on purpose: column names of a file, a play as text, an address.
FOR_MACHINES: Final = re.compile(
    r"<(script|style|svg|code|pre|textarea|template)\b.*?</\1>|<!--.*?-->", re.DOTALL
)
PAGES: Final = sorted(
    name
    for name, got in TABLE.items()
    if got[5] == 200 and not name.startswith(("my-", "health")) and "worker" not in name
)
# The files for printers; those that the worker draws come besides, and a player's own is theirs.
PAPERS: Final = sorted(name for name in PAGES if name.endswith("-pdf") or name == "bench-card")


def words_of(html: str) -> str:
    """What a person reads of a page, names for screen readers and hints included."""
    body = FOR_MACHINES.sub(" ", html.partition("<body")[2])
    said = re.findall(r'(?:aria-label|title|placeholder|alt)="([^"]*)"', body)
    return " ".join(unescape(" ".join([re.sub(r"<[^>]*>", " ", body), *said])).split())


def faults_of(text: str) -> list[str]:
    return [
        f"{what}: …{text[max(0, found.start() - 40) : found.end() + 30]}…"
        for what, pattern in FORBIDDEN.items()
        for found in pattern.finditer(text)
    ]


@pytest.fixture
def lived_in(cast: Cast) -> Cast:
    """A rep and an open proposal besides, so that pages have something to say."""
    five = {str(role): player for role, player in enumerate(cast.players[:5], start=1)}
    factories.RepFactory.create(
        practice=cast.practice, entry=cast.entry, cast=five, at=timezone.now()
    )
    return cast


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_page_speaks_to_programmers(lived_in: Cast, language: str) -> None:
    cast, wrong = lived_in, []
    client = cast.client(cast.runner)
    for name in PAGES:
        with transaction.atomic():
            response = client.get(address(name, cast), headers={"accept-language": language})
        if response.status_code == 200 and "html" in response.headers["Content-Type"]:
            assert f'<html lang="{language}"' in response.content.decode() or name == "sheet"
            wrong += [f"{name}: {each}" for each in faults_of(words_of(response.content.decode()))]
    assert wrong == []


FOR_A_SCRIPT: Final = re.compile(r'\b(?:data-[\w-]+|min|max|step|value)="-?\d+,\d+"')


def test_numbers_for_a_script_have_a_point_in_spanish_too(lived_in: Cast) -> None:
    """A script reads "10,0" as no number at all: the clock of a practice said NaN."""
    cast, wrong = lived_in, []
    client = cast.client(cast.runner)
    for name in PAGES:
        with transaction.atomic():
            response = client.get(address(name, cast), headers={"accept-language": "es"})
        if response.status_code == 200 and "html" in response.headers["Content-Type"]:
            html = response.content.decode()
            wrong += [f"{name}: {found}" for found in FOR_A_SCRIPT.findall(html)]
    assert wrong == []
    assert FOR_A_SCRIPT.search('<li data-to="10,0">')


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_paper_speaks_to_programmers(lived_in: Cast, language: str) -> None:
    """Every file that is printed, read back by pypdf; what is drawn beside the requests too."""
    cast, wrong = lived_in, []
    cast.team.language = language
    cast.team.save()
    client = cast.client(cast.runner)
    papers = {kind: answer_with(cast, kind).content for kind in KINDS.keys() - {"each"}}
    for name in PAPERS:
        got = client.get(address(name, cast), headers={"accept-language": language})
        papers[name] = got.content
    for name, data in papers.items():
        read = PdfReader(io.BytesIO(data))
        assert str(read.root_object["/Lang"]) == language, name
        text = " ".join(" ".join(leaf.extract_text().split()) for leaf in read.pages)
        assert text, name
        wrong += [f"{name}: {each}" for each in faults_of(text)]
    assert wrong == []


@pytest.mark.parametrize(
    "said",
    [
        "Nobody: None",
        "role_of",
        "at 2026-10-03T18:00",
        "Saved.. Again",
        "second at depth 2",
        "{who} throws",
        "%(n)s plays",
        "It is revision 3",
        "Made on 2026-10-03.",
    ],
)
def test_each_pattern_finds_what_it_is_for(said: str) -> None:
    assert len(faults_of(said)) == 1


def test_words_of_people_pass() -> None:
    assert faults_of("As of 3 October 2026, 18:00: the screen moved up … for 2026-27") == []
