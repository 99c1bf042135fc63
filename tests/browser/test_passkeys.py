"""Passkeys with Chromium's own software device: added, used, lost, looked at by axe."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import CDPSession, Page

from shared.models import Passkey
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast


class Finger:
    """The device of a page's browser, and whether its owner's finger is on it."""

    def __init__(self, page: Page) -> None:
        self.line: CDPSession = page.context.new_cdp_session(page)
        self.line.send("WebAuthn.enable")
        made = self.line.send("WebAuthn.addVirtualAuthenticator", {"options": OPTIONS})
        self.device = {"authenticatorId": made["authenticatorId"]}

    def keys(self) -> list[dict[str, Any]]:
        held: list[dict[str, Any]] = self.line.send("WebAuthn.getCredentials", self.device)[
            "credentials"
        ]
        return held

    def takes(self, key: dict[str, Any]) -> None:
        self.line.send("WebAuthn.addCredential", {**self.device, "credential": key})

    def is_known(self, known: bool) -> None:
        said = {**self.device, "isUserVerified": known}
        self.line.send("WebAuthn.setUserVerified", said)


OPTIONS = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}


def test_from_adding_to_signing_in_elsewhere(opened: Opener, cast: Cast) -> None:
    page = opened("/account/", cast.head, size=PHONE)
    finger = Finger(page)
    page.get_by_role("link", name="Add a passkey").click()
    assert_no_fault(page, "no passkey yet")
    page.get_by_label("Name of the device").fill("My phone")
    page.get_by_role("button", name="Add a passkey").focus()
    page.keyboard.press("Enter")
    page.get_by_text("From now on this passkey signs you in.").wait_for()
    page.get_by_text("not used yet").wait_for()
    assert_no_fault(page, "a passkey")
    assert [row.name for row in Passkey.objects.all()] == ["My phone"]

    page.get_by_role("button", name="Add a passkey").click()  # the same device once more
    page.get_by_text("This device has a passkey for you already.").wait_for()
    assert Passkey.objects.count() == 1
    key = finger.keys()[0]
    assert key["isResidentCredential"]

    elsewhere = opened("/sign-in/?next=/library/", size=PHONE)
    other = Finger(elsewhere)
    other.takes(key)
    assert_no_fault(elsewhere, "the door")
    elsewhere.get_by_role("button", name="Sign in with a passkey").focus()
    elsewhere.keyboard.press("Enter")
    elsewhere.get_by_role("heading", name="Library").wait_for()
    assert elsewhere.url.endswith("/library/")
    page.reload()
    page.get_by_text("last used").wait_for()
    row = Passkey.objects.get()
    assert row.sign_count > 0

    page.get_by_role("button", name="Remove: My phone").click()
    page.get_by_text("That passkey opens nothing any more.").wait_for()
    again = opened("/sign-in/", size=PHONE)
    Finger(again).takes(key)
    again.get_by_role("button", name="Sign in with a passkey").click()
    again.get_by_text("This passkey did not sign you in.").wait_for()


def test_another_finger_says_so_and_the_button_can_be_pressed_again(
    opened: Opener, cast: Cast
) -> None:
    page = opened("/account/passkeys/", cast.head, size=PHONE)
    finger = Finger(page)
    finger.is_known(False)
    page.get_by_role("button", name="Add a passkey").click()
    page.get_by_text("Nothing was chosen, or it took too long.").wait_for()
    assert_no_fault(page, "not known")
    finger.is_known(True)
    page.get_by_role("button", name="Add a passkey").click()
    page.get_by_text("From now on this passkey signs you in.").wait_for()


def test_a_key_of_before_is_refused_as_a_copy(opened: Opener, cast: Cast) -> None:
    page = opened("/account/passkeys/", cast.head)
    finger = Finger(page)
    page.get_by_role("button", name="Add a passkey").click()
    page.get_by_text("From now on this passkey signs you in.").wait_for()
    key = finger.keys()[0]
    Passkey.objects.update(sign_count=key["signCount"] + 5)  # used five times since, elsewhere
    copy = opened("/sign-in/")
    Finger(copy).takes(key)
    copy.get_by_role("button", name="Sign in with a passkey").click()
    copy.get_by_text("This passkey did not sign you in.").wait_for()


def test_without_passkeys_the_page_says_so_and_offers_none(opened: Opener, cast: Cast) -> None:
    page = opened("/account/passkeys/", cast.head, java_script_enabled=False)
    page.get_by_text("This browser has no passkeys.").wait_for()
    assert not page.get_by_role("button", name="Add a passkey").is_visible()
    door = opened("/sign-in/", java_script_enabled=False)
    assert not door.get_by_role("button", name="Sign in with a passkey").is_visible()
    assert door.get_by_role("button", name="Sign in", exact=True).is_visible()
