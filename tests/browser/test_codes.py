"""One-time codes in the browser: set up by what the page shows, asked for, looked at by axe."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page
from pyotp import TOTP
from pytest_django.live_server_helper import LiveServer

from coachbook.accounts import codes
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast


def say_password(page: Page) -> None:
    page.get_by_label("Name").fill("head")
    page.get_by_label("Password").fill("head-password")
    page.get_by_role("button", name="Sign in", exact=True).click()


def test_from_setting_up_to_a_recovery_code(opened: Opener, cast: Cast) -> None:
    page = opened("/account/", cast.head, size=PHONE)
    page.get_by_role("link", name="Set up").click()
    page.get_by_role("heading", name="A code from your phone").wait_for()
    assert_no_fault(page, "setting up")
    secret = page.locator(".code-letters").inner_text().replace(" ", "")
    page.get_by_role("textbox", name="Code").fill(TOTP(secret).now())
    page.get_by_role("button", name="Switch the codes on").click()
    page.get_by_role("heading", name="Your recovery codes").wait_for()
    assert_no_fault(page, "recovery codes")
    paper = page.locator(".recovery-codes li").all_inner_texts()
    page.get_by_role("link", name="I have them").click()
    page.get_by_role("link", name="Recovery codes, or switch off").click()
    page.get_by_text("8 recovery codes are left").wait_for()
    assert_no_fault(page, "codes that are on")

    elsewhere = opened("/sign-in/?next=/library/", size=PHONE)
    say_password(elsewhere)
    elsewhere.get_by_role("heading", name="One more step").wait_for()
    assert_no_fault(elsewhere, "the code asked for")
    elsewhere.get_by_role("textbox", name="Code").fill(paper[0])
    elsewhere.get_by_role("button", name="Sign in", exact=True).click()
    elsewhere.wait_for_url("**/library/")
    assert "7 are left" in elsewhere.locator("main").inner_text()
    again = opened(f"/staff/{cast.head.pk}/", cast.runner)
    again.get_by_role("button", name="Phone lost: switch the code off").wait_for()
    assert_no_fault(again, "somebody with a code")
    assert codes.codes_of(cast.head) is not None


@pytest.mark.parametrize("code", ["000000", "12"])
def test_a_wrong_code_says_so_and_keeps_the_page(
    opened: Opener, live_server: LiveServer, cast: Cast, code: str, faults: list[str]
) -> None:
    codes.switch_on(cast.head, "nonce", 0)
    page = opened("/sign-in/", size=PHONE)
    say_password(page)
    page.get_by_role("textbox", name="Code").fill(code)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.get_by_text("This code is not right").wait_for()
    assert page.url == f"{live_server.url}/sign-in/code/"
    faults[:] = [said for said in faults if "422" not in said]  # the browser notes the status
