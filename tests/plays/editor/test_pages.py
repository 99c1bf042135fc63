"""Drawing by hand over http: saved at once, told where it does not fit, never merged blindly."""

from __future__ import annotations

import json
import re
import uuid
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from django.test import Client
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.check.setting import defence_words
from plays.core.document.file import to_json
from plays.core.document.form import problems
from plays.core.play import Cue, Moment
from plays.models import Play, Revision
from shared.core.language import ENGLISH
from tests.cast import Cast
from tests.plays.core.samples import with_cues

if TYPE_CHECKING:
    from django.test.client import _MonkeyPatchedWSGIResponse

pytestmark = pytest.mark.django_db


def newest(play: Play) -> Revision:
    return play.revisions.order_by("-number")[0]


def gesture(client: Client, drawn: Play, /, **more: Any) -> _MonkeyPatchedWSGIResponse:
    """One gesture as the browser sends it; what begins with an underscore is about the sending."""
    about = {
        "seen": more.pop("_seen", None) or newest(drawn).content_hash,
        "once": more.pop("_once", None) or str(uuid.uuid4()),
        "counter": more.pop("_counter", ""),
        "phase": "1",
        "command": more.pop("_text", None) or json.dumps(more),
    }
    return client.post(reverse("draw-play", args=[drawn.key]), about)


def test_every_gesture_is_in_the_draft_at_once(keeper: Client, begun: Play) -> None:
    for more in (
        {"role": "5", "kind": "screen", "at": [2.45, 2.8], "other": "4"},
        {"role": "4", "kind": "cut", "at": [-2.45, 2.8], "cut": "straight"},
        {"role": "2", "kind": "cut", "at": [0, 8.5]},
        {"role": "3", "kind": "hold"},
    ):
        answer = gesture(keeper, begun, do="act", phase="entry", **more)
        assert answer.status_code == 302, answer.content
    value = newest(begun).value()
    assert [each.id for each in value.actions()] == ["5-screen", "4-cut", "2-cut", "3-hold"]
    assert problems(value) == ()
    assert begun.revisions.count() == 1
    shown = keeper.get(answer.headers["Location"]).content.decode()
    assert "strip-wide" in shown
    assert "Cut to" in shown
    assert newest(begun).content_hash in shown


def test_nothing_can_be_chosen_before_the_script_listens(keeper: Client, begun: Play) -> None:
    """A gesture made while the page loads would be lost without a word."""
    shown = keeper.get(reverse("draw-play", args=[begun.key])).content.decode()
    assert re.search(r'<fieldset class="chips" id="what" disabled>', shown)
    assert "One moment: the court is not ready yet." in shown


def test_a_phase_is_renamed_and_an_easy_decoy_is_a_tap(keeper: Client, begun: Play) -> None:
    cut = {"role": "2", "kind": "cut", "at": [0, 8.5], "cut": "straight"}
    gesture(keeper, begun, do="act", phase="entry", **cut)
    gesture(keeper, begun, do="rename", phase="entry", title="Over the top")
    answer = gesture(keeper, begun, do="how", action="2-cut", easy=True, decoy=True)
    value = newest(begun).value()
    assert value.phases[0].title == "Over the top"
    assert (value.actions()[0].easy, value.actions()[0].decoy, value.looks) == (True, True, ())
    shown = keeper.get(answer.headers["Location"]).content.decode()
    assert "at an easy pace" in shown
    assert gesture(keeper, begun, do="rename", phase="entry", title="").status_code == 422


def test_a_gesture_sent_twice_happens_once(keeper: Client, begun: Play) -> None:
    seen, token = newest(begun).content_hash, str(uuid.uuid4())
    for _ in range(2):  # the first answer was lost on the way
        more = {"do": "act", "phase": "entry", "role": "2", "kind": "cut", "at": [0, 8.5]}
        answer = gesture(keeper, begun, _seen=seen, _once=token, **more)
        assert answer.status_code == 302
    assert len(newest(begun).value().actions()) == 1


def test_two_editors_are_told(keeper: Client, begun: Play) -> None:
    seen = newest(begun).content_hash
    assert gesture(keeper, begun, do="place", role="2", at=[1, 6]).status_code == 302
    kept = newest(begun).content_hash
    answer = gesture(keeper, begun, _seen=seen, do="place", role="3", at=[-1, 6])
    assert answer.status_code == 409
    assert answer.content.decode() == "Somebody changed this play meanwhile."
    assert newest(begun).content_hash == kept


