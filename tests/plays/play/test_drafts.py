"""Drafts and revisions: words edited, moves kept, published, discarded; nothing overwritten."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from django.http import HttpResponse
from django.urls import reverse

from coachbook.demo.files import demo_play
from plays.core.document.file import content_hash
from plays.core.moves.moves import mirror, slide
from plays.core.play import Defence, DefenceRead
from plays.core.play import Play as PlayValue
from plays.library.changes import (
    ChangedMeanwhileError,
    FaultyPlayError,
    discard,
    publish,
    publish_sound,
    save_draft,
)
from plays.models import Play, Revision
from shared.models import Change
from tests.cast import Cast

GANGWAY = demo_play("gangway")
WORDS = reverse("edit-texts", args=["gangway"])


def form_data(cast: Cast) -> dict[str, Any]:
    """What a browser would send if the form were sent back untouched."""
    form = cast.client(cast.keeper).get(WORDS).context["form"]
    values = {field.name: field.value() for field in form}
    return {name: "" if value is None else value for name, value in values.items()}


def send(cast: Cast, **changed: Any) -> HttpResponse:
    data = {**form_data(cast), **{name.replace("__", "-"): v for name, v in changed.items()}}
    return cast.client(cast.keeper).post(WORDS, data)  # type: ignore[return-value]


def draft_of(cast: Cast) -> Revision:
    return Revision.objects.get(play=cast.play, published_at=None)


def draft_value(cast: Cast) -> PlayValue:
    return draft_of(cast).value()


def test_an_untouched_form_makes_no_draft(cast: Cast) -> None:
    response = send(cast)
    assert response.status_code == 302
    assert cast.play.revisions.count() == 1


def test_words_go_into_a_draft_and_the_published_play_stays(cast: Cast) -> None:
    before = Revision.objects.get(play=cast.play)
    said = {"use": "Against\r\npressure.", "teach": "One.\r\n\r\nTwo.\r\n", "note": "Shorter"}
    response = send(cast, name="Gangplank", **said)
    assert response.status_code == 302
    expected = replace(GANGWAY, name="Gangplank", use="Against\npressure.", teach=("One.", "Two."))
    assert draft_value(cast) == expected
    assert draft_of(cast).note == "Shorter"
    assert draft_of(cast).author == cast.keeper
    after = Revision.objects.get(pk=before.pk)
    assert (after.document, after.content_hash) == (before.document, before.content_hash)
    cast.play.refresh_from_db()
    assert cast.play.name == "Gangway"


def test_a_second_edit_goes_on_with_the_draft(cast: Cast) -> None:
    send(cast, name="Gangplank")
    send(cast, series="Planks")
    assert cast.play.revisions.count() == 2
    assert draft_value(cast) == replace(GANGWAY, name="Gangplank", series="Planks")


def test_looks_are_put_in_order_with_their_words(cast: Cast) -> None:
    count = len(GANGWAY.looks)
    places = {f"look-{n}-place": str(count - n) for n in range(count)}
    data = {**form_data(cast), **places, "look-0-condition": "Wide open.", "look-0-guess": "20"}
    receiver = GANGWAY.looks[0].receiver
    data |= {"look-0-kind": "lob", "look-0-read": f"front-{receiver}"}
    cast.client(cast.keeper).post(WORDS, data)
    looks = draft_value(cast).looks
    assert [look.id for look in looks] == [look.id for look in reversed(GANGWAY.looks)]
    assert (looks[-1].condition, looks[-1].guess) == ("Wide open.", 0.2)
    assert looks[-1].pass_kind.value == "lob"
    assert looks[-1].read == DefenceRead(Defence.FRONT, (receiver,))
    assert looks[:-1] == tuple(reversed(GANGWAY.looks[1:]))


def test_words_of_counters_and_phases(cast: Cast) -> None:
    data = {**form_data(cast), "says-0": "Throw it over.", "phase-1": "Post up"}
    cast.client(cast.keeper).post(WORDS, data)
    draft = draft_value(cast)
    assert draft.counters[0] == replace(GANGWAY.counters[0], says="Throw it over.")
    assert draft.phases[1] == replace(GANGWAY.phases[1], title="Post up")
    assert draft.counters[1:] == GANGWAY.counters[1:]


@pytest.mark.parametrize(
    ("field", "typed", "told"),
    [
        ("name", "", "Fill this in."),
        ("name", "x" * 61, "At most 60 characters; these are 61."),
        ("call", "Gangway {7}", "the roles are 1 to 5"),
        ("call", "Gangway {5", "without its partner"),
        ("look-0-guess", "120", "100 or less"),
        ("look-1-place", "", "Fill this in."),
        ("phase-0", "  ", "Fill this in."),
        ("level", "U99", "This is none of the choices."),
        ("teach", "Line\n" * 101, "101 items"),
    ],
)
def test_a_fault_is_told_at_its_field_and_nothing_typed_is_lost(
    field: str, typed: str, told: str, cast: Cast
) -> None:
    data = {**form_data(cast), "use": "Still here.", field: typed}
    response = cast.client(cast.keeper).post(WORDS, data)
    assert response.status_code == 422
    errors = response.context["form"].errors
    assert list(errors) == ["errors_" if field == "errors" else field]
    assert told in " ".join(errors[field])
    assert "Still here." in response.content.decode()
    assert cast.play.revisions.count() == 1


def test_somebody_elses_draft_is_not_overwritten_unknowingly(cast: Cast) -> None:
    data = {**form_data(cast), "use": "Mine."}
    theirs = replace(GANGWAY, use="Theirs.")
    save_draft(cast.play, theirs, cast.runner)
    response = cast.client(cast.keeper).post(WORDS, data)
    assert response.status_code == 422
    assert "Somebody changed this play meanwhile" in response.content.decode()
    assert "Mine." in response.content.decode()
    assert draft_value(cast) == theirs
    again = {**data, "seen": response.context["form"]["seen"].value()}
    assert cast.client(cast.keeper).post(WORDS, again).status_code == 302
    assert draft_value(cast) == replace(GANGWAY, use="Mine.")


def test_publishing_makes_the_draft_current_and_found(cast: Cast) -> None:
    send(cast, name="Gangplank", use="Über alles")
    path = reverse("publish-draft", args=["gangway", 2])
    seen = draft_of(cast).content_hash
    for _ in range(2):  # a request that is repeated does no harm
        assert cast.client(cast.keeper).post(path, {"seen": seen}).status_code == 302
    cast.play.refresh_from_db()
    assert (cast.play.name, cast.play.published().number) == ("Gangplank", 2)
    assert cast.play.revisions.count() == 2
    assert Change.objects.filter(verb="published", after=seen).count() == 1
    found = cast.client(cast.head).get(reverse("library") + "?text=uber").context["plays"]
    assert found == [cast.play]
    cast.entry.refresh_from_db()
    assert cast.entry.revision.number == 1  # a team goes over when its coach says so


def test_a_draft_that_changed_meanwhile_is_not_published_unread(cast: Cast) -> None:
    send(cast, use="First.")
    seen = draft_of(cast).content_hash
    save_draft(cast.play, replace(GANGWAY, use="Second."), cast.runner)
    cast.client(cast.keeper).post(reverse("publish-draft", args=["gangway", 2]), {"seen": seen})
    assert draft_value(cast).use == "Second."
    cast.play.refresh_from_db()
    assert cast.play.published().number == 1


def test_a_faulty_draft_is_shown_with_its_faults_and_not_published(cast: Cast) -> None:
    pushed = slide(GANGWAY, 0.5)
    draft = save_draft(cast.play, pushed, cast.keeper)
    with pytest.raises(FaultyPlayError) as caught:
        publish_sound(draft, cast.keeper)
    client = cast.client(cast.keeper)
    client.post(reverse("publish-draft", args=["gangway", 2]))
    assert draft_value(cast) == pushed
    said = client.get(reverse("revision", args=["gangway", 2])).content.decode()
    assert caught.value.problems
    assert all(problem.sentence.replace("'", "&#x27;") in said for problem in caught.value.problems)
    assert reverse("publish-draft", args=["gangway", 2]) not in said


NOWHERE = (
    replace(GANGWAY, starts=GANGWAY.starts[1:]),
    replace(GANGWAY, phases=()),
    replace(GANGWAY, counters=(replace(GANGWAY.counters[0], from_phase="none"),)),
)


@pytest.mark.parametrize("faulty", NOWHERE, ids=("start", "phases", "counter"))
def test_a_draft_that_cannot_be_drawn_is_still_shown_with_its_faults(
    faulty: PlayValue, cast: Cast
) -> None:
    save_draft(cast.play, faulty, cast.keeper)
    client = cast.client(cast.keeper)
    path = reverse("revision", args=["gangway", 2])
    said = client.get(path).content.decode()
    assert "It cannot be published yet" in said
    assert "once its faults are mended" in said
    assert client.get(path + "?mirror=on").status_code == 200
    assert client.get(reverse("save-view", args=["gangway", 2]) + "?mirror=on").status_code == 200
    assert client.get(reverse("play-picture", args=["gangway", 2])).status_code == 404
    changed = client.get(reverse("revisions", args=["gangway"]) + "?old=1&new=2")
    assert "once the faults of the draft are mended" in changed.content.decode()
    assert client.get(WORDS).status_code == 200


def test_what_changed_is_told_and_drawn(cast: Cast) -> None:
    save_draft(cast.play, mirror(GANGWAY), cast.keeper)
    path = reverse("revisions", args=["gangway"])
    response = cast.client(cast.keeper).get(path)
    two = response.context["two"]
    assert (two.old.number, two.new.number) == (1, 2)
    assert [pair.title for pair in two.phases] == [phase.title for phase in GANGWAY.phases]
    for change in two.changes:
        assert change.sentence.replace("'", "&#x27;") in response.content.decode()
    back = cast.client(cast.keeper).get(path + "?old=2&new=1").context["two"]
    assert (back.old.number, back.new.number) == (2, 1)
    for query in ("?old=1&new=1", "?old=1&new=9", "?old=x&new="):
        assert cast.client(cast.keeper).get(path + query).context["two"] is None
    theirs = cast.client(cast.head).get(path + "?old=1&new=2")  # drafts are for keepers
    assert theirs.context["two"] is None
    assert [revision.number for revision in theirs.context["revisions"]] == [1]


def test_a_phase_that_is_the_same_is_not_drawn_twice(cast: Cast) -> None:
    ended = replace(GANGWAY, phases=GANGWAY.phases[:-1])
    save_draft(cast.play, ended, cast.keeper)
    two = cast.client(cast.keeper).get(reverse("revisions", args=["gangway"])).context["two"]
    if two.changes is not None:
        assert [pair.new for pair in two.phases] == [None]
        assert two.phases[0].old


def test_published_revisions_never_change(cast: Cast) -> None:
    first = cast.play.published()
    discard(first, cast.keeper)
    publish(first, cast.keeper)
    draft = save_draft(cast.play, replace(GANGWAY, name="Two"), cast.keeper)
    assert draft.number == 2
    publish(draft, cast.keeper)
    third = save_draft(cast.play, replace(GANGWAY, name="Three"), cast.keeper)
    assert third.number == 3
    numbers = cast.play.revisions.order_by("number")
    assert [revision.value().name for revision in numbers] == ["Gangway", "Two", "Three"]


def test_saving_against_another_newest_revision_is_refused(cast: Cast) -> None:
    seen = cast.play.published().content_hash
    publish(save_draft(cast.play, replace(GANGWAY, name="Two"), cast.keeper), cast.keeper)
    with pytest.raises(ChangedMeanwhileError):
        save_draft(cast.play, replace(GANGWAY, name="Three"), cast.keeper, seen=seen)
    assert cast.play.revisions.count() == 2


def test_discarding_drops_the_draft_only(cast: Cast) -> None:
    send(cast, name="Gangplank")
    path = reverse("discard-draft", args=["gangway", 2])
    for _ in range(2):
        response = cast.client(cast.keeper).post(path)
        assert response.headers["Location"] == reverse("play", args=["gangway"])
    assert [revision.number for revision in cast.play.revisions.all()] == [1]
    first = reverse("discard-draft", args=["gangway", 1])
    cast.client(cast.keeper).post(first)
    assert cast.play.revisions.count() == 1


def keep(cast: Cast, query: str, **data: str) -> HttpResponse:
    path = reverse("save-view", args=["gangway", 1]) + query
    client = cast.client(cast.keeper)
    seen = client.get(path).context["form"]["seen"].value()
    return client.post(path, {"seen": seen, **data})  # type: ignore[return-value]


def test_a_moved_play_is_kept_as_a_new_play(cast: Cast) -> None:
    response = keep(cast, "?mirror=on", kept_as="new", name="Gangway Left")
    play = Play.objects.get(key="gangway-left")
    assert response.headers["Location"] == reverse("revision", args=["gangway-left", 1])
    draft = play.revisions.get()
    assert draft.value() == replace(mirror(GANGWAY), key="gangway-left", name="Gangway Left")
    assert (play.current, draft.published_at) == (None, None)
    origin = draft.value().origin
    assert origin is not None
    assert origin.content == content_hash(GANGWAY)
    keep(cast, "?mirror=on", kept_as="new", name="Gangway Left")  # twice is as once
    assert Play.objects.count() == 2
    keep(cast, "?along=6", kept_as="new", name="Gangway left!")  # another play, another key
    assert Play.objects.filter(key="gangway-left-2").exists()
    again = cast.client(cast.keeper).get(reverse("save-view", args=["gangway", 1]) + "?mirror=on")
    assert "The library holds this move already" in again.content.decode()


def test_a_play_that_was_never_published_is_for_keepers_and_goes_with_its_draft(
    cast: Cast,
) -> None:
    keep(cast, "?mirror=on", kept_as="new", name="Left")
    path = reverse("play", args=["left"])
    assert cast.client(cast.keeper).get(path).status_code == 200
    assert cast.client(cast.head).get(path).status_code == 404
    response = cast.client(cast.keeper).post(reverse("discard-draft", args=["left", 1]))
    assert response.headers["Location"] == reverse("library")
    assert not Play.objects.filter(key="left").exists()


def test_a_moved_play_is_kept_as_a_draft_of_its_play(cast: Cast) -> None:
    keep(cast, "?along=6", kept_as="draft")
    assert draft_value(cast) == slide(GANGWAY, 6.0)
    response = keep(cast, "?mirror=on", kept_as="draft")
    assert response.status_code == 422
    assert "another draft already" in response.content.decode()
    assert draft_value(cast) == slide(GANGWAY, 6.0)


def test_a_new_play_needs_a_name_and_a_move(cast: Cast) -> None:
    assert keep(cast, "?mirror=on", kept_as="new", name=" ").status_code == 422
    path = reverse("save-view", args=["gangway", 1])
    assert cast.client(cast.keeper).get(path).status_code == 302
    assert Play.objects.count() == 1


def test_away_and_back_with_the_package_untouched(cast: Cast) -> None:
    client = cast.client(cast.keeper)
    for _ in range(2):
        client.post(reverse("put-away", args=["gangway"]))
    cast.play.refresh_from_db()
    assert cast.play.put_away
    assert Change.objects.filter(verb="put away").count() == 1
    assert cast.client(cast.head).get(reverse("play", args=["gangway"])).status_code == 200
    assert cast.client(cast.head).get(reverse("cast", args=[cast.team.pk])).status_code == 200
    client.post(reverse("bring-back", args=["gangway"]))
    cast.play.refresh_from_db()
    assert not cast.play.put_away
