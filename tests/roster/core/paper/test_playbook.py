"""A playbook on paper, read back by pypdf: what it holds, where it stands, and that it is found.

How a playbook is laid out is ours; sizes are ISO 216's and ANSI/ASME Y14.1's.
"""

from __future__ import annotations

import io
import re
from datetime import UTC, date, datetime

import pytest
from pypdf import PdfReader

from coachbook.demo.files import demo_play
from plays.core.calls import call_for
from plays.core.words.variants import other_calls
from roster.core.paper.leaf import Edge
from roster.core.paper.playbook_pdf import SITUATIONS, write_playbook
from roster.core.paper.sheet import CarriedPlay
from roster.core.paper.team_pdf import PlayHandout
from shared.speech import language_of

KEYS = ("last-bell", "gangway", "tidegate", "oar-rack", "backwater", "ballast", "open-water")
DAY = date(2026, 11, 27)
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}


def handout(number: int, key: str, code: str) -> PlayHandout:
    speech, value = language_of(code), demo_play(key)
    carried = CarriedPlay(number, value, datetime(2026, 10, 3, tzinfo=UTC), value.call)
    carried = carried.told_in(speech)
    call = call_for(carried.play.call, {}, speech)
    return PlayHandout(carried, call, {}, {}, other_calls(carried.play, {}, speech))


def book(keys: tuple[str, ...] = KEYS, paper: str = "a4", code: str = "en") -> PdfReader:
    out = io.BytesIO()
    handouts = [handout(number, key, code) for number, key in enumerate(keys)]
    edge = Edge("Herons", DAY, "Lindwater")
    write_playbook(handouts, out, edge, paper=paper, language=language_of(code))
    return PdfReader(out)


def texts(reader: PdfReader) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in reader.pages]


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_each_play_stands_on_the_page_that_the_contents_name(paper: str, code: str) -> None:
    reader = book(paper=paper, code=code)
    cover, contents, *plays = texts(reader)
    for page in reader.pages:
        assert tuple(map(float, page.mediabox[2:])) == pytest.approx(SIZES[paper], abs=0.01)
    for number, key in enumerate(KEYS):
        one = handout(number, key, code)
        calls = {one.call, *(other.call for other in one.others)}
        named = re.escape(one.call)
        line = re.search(rf"(?<!\w){named}\b.*?p(?:á?g?)\. (\d+)", contents)
        assert line, (key, contents)
        begun = texts(reader)[int(line[1]) - 1]
        assert one.carried.play.name in begun
        assert all(call in begun for call in calls)
    assert "Herons" in cover
    assert "Lindwater" in cover
    assert str(len(KEYS)) in cover
    assert plays


def test_the_cover_says_whose_and_of_which_day_and_what_goes_before_it() -> None:
    cover = texts(book())[0]
    assert "Playbook Herons Lindwater 27 November 2026 7 plays" in cover
    assert "a doctor's word come before" in cover


def test_the_contents_go_by_situation_and_name_none_that_is_empty() -> None:
    contents = texts(book())[1]
    said = ["Sideline inbound", "Baseline inbound", "Press break", "Last shot"]
    places = [contents.index(each) for each in said]
    assert places == sorted(places)
    assert {each for each in SITUATIONS.values() if each in contents} == set(said)


def test_a_play_is_told_with_its_cautions_roles_counters_and_phases() -> None:
    value = demo_play("ballast")
    page = texts(book(("ballast",)))[2]
    assert value.cautions
    assert all(f"Mind: {each}" in page for each in value.cautions)
    assert all(phase.title in page for phase in value.phases)
    assert value.counters
    assert all(" ".join(counter.says.split()) in page for counter in value.counters)
    assert re.findall(r"(?<!\S)[1-5] You throw|Start", page)


def test_no_page_of_it_shows_a_colour() -> None:
    """On a black-and-white copier a colour would become some grey: all paint is grey as it is."""
    found = [page.get_contents() for page in book().pages]
    content = b"".join(each.get_data() for each in found if each is not None)
    assert content
    for red, green, blue in re.findall(rb"([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG)", content):
        assert red == green == blue


def test_an_empty_book_is_no_book() -> None:
    with pytest.raises(ValueError, match="no play"):
        book(())


def test_the_same_plays_make_the_same_bytes_and_the_outline_leads_to_each() -> None:
    one, other = (book(("gangway", "oar-rack")) for _ in range(2))
    assert texts(one) == texts(other)
    parts = [part for part in one.outline if isinstance(part, list)]
    titles = [str(each["/Title"]) for part in parts for each in part if isinstance(each, dict)]
    assert titles[0] == "Contents"
    assert len(titles) == 3
