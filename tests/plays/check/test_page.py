"""The check page of a play: what it says is what the check computes, whoever asks and how."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html import unescape

import pytest
from django.template.defaultfilters import floatformat
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.check.check import Report
from plays.core.check.remedy import Fix, apply_remedy
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.play import AgeGroup, Cue, Moment
from plays.core.play import Play as PlayValue
from plays.library.changes import save_draft
from plays.models import Play, Revision
from tests.cast import Cast
from tests.plays.core.samples import with_cues


def report_of(value: PlayValue, age: AgeGroup, defence: str = "") -> Report:
    return checked(value, Setting(age, defence=defence or usual_defence(value)))


def late_play() -> PlayValue:
    """Gangway, with the first look's cutter told to wait until it is past the count."""
    play = demo_play("gangway")
    late = with_cues(play, play.looks[0].action, Cue(Moment.SIGNAL, wait=4.5))
    return replace(late, key="late-gangway", name="Late Gangway")


@pytest.fixture
def late(db: None) -> Play:
    return factories.published(late_play())


def text_of(content: bytes) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", content.decode())).split())


@pytest.mark.parametrize("key", ["breakwater", "gangway", "tow-rope", "open-water"])
def test_it_shows_every_finding_of_the_check(key: str, cast: Cast) -> None:
    value = demo_play(key)
    if key != cast.play.key:
        factories.published(value)
    answer = cast.client(cast.assistant).get(reverse("check", args=[key]), {"age": "U12"})
    said = text_of(answer.content)
    report = report_of(value, AgeGroup.U12)
    for finding in report.findings:
        assert finding.sentence in said
        assert finding.remedy in said
        assert finding.source in said
    codes = re.findall(rb'data-code="([a-z_]+)"', answer.content)
    assert [code.decode() for code in codes] == [f.code for f in report.findings]


@pytest.mark.parametrize(
    ("asked", "age", "defence"),
    [
        ({}, AgeGroup.U14, ""),
        ({"age": "adult", "defence": "switch"}, AgeGroup.ADULT, "switch"),
        ({"age": "U10", "defence": "sag"}, AgeGroup.U10, "sag"),
        ({"age": "nobody", "defence": "sleep"}, AgeGroup.U14, ""),
    ],
)
def test_switches_in_the_address_are_those_of_the_check(
    asked: dict[str, str], age: AgeGroup, defence: str, cast: Cast
) -> None:
    value = cast.play.published().value()
    age = age if "age" in asked and asked["age"] != "nobody" else value.level
    answer = cast.client(cast.head).get(reverse("check", args=[cast.play.key]), asked)
    report = answer.context["view"].report
    expected = report_of(value, age, defence)
    assert (report.age, report.defence) == (expected.age, expected.defence)
    margins = [(v.look, round(v.margin, 6)) for v in report.verdicts]
    assert margins == [(v.look, round(v.margin, 6)) for v in expected.verdicts]
    said = text_of(answer.content)
    for verdict in expected.verdicts:
        assert f"{verdict.margin:.2f} s" in said.replace("−", "-")


def test_the_first_look_says_so_and_asks_for_the_bands(cast: Cast) -> None:
    answer = cast.client(cast.head).get(reverse("check", args=[cast.play.key]))
    said = text_of(answer.content)
    assert "A first answer" in said
    bands = reverse("check-bands", args=[cast.play.key, 1])
    assert f'hx-get="{bands}"' in answer.content.decode()
    for row in answer.context["view"].looks:
        assert row.band is None
        for part in row.parts:
            assert part in said


def test_a_look_shows_its_band_how_often_it_is_there_and_the_coachs_guess(cast: Cast) -> None:
    path = reverse("check-bands", args=[cast.play.key, 1])
    answer = cast.client(cast.head).get(path)
    said = text_of(answer.content)
    assert "A first answer" not in said
    for row in answer.context["looks"]:
        assert row.band.low <= row.band.median <= row.band.high
        assert f"({floatformat(row.band.low, 2)} to {floatformat(row.band.high, 2)})" in said
        assert f"open {row.open} times in 100, open or contested {row.there} times" in said
        if row.guess is not None:
            assert f"{row.guess} %" in said
    assert "it says what they dared, and foretells no success" in said
    assert not re.search(r"chance of (a )?(success|scor)|will succeed|probability", said)
    again = cast.client(cast.head).get(path)
    assert [row.band for row in again.context["looks"]] == [
        row.band for row in answer.context["looks"]
    ]


