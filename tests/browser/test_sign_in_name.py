"""The name to sign in with is suggested while the own name is typed."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from coachbook.accounts.changes import set_up_path
from tests.browser.conftest import PHONE, Opener


@pytest.mark.django_db(transaction=True)
def test_it_follows_the_own_name_until_it_is_typed(opened: Opener) -> None:
    page = opened(set_up_path(), size=PHONE)
    own, name = page.get_by_label("Your name"), page.get_by_label("Name to sign in with")
    own.press_sequentially("Zoë Lind")
    expect(name).to_have_value("zoë")
    own.fill("Ana")
    expect(name).to_have_value("ana")
    name.fill("coach")
    own.fill("Bo")
    expect(name).to_have_value("coach")