@pytest.mark.parametrize(
    ("more", "status"),
    [
        ({"do": "place", "role": "2", "at": [12, 6]}, 422),
        ({"do": "act", "phase": "entry", "role": "2", "kind": "pass", "other": "3"}, 422),
        ({"do": "act", "phase": "gone", "role": "2", "kind": "hold"}, 422),
        ({"do": "remove", "action": "gone"}, 422),
        ({"do": "place", "role": "6", "at": [1, 6]}, 400),
        ({"do": "place", "role": "2", "at": [1]}, 400),
        ({"do": "dance"}, 400),
        ({"do": ["place"]}, 400),
        ({"do": "restore", "play": {}}, 400),
        ({"_text": "[" * 20_000}, 400),
        ({"_text": '{"do": "place", "role": "2", "at": [NaN, 1]}'}, 400),
        ({"_text": "7"}, 400),
    ],
)
def test_what_does_not_fit_is_told_and_changes_nothing(
    keeper: Client, begun: Play, more: dict[str, Any], status: int
) -> None:
    before = newest(begun).content_hash
    answer = gesture(keeper, begun, **more)
    assert answer.status_code == status
    assert answer.content
    assert newest(begun).content_hash == before


def test_a_circle_of_cues_is_kept_and_told_beside_the_court(keeper: Client, begun: Play) -> None:
    gesture(keeper, begun, do="act", phase="entry", role="2", kind="cut", at=[0, 8.5])
    gesture(keeper, begun, do="act", phase="entry", role="3", kind="cut", at=[0, 3])
    for one, other in (("2-cut", "3-cut"), ("3-cut", "2-cut")):
        cue = {"on": "end", "action": other}
        assert gesture(keeper, begun, do="cue", action=one, cue=cue).status_code == 302
    shown = keeper.get(reverse("draw-play", args=[begun.key])).content.decode()
    assert "Still missing:" in shown
    assert "wait for" in shown


def test_a_counter_is_drawn_and_undone(keeper: Client, begun: Play) -> None:
    gesture(keeper, begun, do="act", phase="entry", role="4", kind="cut", at=[-2.45, 2.8])
    before = to_json(newest(begun).value())
    answer = gesture(keeper, begun, do="counter", defence="switch", phase="entry", says="They")
    assert "counter=switch" in answer.headers["Location"]
    act = {"phase": "entry", "role": "5", "kind": "cut", "at": [0, 1.6], "cut": "slip"}
    assert gesture(keeper, begun, _counter="switch", do="act", **act).status_code == 302
    (counter,) = newest(begun).value().counters
    assert [each.id for each in counter.add] == ["5-cut"]
    shown = keeper.get(answer.headers["Location"]).content.decode()
    assert "Remove this counter" in shown
    assert gesture(keeper, begun, do="restore", play=before).status_code == 302
    assert to_json(newest(begun).value()) == before


def test_a_published_play_gets_a_draft_and_keeps_its_ids(keeper: Client, cast: Cast) -> None:
    current = cast.play.current
    assert current is not None
    start = current.value().starts[1]
    answer = gesture(keeper, cast.play, do="place", role=start.role, at=[0.5, 7])
    assert answer.status_code == 302
    draft = newest(cast.play)
    assert draft.published_at is None
    assert [a.id for a in draft.value().actions()] == [a.id for a in current.value().actions()]


def test_every_play_of_the_library_can_be_opened_on_the_court(keeper: Client, cast: Cast) -> None:
    for play in Play.objects.all():
        value = newest(play).value()
        for number in range(1, len(value.phases) + 1):
            for counter in ("", *(each.id for each in value.counters)):
                query = {"phase": str(number), "counter": counter}
                page = keeper.get(reverse("drawn-play", args=[play.key]), query).content.decode()
                assert len(re.findall(r'class="piece"', page)) == 5


def test_a_remedy_is_one_gesture_and_the_finding_is_gone(keeper: Client) -> None:
    play = demo_play("gangway")
    late = with_cues(play, play.looks[0].action, Cue(Moment.SIGNAL, wait=4.5))
    found = factories.published(replace(late, key="late", name="Late"))
    path = reverse("judged-play", args=[found.key])
    commands = [
        each.command for each in keeper.get(path).context["judged"].findings if each.command
    ]
    assert gesture(keeper, found, _text=commands[0]).status_code == 302
    assert newest(found).value() != found.published().value()
    after = keeper.get(path).context["judged"].findings
    assert commands[0] not in {each.command for each in after}


