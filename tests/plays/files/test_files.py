"""Plays as files: nothing is overwritten, every fault is told, a repeated request does no harm."""

from __future__ import annotations

import html
import json
from dataclasses import replace
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.http import HttpResponse
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from coachbook.demo.factories import published
from coachbook.demo.files import demo_play, demo_plays
from plays import values
from plays.core.document.file import Written, to_json, write_play, written
from plays.core.play import Play as PlayValue
from plays.core.words.difference import difference
from plays.files.bring_in import Fate, StaleError, bring_in, preview_of
from plays.files.file import read_file, write_library
from plays.library.changes import put_away, save_draft
from plays.models import Play, Revision
from shared.core.language import ENGLISH
from tests.cast import Cast

PATH = reverse("import-plays")
GANGWAY, OAR = demo_play("gangway"), demo_play("oar-rack")


def upload(cast: Cast, data: bytes, name: str = "plays.json") -> HttpResponse:
    file = SimpleUploadedFile(name, data, "application/json")
    return cast.client(cast.keeper).post(PATH, {"file": file})  # type: ignore[return-value]


def previewed(cast: Cast, *values: PlayValue) -> Any:
    response = upload(cast, write_library(values))
    return response.context["preview"]  # type: ignore[attr-defined]


def bring(cast: Cast, preview: Any, *keys: str) -> HttpResponse:
    data = {"token": preview.token, "play": keys or [item.key for item in preview.items]}
    return cast.client(cast.keeper).post(PATH, data)  # type: ignore[return-value]


def state() -> set[tuple[str, int, str, bool]]:
    rows = Revision.objects.values_list("play__key", "number", "content_hash", "published_at")
    return {(key, number, content, at is not None) for key, number, content, at in rows}


def test_a_new_play_is_shown_then_added(cast: Cast) -> None:
    before = state()
    preview = upload(cast, write_play(OAR)).context["preview"]  # type: ignore[attr-defined]
    assert [(item.name, item.fate) for item in preview.items] == [("Oar Rack", Fate.ADD)]
    assert state() == before
    assert bring(cast, preview).headers["Location"] == reverse("library")
    play = Play.objects.get(key="oar-rack")
    assert play.published().value() == OAR
    assert play.published().author == cast.keeper