def test_every_input_is_labelled_and_what_is_left_out_is_said(cast: Cast) -> None:
    answer = cast.client(cast.head).get(reverse("check", args=[cast.play.key]))
    said = text_of(answer.content)
    for word in ("Deception", "Skill", "Contact", "our choice", "derived"):
        assert word in said
    rows = re.findall(
        rb'<td data-label="Where from">\s*<span class="tag">([^<]+)</span>', answer.content
    )
    assert len(rows) > 30
    assert set(rows) <= {b"published", b"measured", b"derived", b"our choice"}


def test_htmx_gets_the_part_and_a_plain_get_the_page(cast: Cast) -> None:
    client = cast.client(cast.head)
    path = reverse("check", args=[cast.play.key])
    whole = client.get(path, {"age": "U12"}).content
    part = client.get(path, {"age": "U12"}, headers={"HX-Request": "true"}).content
    assert b"<!doctype html>" in whole
    assert b"<!doctype html>" not in part
    assert b'id="check"' in part


def test_a_teams_pace_and_people_are_used(cast: Cast) -> None:
    client, path = cast.client(cast.head), reverse("check", args=[cast.play.key])
    before = client.get(path, {"team": cast.team.pk}).context["view"].report
    assert before.age.value == cast.team.age_group
    slow = cast.players[3]  # cast as 4
    slow.sprint_20 = 4.8
    slow.save()
    cast.team.pace = {"constants": {"reaction": 0.5}, "timed": {}}
    cast.team.save()
    answer = client.get(path, {"team": cast.team.pk})
    after = answer.context["view"].report
    assert after.line.pace.reaction == 0.5
    assert after.line.paces["4"].top_speed < after.line.paces["3"].top_speed
    said = text_of(answer.content)
    assert "the team's own" in said
    assert "Mila" in said
    assert f"top speed {after.line.paces['4'].top_speed:.2f} m/s" in said


def test_another_teams_pace_is_not_to_be_had(cast: Cast) -> None:
    cast.team.pace = {"constants": {"reaction": 0.9}, "timed": {}}
    cast.team.save()
    path = reverse("check", args=[cast.play.key])
    answer = cast.client(cast.stranger).get(path, {"team": cast.team.pk})
    assert answer.context["view"].report.line.pace.reaction != 0.9


@pytest.mark.parametrize("key", ["breakwater", "harbour-light"])
def test_a_counter_is_checked_against_what_it_answers(key: str, cast: Cast) -> None:
    factories.published(demo_play(key))
    value = demo_play(key)
    counter = value.counters[0]
    path = reverse("check", args=[key])
    view = cast.client(cast.head).get(path, {"counter": counter.id}).context["view"]
    assert view.run.defence.value == counter.defence.value
    verdict = next(c for c in view.report.counters if c.counter == counter.id)
    assert view.report.line.play.key == key
    assert {v.look for v in view.run.verdicts} >= {v.look for v in verdict.verdicts}


def test_the_motion_is_the_timeline(cast: Cast) -> None:
    path = reverse("check-motion", args=[cast.play.key, 1])
    data = json.loads(cast.client(cast.assistant).get(path, {"age": "U14"}).content)
    line = report_of(cast.play.published().value(), AgeGroup.U14).line
    n = len(data["roles"]["5"]) // 2
    assert n == round(data["end"] * data["hz"]) + 1
    for moment in (0.0, 1.5, 3.0, data["end"]):
        k = round(moment * data["hz"])
        x, y = data["roles"]["5"][2 * k : 2 * k + 2]
        at = line.tracks["5"].at(k / data["hz"])
        assert (x, y) == (pytest.approx(at.real, abs=0.006), pytest.approx(at.imag, abs=0.006))
    assert [m["at"] for m in data["moments"]] == sorted(m["at"] for m in data["moments"])
    assert len(cast.client(cast.assistant).get(path).content) < 60_000


def test_a_moved_play_is_checked_as_it_was_moved(cast: Cast) -> None:
    client, path = cast.client(cast.head), reverse("check", args=[cast.play.key])
    plain = client.get(path).context["view"].report
    turned = client.get(path, {"mirror": "on"})
    report = turned.context["view"].report
    assert report.play.spot != plain.play.spot
    for one, other in zip(plain.verdicts, report.verdicts, strict=True):
        assert one.margin == pytest.approx(other.margin, abs=1e-6)  # a mirror changes no time
    assert b'<input type="hidden" name="mirror" value="on">' in turned.content


