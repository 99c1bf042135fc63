"""A draft is the staff's: sheets, pages and papers change when it is published and taken."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from plays.library.changes import publish, save_draft
from plays.models import Revision
from tests.cast import Cast
from tests.phone import opened_by

TITLE = "Quarterdeck"  # that no other text of the play holds


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> None:
    settings.DATA = tmp_path


def drafted(cast: Cast) -> Revision:
    """The play with another title over its first phase, as an edit on the court leaves it."""
    value = cast.play.published().value()
    first, *others = value.phases
    changed = replace(value, phases=(replace(first, title=TITLE), *others))
    return save_draft(cast.play, changed, cast.keeper)


def shown(cast: Cast, phone: Client, address: str) -> list[str]:
    """What a player reads on the phone, and on paper; and what the staff sees of the sheet."""
    part = phone.get(f"{address}{cast.entry.pk}/5/").content.decode()
    paper = PdfReader(io.BytesIO(phone.get(f"{address}sheet.pdf").content))
    sheet = cast.client(cast.head).get(reverse("sheet", args=[cast.players[4].pk]))
    words = " ".join(leaf.extract_text() for leaf in paper.pages)
    return [part, words, sheet.content.decode()]


def test_a_draft_changes_no_sheet_until_it_is_published_and_taken(cast: Cast) -> None:
    phone = Client()
    address = opened_by(phone, cast.players[4])
    before = shown(cast, phone, address)
    draft = drafted(cast)
    assert TITLE not in "".join(shown(cast, phone, address))
    assert "changed" not in phone.get(address).content.decode()
    publish(draft, cast.keeper)
    assert TITLE not in "".join(shown(cast, phone, address)), "the team carries the one before"
    cast.entry.refresh_from_db()
    cast.entry.revision = draft
    cast.entry.save()
    after = shown(cast, phone, address)
    assert all(TITLE in text for text in after)
    assert all(one != other for one, other in zip(before, after, strict=True))