def test_nine_plays_take_no_more_queries_than_one_and_each_is_written_once(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    new = [play for play in demo_plays() if play.key != GANGWAY.key][:10]
    said: list[str] = []

    def spied(play: PlayValue) -> Written:
        said.append(play.key)
        return written(play)

    monkeypatch.setattr("plays.files.bring_in.written", spied)
    queries = []
    for few in (new[:1], new[1:]):
        token = previewed(cast, *few).token
        said.clear()
        with CaptureQueriesContext(connection) as asked:
            bring_in(token, None, cast.keeper)
        assert said == [play.key for play in few]
        queries.append(len(asked))
    assert queries[0] == queries[1]


def test_a_repeated_request_changes_nothing(cast: Cast) -> None:
    preview = previewed(cast, OAR, replace(GANGWAY, use="New words."))
    bring(cast, preview)
    after = state()
    assert len(after) == 3
    assert bring(cast, preview).status_code == 302
    assert state() == after


def test_what_is_here_is_recognised_under_any_key(cast: Cast) -> None:
    preview = previewed(cast, GANGWAY)
    assert [item.fate for item in preview.items] == [Fate.HERE]
    assert preview.coming == 0
    other_key = previewed(cast, replace(GANGWAY, key="other"))
    assert other_key.items[0].fate is Fate.HERE
    assert other_key.items[0].known.play == cast.play
    put_away(cast.play, cast.keeper)
    said = upload(cast, write_play(GANGWAY)).content.decode()
    assert f"Already here: Gangway, as of {cast.play.published().day}." in said
    assert "That play is put away." in said


def test_an_older_revision_is_recognised_too(cast: Cast) -> None:
    changed = replace(GANGWAY, use="New words.")
    bring(cast, previewed(cast, changed))
    cast.client(cast.keeper).post(reverse("publish-draft", args=["gangway", 2]))
    item = previewed(cast, GANGWAY).items[0]
    assert (item.fate, item.known.number) == (Fate.HERE, 1)


def test_a_known_play_with_other_content_becomes_a_draft(cast: Cast) -> None:
    published_before = Revision.objects.get(play=cast.play).document
    changed = replace(GANGWAY, use="New words.")
    preview = previewed(cast, changed)
    assert preview.items[0].fate is Fate.REVISE
    bring(cast, preview)
    draft = cast.play.revisions.get(published_at=None)
    assert draft.value() == changed
    assert Revision.objects.get(play=cast.play, number=1).document == published_before
    cast.play.refresh_from_db()
    assert cast.play.published().number == 1


def test_what_a_known_play_would_change_is_said_before_it_comes(cast: Cast) -> None:
    other = replace(GANGWAY, use="New words.", name="Gangplank")
    response = upload(cast, write_library([OAR, other]))
    fresh, known = response.context["preview"].items  # type: ignore[attr-defined]
    assert fresh.changes == ()
    assert known.changes == difference(GANGWAY, other)
    assert len(known.changes) == 2
    page = " ".join(html.unescape(response.content.decode()).split())
    assert page.count("What would change") == 1
    assert all(change.sentence in page for change in known.changes)


def test_reading_what_would_change_takes_one_query_for_many(cast: Cast) -> None:
    others = [play for play in demo_plays() if play.key != GANGWAY.key][:6]
    for play in others:
        published(play, cast.keeper)
    queries = []
    for few in (others[:2], others):
        file = read_file(write_library(replace(one, use="New words.") for one in few), ENGLISH)
        values._kept.clear()
        with CaptureQueriesContext(connection) as asked:
            assert all(item.changes for item in preview_of(file).items)
        queries.append(len(asked))
    assert queries == [2, 2]


def test_a_draft_in_the_way_is_not_overwritten(cast: Cast) -> None:
    own = replace(GANGWAY, use="Half done.")
    save_draft(cast.play, own, cast.runner)
    preview = previewed(cast, replace(GANGWAY, use="New words."))
    assert preview.items[0].fate is Fate.WAITS
    bring(cast, preview)
    assert cast.play.revisions.get(published_at=None).value() == own


def test_a_library_that_moved_on_is_shown_again_and_nothing_is_saved(cast: Cast) -> None:
    preview = previewed(cast, OAR, replace(GANGWAY, use="New words."))
    published(replace(OAR, use="Somebody else's."))
    before = state()
    response = bring(cast, preview)
    assert response.status_code == 422
    assert "The library has changed" in response.content.decode()
    assert state() == before
    fates = [item.fate for item in response.context["preview"].items]  # type: ignore[attr-defined]
    assert fates == [Fate.REVISE, Fate.REVISE]


def test_only_what_is_ticked_comes(cast: Cast) -> None:
    preview = previewed(cast, OAR, demo_play("slipway"))
    bring(cast, preview, "slipway")
    assert set(Play.objects.values_list("key", flat=True)) == {"gangway", "slipway"}


def test_the_same_play_twice_in_a_file_comes_once(cast: Cast) -> None:
    preview = previewed(cast, OAR, replace(OAR, use="Other words."))
    assert [item.fate for item in preview.items] == [Fate.ADD, Fate.TWICE]
    bring(cast, preview)
    assert Play.objects.get(key="oar-rack").published().value() == OAR


def faulty(**changed: Any) -> dict[str, Any]:
    document = json.loads(write_play(OAR))
    document["formation"] = "triangle"
    document["looks"][0]["reciever"] = document["looks"][0].pop("receiver")
    del document["phases"][0]["title"]
    return {**document, **changed}


def test_three_faults_are_three_lines_each_with_its_place(cast: Cast) -> None:
    response = upload(cast, json.dumps(faulty()).encode())
    assert response.status_code == 422
    (item,) = response.context["preview"].items  # type: ignore[attr-defined]
    places = {problem.place for problem in item.problems}
    assert places == {"/formation", "/phases/0/title", "/looks/0/reciever"}
    assert len(item.problems) == 3
    said = response.content.decode()
    assert all(f"<code>{place}</code>" in said for place in places)
    assert Play.objects.count() == 1


def test_a_faulty_play_does_not_hide_the_others_and_never_comes(cast: Cast) -> None:
    data = {"coachbook_library": 1, "plays": [faulty(key="bad"), to_json(OAR), 7]}
    response = upload(cast, json.dumps(data).encode())
    preview = response.context["preview"]  # type: ignore[attr-defined]
    assert [item.fate for item in preview.items] == [Fate.FAULTY, Fate.ADD, Fate.FAULTY]
    bring(cast, preview, "bad", "oar-rack")
    assert set(Play.objects.values_list("key", flat=True)) == {"gangway", "oar-rack"}


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "The file is empty"),
        (b"\xff\xfe\x00", "not text in UTF-8"),
        (b"{", "line 1, column 2"),
        (b"just words", "line 1, column 1"),
        (b"[1, 2]", "a play is an object in braces"),
        (b"{}", "This is no play file"),
        (b"[" * 100_000, "not JSON"),
        (b'{"coachbook_play": 99}', "newer Coachbook"),
        (b'{"coachbook_library": 9, "plays": []}', "has format 9"),
        (b'{"coachbook_library": 1}', "holds no list"),
        (b'{"coachbook_library": 1, "plays": []}', "holds no play"),
        (b'{"coachbook_library": 1, "plays": [' + b"1," * 300 + b"1]}", "301 plays"),
        (b'{"name": "' + b"x" * 300_000 + b'"}', "256 kB at most"),
        (b" " * 2_000_000, "larger than 1 MB"),
    ],
)
def test_what_is_no_play_file_is_told_and_nothing_is_saved(
    data: bytes, told: str, cast: Cast
) -> None:
    before = state()
    response = upload(cast, data)
    assert response.status_code == 422
    assert told in response.content.decode()
    assert state() == before


