"""The main job in a real browser: from an empty club to printed sheets, counted and paced."""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from coachbook.accounts.changes import set_up_path
from practice.models import Rep
from roster.models import Player, Team
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.paced import Person
from tests.phone import path, press_open

NAMES = (
    "Ida",
    "Noor",
    "Ada",
    "Mila",
    "Zoë",
    "Runa",
    "Pia",
    "Bo",
    "Lea",
    "Ronja",
    "Tove",
    "Yara",
    "Wilma",
)
ROSTER = "\n".join(f"{number} {name}" for number, name in enumerate(NAMES, 4))
PLAYS = ("Gangway", "Slipway", "Foghorn", "Net Loft", "Oar Rack", "Bow Wave")
ACTIONS = 60
SECONDS = 600


@pytest.fixture
def data(tmp_path: Path, settings: Any) -> None:
    settings.DATA = tmp_path


@pytest.mark.usefixtures("working", "data")
@pytest.mark.parametrize("size", [PHONE, WIDE], ids=["360", "1280"])
def test_from_an_empty_club_to_printed_sheets_in_ten_minutes(
    size: dict[str, int], opened: Opener, capsys: pytest.CaptureFixture[str]
) -> None:
    """Fewer than 60 actions besides typing, and under ten minutes at the pace of a model."""
    page = opened("/", size=size)
    expect(page).to_have_url(re.compile("/set-up/$"))
    page.goto(set_up_path())
    coach = Person(page)
    for step in (sets_the_club_up, enters_the_roster, chooses_plays, casts_and_plans):
        step(coach)
    papers = prints_the_booklets(coach)
    with capsys.disabled():
        sys.stdout.write(f"\n{size['width']} px: {coach.told()}\n")
    page.get_by_role("link", name="Today").click()
    expect(page).to_have_url(re.compile(r"/teams/\d+/$"))
    expect(page.get_by_role("heading", name="First steps")).to_have_count(0)  # all are done
    text = "".join(leaf.extract_text() for leaf in papers.pages)
    assert [name for name in NAMES if name not in text] == []
    assert all(play in text for play in PLAYS)
    assert coach.actions < ACTIONS
    assert coach.seconds < SECONDS


def sets_the_club_up(coach: Person) -> None:
    coach.write("Name of the club", "Lindwater")
    coach.write("Your name", "Hedda")
    coach.write("Name to sign in with", "hedda")
    coach.write("Password", "heron lamp 19 oar")
    coach.press("Begin", "button")
    coach.press("New team")
    coach.write("Name", "Herons")
    coach.write("Season", "2026/27")
    coach.choose("Age group", "U16")
    coach.choose("Rule set", "FIBA")
    coach.press("Save", "button")


def enters_the_roster(coach: Person) -> None:
    coach.press("Bring in a list or a file")
    coach.write("Or paste the list", ROSTER)
    coach.press("Show what is in it", "button")
    coach.press(f"Bring in {len(NAMES)} players", "button")
    coach.press("Today")


def chooses_plays(coach: Person) -> None:
    coach.press("Begin")
    coach.press("To the library")
    coach.press("See the plays that come with the app")
    coach.press("Bring in all", "button")
    expect(coach.page.get_by_role("status").first).to_contain_text("27 plays")
    coach.press("Lindwater")
    coach.press("Herons")
    coach.press("Plays")
    for play in PLAYS:
        coach.press(play, "checkbox")
    coach.press("Take up what is ticked", "button")
    coach.press("Today")


def casts_and_plans(coach: Person) -> None:
    coach.press("Begin")
    coach.press("Propose a cast", "button")
    coach.waits_for(coach.page.get_by_role("button", name="Put away"))  # to the end
    coach.press("Accept all", "button")
    coach.press("Today")
    coach.press("Begin")
    coach.set_date("Date", "2027-01-12")
    coach.set_time("Start", "18:00")
    coach.press("Save", "button")
    coach.press("Today")


def prints_the_booklets(coach: Person) -> PdfReader:
    coach.press("Begin")
    coach.press("Print")
    coach.press("Booklets for all players", "button")
    ready = coach.page.get_by_role("link", name="open the file")
    coach.waits_for(ready)
    address = ready.get_attribute("href")
    coach.prints()
    assert address
    return PdfReader(io.BytesIO(coach.page.request.get(address).body()))


def test_an_assistant_logs_a_rep_on_a_phone(opened: Opener, cast: object) -> None:
    team = Team.objects.get(name="Herons")
    assistant = team.staff.get(username="assistant")
    practice = team.practices.get()
    page = opened(f"/practices/{practice.pk}/", assistant, PHONE)
    page.get_by_role("link", name="Log reps").click()
    expect(page.locator("[data-log=page]")).to_be_visible()  # the script has taken over
    page.get_by_role("button", name="Clean").click()
    expect(page.get_by_role("status")).to_contain_text("logged")
    assert Rep.objects.get().roles.count() == 5


def test_a_player_opens_a_link_and_sees_their_part_and_nothing_else(
    opened: Opener, cast: object
) -> None:
    zoe, pia = Player.objects.get(name="Zoë"), Player.objects.get(name="Pia")
    page = press_open(opened(path(zoe), size=PHONE))
    expect(page.get_by_role("heading", level=1)).to_contain_text("Zoë")
    own = re.compile("Gangway Zoë .*yours")
    page.get_by_role("link", name=own).click()
    expect(page.get_by_role("heading", name=re.compile("Gangway"))).to_be_visible()
    page.get_by_role("button", name="Got it").click()
    page.get_by_role("link", name="Back to my plays").click()
    expect(page.get_by_role("link", name=own)).to_contain_text("got it")
    assert page.request.get(f"/players/{pia.pk}/sheet/", max_redirects=0).status == 302
    mine, theirs = path(zoe), path(pia)
    forged = theirs.split(".")[0] + "." + mine.split(".")[1]
    assert page.request.get(forged).status == 404
    assert page.request.get("/library/", max_redirects=0).status == 302