def test_a_remedy_in_a_counter_changes_the_counter_alone(keeper: Client, begun: Play) -> None:
    """When they switch, the cut goes off by the clock, too late for the count of five."""
    for more in (
        {"role": "5", "kind": "screen", "at": [2.45, 2.8], "other": "4"},
        {"role": "4", "kind": "cut", "at": [-2.45, 2.8], "cut": "straight"},
    ):
        gesture(keeper, begun, do="act", phase="entry", **more)
    gesture(keeper, begun, do="counter", defence="switch", phase="entry", says="They switch")
    within = {"_counter": newest(begun).value().counters[0].id}
    late = {"on": "signal", "wait": 4.5}
    answer = gesture(keeper, begun, do="cue", action="4-cut", cue=late, **within)
    assert answer.status_code == 302
    before = newest(begun).value()
    path, query = reverse("judged-play", args=[begun.key]), {"counter": within["_counter"]}
    commands = [
        each.command for each in keeper.get(path, query).context["judged"].findings if each.command
    ]
    assert gesture(keeper, begun, _text=commands[0], **within).status_code == 302
    after = newest(begun).value()
    assert (after.phases, after.looks) == (before.phases, before.looks)
    assert after.counters != before.counters
    again = keeper.get(path, query).context["judged"].findings
    assert commands[0] not in {each.command for each in again}


def test_the_check_follows_the_first_gesture_at_once_and_its_bands_when_the_hand_rests(
    keeper: Client, begun: Play
) -> None:
    path = reverse("judged-play", args=[begun.key])
    assert keeper.get(path).context["judged"] is None  # nothing is drawn yet
    cut = {"role": "2", "kind": "cut", "at": [0, 8.5]}
    answer = gesture(keeper, begun, do="act", phase="entry", **cut)
    shown = keeper.get(answer.headers["Location"])
    drawn = shown.context["drawn"]
    assert drawn.problems  # three do nothing yet: the strip and the looks follow all the same
    assert drawn.strip is not None
    assert [(row.number, row.band) for row in drawn.judged.looks] == [(1, None)]
    assert "data-banded" not in shown.content.decode()
    later = keeper.get(path)
    row = later.context["judged"].looks[0]
    assert row.band.low <= row.band.median <= row.band.high
    assert f"open {row.open} times in 100" in " ".join(later.content.decode().split())
    assert "idle" not in {each.row.finding.code for each in later.context["judged"].findings}


def test_a_counter_is_judged_against_what_it_answers(keeper: Client) -> None:
    key, value = "steps", demo_play("gangway")
    factories.published(replace(value, key=key, name="Steps"))
    counter = value.counters[0]
    found = {}
    for shown in ("", counter.id):
        judged = keeper.get(reverse("judged-play", args=[key]), {"counter": shown}).context[
            "judged"
        ]
        found[shown] = judged.against
    assert found[counter.id] == defence_words(counter.defence.value, ENGLISH, counter.whose)
    assert found[""] != found[counter.id]


def test_a_play_whose_clock_cannot_run_is_not_judged(keeper: Client, begun: Play) -> None:
    for more in (
        {"role": "5", "kind": "screen", "at": [2.45, 2.8], "other": "4"},
        {"role": "4", "kind": "cut", "at": [-2.45, 2.8], "cut": "straight"},
    ):
        gesture(keeper, begun, do="act", phase="entry", **more)
    cue = {"on": "end", "action": "4-cut"}
    gesture(keeper, begun, do="cue", action="5-screen", cue=cue)
    answer = keeper.get(reverse("judged-play", args=[begun.key]))
    assert answer.context["judged"] is None
    assert "What the check says" not in answer.content.decode()


def test_a_circle_of_waits_is_told_at_each_of_its_lines(keeper: Client, begun: Play) -> None:
    steps = (
        {"role": "5", "kind": "screen", "at": [2.45, 2.8], "other": "4"},
        {"role": "4", "kind": "cut", "at": [-2.45, 2.8], "cut": "straight"},
        {"role": "2", "kind": "cut", "at": [0, 8.5]},
    )
    for more in steps:
        gesture(keeper, begun, do="act", phase="entry", **more)
    answer = gesture(
        keeper, begun, do="cue", action="5-screen", cue={"on": "end", "action": "4-cut"}
    )
    drawn = keeper.get(answer.headers["Location"]).context["drawn"]
    assert [line.role for line in drawn.lines if line.fault] == ["5", "4"]
    assert "5-screen" not in " ".join(each.sentence for each in drawn.problems)


