"""The pages of a forgotten password, which are there only where a mail server is named."""

from __future__ import annotations

from django.urls import reverse
from pytest_django.fixtures import Settings

from coachbook.accounts.mail import proof_of
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast


def test_they_have_no_fault(opened: Opener, cast: Cast, settings: Settings) -> None:
    settings.HAS_MAIL = True
    page = opened("/sign-in/", size=PHONE)
    assert_no_fault(page, "signing in")
    page.get_by_role("link", name="Forgotten the password?").click()
    page.get_by_role("button", name="Send me a link").wait_for()
    assert_no_fault(page, "forgotten")
    page.get_by_label("Name to sign in with").fill("head")
    page.get_by_role("button", name="Send me a link").click()
    page.get_by_text("a link is on its way").wait_for()
    assert page.url.endswith("/sign-in/")

    own = opened("/account/", cast.head, size=PHONE)
    own.get_by_role("link", name="Change the address").click()
    own.get_by_role("button", name="Save").wait_for()
    assert_no_fault(own, "the address")
    own.goto(reverse("prove-mail", args=[proof_of(cast.head, "hedda@example.org")]))
    assert_no_fault(own, "the proof")
    own.get_by_role("button", name="Yes, send it there").click()
    own.get_by_text("A link can be sent to hedda@example.org.").wait_for()
    assert_no_fault(own, "the account")