def late_looks(value: PlayValue) -> set[tuple[str | None, str | None]]:
    """The looks, of the play and of its counters, that come after the count."""
    findings = report_of(value, AgeGroup.U14).findings
    return {(f.counter, f.look) for f in findings if f.code == "count_over"}


def fix_of(late: Play, code: str) -> Fix:
    report = report_of(late.published().value(), AgeGroup.U14)
    return next(f.fix for f in report.findings if f.code == code and f.fix)


def post_fix(cast: Cast, user: object, late: Play, fix: Fix, seen: str) -> object:
    path = reverse("apply-remedy", args=[late.key, late.published().number])
    data = {"fix": json.dumps(fix.to_json()), "note": "Let the 5 wait less.", "seen": seen}
    return cast.client(user).post(f"{path}?age=U14", data)  # type: ignore[arg-type]


def test_a_remedy_goes_into_a_draft_and_the_finding_is_gone(cast: Cast, late: Play) -> None:
    published = late.published()
    codes = {f.code for f in report_of(published.value(), AgeGroup.U14).findings}
    assert "count_over" in codes
    fix = fix_of(late, "count_over")
    answer = post_fix(cast, cast.keeper, late, fix, published.content_hash)
    draft = late.revisions.get(published_at=None)
    assert answer.url == reverse("check-revision", args=[late.key, draft.number]) + "?age=U14"  # type: ignore[attr-defined]
    assert draft.value() == apply_remedy(published.value(), fix)
    assert draft.note == "Let the 5 wait less."
    assert late_looks(draft.value()) < late_looks(published.value())
    assert Revision.objects.get(pk=published.pk).content_hash == published.content_hash
    shown = cast.client(cast.keeper).get(answer.url)  # type: ignore[attr-defined]
    assert shown.content.count(b'data-code="count_over"') == len(late_looks(draft.value()))


def test_a_remedy_is_refused_to_readers_to_old_pages_and_to_nonsense(
    cast: Cast, late: Play
) -> None:
    published = late.published()
    fix = fix_of(late, "count_over")
    refused = post_fix(cast, cast.head, late, fix, published.content_hash)
    assert refused.status_code == 403  # type: ignore[attr-defined]
    save_draft(late, replace(published.value(), use="Something else"), cast.keeper)
    before = late.revisions.get(published_at=None).content_hash
    post_fix(cast, cast.keeper, late, fix, published.content_hash)
    assert late.revisions.get(published_at=None).content_hash == before
    client, path = cast.client(cast.keeper), reverse("apply-remedy", args=[late.key, 1])
    for wrong in ("", "[]", '{"action": 1}', '{"action": null, "later": 1e9, "looks": []}', "{"):
        answer = client.post(path, {"fix": wrong, "seen": before})
        assert answer.status_code == 302
    unknown = Fix(action="nobody", later=0.5)
    post_fix(cast, cast.keeper, late, unknown, before)
    assert late.revisions.get(published_at=None).content_hash == before


def test_only_keepers_see_the_button(cast: Cast, late: Play) -> None:
    path = reverse("check", args=[late.key])
    button = b"Apply in a draft"
    assert button in cast.client(cast.keeper).get(path, {"age": "U14"}).content
    assert button not in cast.client(cast.head).get(path, {"age": "U14"}).content


def test_a_play_with_faults_says_so_instead(cast: Cast) -> None:
    value = replace(cast.play.published().value(), looks=())
    action = value.phases[0].actions[0]
    circle = replace(action, cues=(Cue(Moment.END, action.id),))
    phases = (replace(value.phases[0], actions=(circle, *value.phases[0].actions[1:])),)
    draft = save_draft(cast.play, replace(value, phases=(*phases, *value.phases[1:])), cast.keeper)
    path = reverse("check-revision", args=[cast.play.key, draft.number])
    answer = cast.client(cast.keeper).get(path)
    assert answer.status_code == 200
    assert b"cannot be checked yet" in answer.content
    motion = reverse("check-motion", args=[cast.play.key, draft.number])
    assert cast.client(cast.keeper).get(motion).status_code == 422
    assert cast.client(cast.head).get(path).status_code == 404
