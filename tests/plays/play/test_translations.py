"""A club says a play's texts in another language on a page, and a player reads them."""

from __future__ import annotations

from typing import Any

import pytest
from django.urls import reverse

from coachbook.demo.files import demo_play
from plays.core.moves.translated import own_texts, told_in, with_language
from plays.library.changes import publish, save_draft
from plays.models import Revision
from tests.cast import Cast
from tests.roster.sheets.test_spanish import pages

GANGWAY = demo_play("gangway")
SPANISH = reverse("translate-texts", args=["gangway", "es"])


def form_data(cast: Cast) -> dict[str, Any]:
    form = cast.client(cast.keeper).get(SPANISH).context["form"]
    return {field.name: field.value() or "" for field in form}


def named(cast: Cast, text: str) -> str:
    form = cast.client(cast.keeper).get(SPANISH).context["form"]
    return next(str(name) for name, each in form.texts.items() if each == text)


def test_what_is_said_goes_into_the_draft_and_nothing_else_changes(cast: Cast) -> None:
    cue = GANGWAY.teach[0]
    data = {**form_data(cast), named(cast, cue): "  Manos arriba. "}
    assert cast.client(cast.keeper).post(SPANISH, data).status_code == 302
    draft = Revision.objects.get(play=cast.play, published_at=None)
    assert draft.value() == with_language(GANGWAY, "es", {cue: "Manos arriba."})
    assert cast.client(cast.keeper).post(SPANISH, data).status_code == 302
    assert cast.play.revisions.count() == 2


def test_an_untouched_form_makes_no_draft(cast: Cast) -> None:
    assert cast.client(cast.keeper).post(SPANISH, form_data(cast)).status_code == 302
    assert cast.play.revisions.count() == 1


def test_nothing_typed_is_lost_where_somebody_else_was_quicker(cast: Cast) -> None:
    data = {**form_data(cast), named(cast, GANGWAY.teach[0]): "Manos arriba."}
    save_draft(cast.play, with_language(GANGWAY, "ca", {GANGWAY.teach[0]: "Mans"}), cast.keeper)
    answer = cast.client(cast.keeper).post(SPANISH, data)
    assert "Manos arriba." in answer.content.decode()
    again = {**data, "seen": answer.context["form"]["seen"].value()}
    assert cast.client(cast.keeper).post(SPANISH, again).status_code == 302
    said = Revision.objects.get(play=cast.play, published_at=None).value()
    assert told_in(said, "es").teach[0] == "Manos arriba."
    assert told_in(said, "ca").teach[0] == "Mans"


def test_a_language_that_the_app_does_not_speak_is_no_page(cast: Cast) -> None:
    path = reverse("translate-texts", args=["gangway", "xx"])
    assert cast.client(cast.keeper).get(path).status_code == 404


@pytest.mark.parametrize("speaks", ["en", "es"])
def test_players_read_their_language_on_phone_and_paper(cast: Cast, speaks: str) -> None:
    said = {text: f"Dicho: {n}." for n, text in enumerate(own_texts(GANGWAY))}
    revision = save_draft(cast.play, with_language(GANGWAY, "es", said), cast.keeper)
    publish(revision, cast.keeper)
    cast.team.package.filter(play=cast.play).update(revision=revision)
    cast.team.language = speaks
    cast.team.save()
    entered = [text for text in own_texts(GANGWAY) if len(text) > 12]
    for player in cast.players[:5]:
        for text in pages(cast, player, speaks):
            assert ("Dicho" in text) is (speaks == "es")
            assert any(each in text for each in entered) is (speaks == "en")