def test_looks_stand_in_their_order(keeper: Client, begun: Play) -> None:
    for role, place in (("2", [0, 8.5]), ("3", [5, 2.8])):
        gesture(keeper, begun, do="act", phase="entry", role=role, kind="cut", at=place)
    answer = gesture(keeper, begun, do="looks", actions=["3-cut", "2-cut"])
    looks = keeper.get(answer.headers["Location"]).context["drawn"].looks
    assert [each.label[:4] for each in looks] == ["1. 3", "2. 2"]


def test_both_have_left_is_two_taps(keeper: Client, begun: Play) -> None:
    for more in (
        {"role": "5", "kind": "cut", "at": [6.9, 1.2]},
        {"role": "4", "kind": "cut", "at": [-6.9, 1.2]},
        {"role": "2", "kind": "cut", "at": [2.45, 2.8]},
    ):
        answer = gesture(keeper, begun, do="act", phase="entry", **more)

    def tap(group: str, words: str) -> _MonkeyPatchedWSGIResponse:
        line = keeper.get(answer.headers["Location"]).context["drawn"].lines[2]
        choices = [each for each in getattr(line, group) if words in each.label]
        return gesture(keeper, begun, _text=choices[0].command)

    assert not keeper.get(answer.headers["Location"]).context["drawn"].lines[2].more
    tap("cues", "the 5 has left their place")
    answer = tap("more", "also until the 4 has left their place")
    waits = newest(begun).value().actions()[2].cues
    assert waits == (Cue(Moment.HAS_LEFT, "5-cut"), Cue(Moment.HAS_LEFT, "4-cut"))
    said = " ".join(keeper.get(answer.headers["Location"]).context["drawn"].lines[2].said)
    assert "the 5 has left" in said
    assert "the 4 has left" in said


def test_a_second_thing_for_one_person_is_told_at_once_and_at_its_line(
    keeper: Client, begun: Play
) -> None:
    """Nothing is lost: it follows on the first."""
    steps: tuple[dict[str, Any], ...] = (
        {"role": "5", "kind": "screen", "at": [2.45, 2.8], "other": "4"},
        {"role": "4", "kind": "cut", "at": [-2.45, 2.8]},
        {"role": "2", "kind": "cut", "at": [0, 8.5]},
        {"role": "3", "kind": "hold"},
        {"role": "5", "kind": "cut", "at": [6.9, 1.2]},
    )
    for more in steps:
        answer = gesture(keeper, begun, do="act", phase="entry", **more)
    shown = keeper.get(answer.headers["Location"])
    assert "The 5 does this next, after what they do already." in shown.content.decode()
    assert not any(line.note for line in shown.context["drawn"].lines)
    answer = gesture(keeper, begun, do="cue", action="5-cut", cue={"on": "signal"})
    lines = keeper.get(answer.headers["Location"]).context["drawn"].lines
    assert [line.id for line in lines if line.note] == ["5-cut"]
    assert len(lines) == len(steps)


def test_a_gate_is_one_gesture_over_http(keeper: Client, begun: Play) -> None:
    answer = gesture(keeper, begun, do="gate", phase="entry", posts=["2", "3"], title="Through")
    value = newest(begun).value()
    assert [phase.title for phase in value.phases][1:] == ["Through"]
    assert "The gate opens here" in keeper.get(answer.headers["Location"]).content.decode()
    before = newest(begun).content_hash
    for posts in (["2", "2"], ["1", "2"]):
        assert gesture(keeper, begun, do="gate", phase="entry", posts=posts).status_code == 422
    assert gesture(keeper, begun, do="gate", phase="entry", posts=["2"]).status_code == 400
    assert newest(begun).content_hash == before


def test_who_does_nothing_holds_with_a_tap(keeper: Client, begun: Play) -> None:
    answer = gesture(keeper, begun, do="act", phase="entry", role="2", kind="cut", at=[0, 8.5])
    drawn = keeper.get(answer.headers["Location"]).context["drawn"]
    assert [each.label for each in drawn.resting] == ["1 holds", "3 holds", "4 holds", "5 holds"]
    for _ in range(4):
        answer = gesture(keeper, begun, _text=drawn.resting[0].command)
        drawn = keeper.get(answer.headers["Location"]).context["drawn"]
    assert drawn.resting == ()
    assert problems(newest(begun).value()) == ()
