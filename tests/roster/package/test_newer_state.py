"""A newer state of a carried play is offered with what is different, and taken up only by hand."""

from __future__ import annotations

import html
import re
from dataclasses import replace

from django.urls import reverse

from plays.library.changes import publish, save_draft
from tests.cast import Cast


def test_the_package_leads_to_what_is_different_and_waits(cast: Cast) -> None:
    carried = cast.entry.revision
    later = replace(cast.play.published().value(), use="Only after a time-out.")
    publish(save_draft(cast.play, later, cast.keeper), cast.keeper)
    head = cast.client(cast.head)
    said = head.get(reverse("package", args=[cast.team.pk])).content.decode()
    address = html.unescape(re.findall(r'href="([^"]*/revisions/\?old=[^"]*)"', said)[0])
    assert address.endswith(f"?old={carried.number}&new={carried.number + 1}")
    assert "Only after a time-out." in head.get(address).content.decode()
    cast.entry.refresh_from_db()
    assert cast.entry.revision == carried
    head.post(reverse("update-revision", args=[cast.entry.pk]))
    cast.entry.refresh_from_db()
    assert cast.entry.revision.number == carried.number + 1