def test_no_file_at_all(cast: Cast) -> None:
    response = cast.client(cast.keeper).post(PATH)
    assert response.status_code == 422
    assert "Choose a file first." in response.content.decode()
    assert 'aria-describedby="file-error"' in response.content.decode()


@pytest.mark.parametrize("token", ["", "nonsense", "eyJhIjoxfQ:1abc:def"])
def test_a_forged_preview_is_refused(token: str, cast: Cast) -> None:
    response = cast.client(cast.keeper).post(PATH, {"token": token, "play": ["x"]})
    assert response.status_code == 422
    assert "out of date" in response.content.decode()
    with pytest.raises(StaleError):
        bring_in(token, ["x"], cast.keeper)


def test_an_old_preview_is_refused(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    preview = preview_of(read_file(write_play(OAR), ENGLISH))
    monkeypatch.setattr("plays.files.bring_in.LASTS", -1)
    with pytest.raises(StaleError):
        bring_in(preview.token, ["oar-rack"], cast.keeper)


def test_all_or_none(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    preview = previewed(cast, OAR, demo_play("slipway"))
    before = state()

    def fails(*_: object, **__: object) -> None:
        raise RuntimeError

    monkeypatch.setattr("plays.files.bring_in.note_changes", fails)
    with pytest.raises(RuntimeError):
        bring_in(preview.token, ["oar-rack", "slipway"], cast.keeper)
    assert state() == before


def test_the_library_goes_out_and_comes_back_as_it_was(cast: Cast) -> None:
    for value in demo_plays():
        if value.key != "gangway":
            published(value)
    save_draft(cast.play, replace(GANGWAY, use="Not yet."), cast.keeper)
    response = cast.client(cast.assistant).get(reverse("library-file"))
    assert "attachment" in response.headers["Content-Disposition"]
    file = read_file(response.content, ENGLISH)
    assert {each.play for each in file.plays} == set(demo_plays())
    assert {item.fate for item in preview_of(file).items} == {Fate.HERE}
    Play.objects.exclude(key="gangway").update(current=None)
    Play.objects.exclude(key="gangway").delete()
    preview = upload(cast, response.content).context["preview"]  # type: ignore[attr-defined]
    assert preview.coming == len(demo_plays()) - 1
    bring(cast, preview)
    back = {play.published().value() for play in Play.objects.select_related("current")}
    assert back == set(demo_plays())


def test_the_filters_choose_what_goes_out(cast: Cast) -> None:
    published(OAR)
    path = reverse("library-file") + "?situation=baseline"
    file = read_file(cast.client(cast.head).get(path).content, ENGLISH)
    assert [each.name for each in file.plays] == ["Oar Rack"]


def test_the_preview_of_a_large_library_stays_small(cast: Cast) -> None:
    many = [
        replace(value, key=f"{value.key}-{n}", name=f"{value.name} {n}")
        for value in demo_plays()
        for n in range(8)
    ]
    preview = preview_of(read_file(write_library(many), ENGLISH))
    assert preview.coming == len(many)
    assert len(preview.token) < 500_000  # a form may hold 2.5 MB
