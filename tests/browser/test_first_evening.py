"""The main job in a real browser: from a file of names to a sheet on a player's phone."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from coachbook.accounts.changes import set_up_path
from practice.models import Rep
from roster.models import Player, Team
from tests.browser.conftest import PHONE, Opener
from tests.phone import path, press_open

ROSTER = "name;number;positions\nIda;4;1\nNoor;5;2\nAda;6;3\nMila;7;4\nZoë;8;5\nRuna;9;5\n"


def bring_in_the_plays(page: Page) -> None:
    """All plays that come with the app, from the empty library."""
    page.get_by_role("link", name="Library", exact=True).click()
    page.get_by_role("link", name="See the plays that come with the app").click()
    page.get_by_role("button", name=re.compile("Bring in all")).click()
    expect(page.get_by_role("status").first).to_contain_text("27 plays")
    page.goto("/")


def test_a_coach_goes_from_an_empty_club_to_sheets(opened: Opener, tmp_path: Path) -> None:
    page = opened("/")
    expect(page).to_have_url(re.compile("/set-up/$"))
    page.goto(set_up_path())
    page.get_by_label("Name of the club").fill("Lindwater")
    page.get_by_label("Your name").fill("Hedda")
    page.get_by_label("Name to sign in with").fill("hedda")
    page.get_by_label("Password").fill("heron lamp 19 oar")
    page.get_by_role("button", name="Begin").click()

    bring_in_the_plays(page)
    page.get_by_role("link", name="New team").first.click()
    page.get_by_label("Name", exact=True).fill("Herons")
    page.get_by_label("Season", exact=True).fill("2026/27")
    page.get_by_label("Age group").select_option("U16")
    page.get_by_label("Rule set").select_option("FIBA")
    page.get_by_role("button", name="Save").click()

    roster = tmp_path / "roster.csv"
    roster.write_bytes(ROSTER.encode("latin-1"))
    page.get_by_role("link", name="Bring in a file").first.click()
    page.get_by_label("Roster file (CSV or XLSX)").set_input_files(roster)
    page.get_by_role("button", name="Show what is in it").click()
    page.get_by_role("button", name="Bring in 6 players").click()
    expect(page.get_by_role("row", name=re.compile("Zoë"))).to_be_visible()

    page.get_by_role("link", name="Plays", exact=True).click()
    page.get_by_role("link", name="Take up Gangway").click()
    page.get_by_label("Call").fill("Gangway {5}")
    page.get_by_role("button", name="Save").click()
    for role, name in enumerate(("Ida (4)", "Noor (5)", "Ada (6)", "Mila (7)", "Zoë (8)"), 1):
        page.get_by_label(f"Role {role}, First").select_option(name)
    page.get_by_role("button", name="Save the cast").click()
    expect(page.get_by_role("table")).to_contain_text("Mila")

    page.get_by_role("link", name="Practice", exact=True).click()
    page.get_by_role("link", name="Plan a practice").first.click()
    page.get_by_label("Date").fill("2027-01-12")
    page.get_by_label("Start").fill("18:00")
    page.get_by_label("Hall booked until").fill("19:30")
    page.get_by_role("button", name="Save").click()
    page.get_by_label("Kind").select_option("install")
    page.get_by_label("Minutes").fill("8")
    page.get_by_label("Play").select_option("Gangway Zoë")
    page.get_by_label("Mode").select_option("walk_through")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="Log reps").click()
    expect(page.locator("[data-log=page]")).to_be_visible()
    page.get_by_role("button", name="Clean").click()
    expect(page.get_by_role("status").filter(has_text="logged")).to_be_visible()

    page.goto("/")
    page.get_by_role("link", name="Sheets", exact=True).click()
    page.get_by_role("link", name="Mila (7)").click()
    expect(page.get_by_role("heading", name=re.compile("Gangway Zoë"))).to_be_visible()
    expect(page.locator("main")).to_contain_text("Zoë (5)")


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
    page.get_by_role("link", name=re.compile("Gangway Zoë yours")).click()
    expect(page.get_by_role("heading", name=re.compile("Gangway"))).to_be_visible()
    page.get_by_role("button", name="Got it").click()
    page.get_by_role("link", name="Back to my plays").click()
    expect(page.get_by_role("link", name=re.compile("Gangway Zoë yours"))).to_contain_text("got it")
    assert page.request.get(f"/players/{pia.pk}/sheet/", max_redirects=0).status == 302
    mine, theirs = path(zoe), path(pia)
    forged = theirs.split(".")[0] + "." + mine.split(".")[1]
    assert page.request.get(forged).status == 404
    assert page.request.get("/library/", max_redirects=0).status == 302
