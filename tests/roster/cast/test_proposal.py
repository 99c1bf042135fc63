"""A proposed cast: the worker beside the requests, changes one by one, locks, and old searches."""

from __future__ import annotations

import re
import time
from datetime import timedelta

import pytest
from django.utils import timezone

from coachbook.demo import factories
from roster.cast.loaded import team_cast
from roster.cast.proposals import (
    ask,
    key_of,
    open_proposal,
    proposed_cast,
    question_for,
    read_change,
    suggestions,
    written,
)
from roster.cast.search import CHANGED
from roster.core.casting.faults import cast_problems
from roster.core.casting.score import score
from roster.models import CastBan, CastLock, CastProposal, CastStep, Player
from shared import worker
from shared.worker import MOST_STARTS, SILENT
from tests.cast import Cast, make_cast

PATIENCE = 60.0  # seconds for a search that takes two by itself, on a machine with other work


@pytest.fixture
def waited(working: None) -> Cast:
    """A cast whose rows other threads see."""
    return make_cast()


def finished(cast: Cast) -> CastProposal:
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        found = CastProposal.objects.get()
        if found.state != "running":
            return found
        time.sleep(0.1)
    raise AssertionError("the search did not end")


def rate(cast: Cast) -> None:
    """Runa is the best in everything."""
    for player in Player.objects.filter(team=cast.team):
        rating = 5 if player.name == "Runa" else 3
        for quality in ("passing", "strength", "speed", "finishing", "shooting", "screening"):
            setattr(player, quality, rating)
        player.save()


def test_the_whole_way_from_asking_to_undoing(waited: Cast) -> None:
    client, team = waited.client(waited.head), waited.team.pk
    rate(waited)
    client.post(f"/teams/{team}/cast/propose/", {"depth": "2"})
    assert CastProposal.objects.get().answer, "each play by itself is answered at once"
    done = finished(waited)
    assert (done.state, done.ending) == ("done", "proved")
    assert done.value >= done.quick_value - 1e-9

    known = team_cast(waited.team)
    question = question_for(known, 2)
    proposed = proposed_cast(done, known)
    assert not cast_problems(proposed)
    assert score(question, proposed).total == pytest.approx(done.value, abs=1e-6)
    text = client.get(f"/teams/{team}/cast/").content.decode()
    assert "Nothing better exists" in text
    assert "suggested:" in text

    before = {c.value() for c in waited.entry.castings.all()}
    one, *_ = suggestions(done, known, question)
    client.post(f"/teams/{team}/cast/accept/", {"change": one.written})
    after = {c.value() for c in waited.entry.castings.all()}
    assert {c.slot: c.after for c in one.changes if c.after} == {
        a.slot: a.player for a in after - before
    }
    rest = suggestions(done, team_cast(waited.team), question)
    client.post(
        f"/teams/{team}/cast/accept/", {"change": [text for each in rest for text in each.written]}
    )
    assert set(team_cast(waited.team).cast.assignments) == set(proposed.assignments)
    for step in CastStep.objects.order_by("-pk"):
        client.post(f"/teams/{team}/cast/undo/", {"step": step.pk})
    assert {c.value() for c in waited.entry.castings.all()} == before


def test_a_conflict_of_locks_is_named(waited: Cast) -> None:
    ida = waited.players[0]
    for role in ("1", "2"):
        CastLock.objects.create(entry=waited.entry, role=role, depth=1, player=ida)
    client, team = waited.client(waited.head), waited.team.pk
    said = "Ida is locked in roles 1 and 2 of Gangway Zoë, and would be in all of them at once."
    assert said in client.get(f"/teams/{team}/cast/wishes/").content.decode()
    client.post(f"/teams/{team}/cast/propose/")
    assert finished(waited).ending == "conflict"
    text = client.get(f"/teams/{team}/cast/").content.decode()
    assert said in text
    assert "Accept" not in text


def test_stopping_keeps_what_was_found(waited: Cast) -> None:
    client, team = waited.client(waited.head), waited.team.pk
    client.post(f"/teams/{team}/cast/propose/")
    client.post(f"/teams/{team}/cast/stop/")
    assert finished(waited).state in {"cancelled", "done"}
    assert CastProposal.objects.get().answer
    client.post(f"/teams/{team}/cast/stop/")
    assert open_proposal(waited.team) is None


@pytest.mark.django_db(transaction=True)
def test_a_question_that_was_changed_before_the_search_keeps_the_quick_answer() -> None:
    cast = make_cast()
    proposal = ask(cast.team, cast.head, 2)
    rate(cast)
    worker.perform(proposal)
    proposal.refresh_from_db()
    assert (proposal.state, proposal.fault) == ("failed", CHANGED)
    assert proposal.answer
    text = cast.client(cast.head).get(f"/teams/{cast.team.pk}/cast/").content.decode()
    assert "The search ended early" in text


def fall_silent() -> None:
    CastProposal.objects.update(beat_at=timezone.now() - SILENT - timedelta(seconds=1))


def test_a_search_that_died_is_begun_again_and_then_said_to_have_ended(cast: Cast) -> None:
    proposal = ask(cast.team, cast.head, 2)
    for start in range(2, MOST_STARTS + 1):
        fall_silent()
        text = cast.client(cast.head).get(f"/teams/{cast.team.pk}/cast/").content.decode()
        assert "The search ended early" not in text
        proposal.refresh_from_db()
        assert (proposal.state, proposal.starts) == ("running", start)
    fall_silent()
    text = cast.client(cast.head).get(f"/teams/{cast.team.pk}/cast/").content.decode()
    assert "The search ended early" in text
    proposal.refresh_from_db()
    assert proposal.state == "failed"


def test_asking_twice_is_one_search(cast: Cast) -> None:
    first = ask(cast.team, cast.head, 2)
    assert ask(cast.team, cast.runner, 3) == first


def test_what_another_coach_changed_meanwhile_is_not_overwritten(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/cast/accept/"
    noor, pia = cast.players[1], cast.players[6]
    stale = f"{cast.entry.pk}.1.1:{noor.pk}>{pia.pk}"  # Ida is there, not Noor
    response = client.post(path, {"change": stale}, follow=True)
    assert "nothing was overwritten" in response.content.decode()
    for other in (cast.other_player.pk, 10**15):  # of another team, of none
        text = f"{cast.entry.pk}.1.1:{cast.players[0].pk}>{other}"
        client.post(path, {"change": text})
    assert cast.entry.castings.get(role="1", depth=1).player == cast.players[0]
    assert not CastStep.objects.exists()


def test_a_suggestion_turned_down_stays_away(cast: Cast) -> None:
    rate(cast)
    proposal = ask(cast.team, cast.head, 2)
    known = team_cast(cast.team)
    question = question_for(known, 2)
    first, *rest = suggestions(proposal, known, question)
    form = {"change": first.written, "decline": "1"}
    cast.client(cast.head).post(f"/teams/{cast.team.pk}/cast/accept/", form)
    proposal.refresh_from_db()
    left = suggestions(proposal, team_cast(cast.team), question)
    assert [each.key for each in left] == [each.key for each in rest]
    assert key_of(first.changes) not in {each.key for each in left}


def test_a_change_survives_the_form(cast: Cast) -> None:
    rate(cast)
    proposal = ask(cast.team, cast.head, 3)
    known = team_cast(cast.team)
    for each in suggestions(proposal, known, question_for(known, 3)):
        assert tuple(read_change(text) for text in each.written) == each.changes
        assert tuple(written(change) for change in each.changes) == each.written
    assert read_change("1.6.1:2>3") is None


def test_locks_bans_units_and_pairs_reach_the_question(cast: Cast) -> None:
    ida, noor, pia = cast.players[0], cast.players[1], cast.players[6]
    client, team = cast.client(cast.head), cast.team.pk
    lock = {"lock-player": pia.pk, "lock-entry": cast.entry.pk, "lock-role": "2", "lock-depth": "0"}
    client.post(f"/teams/{team}/cast/wishes/", {"kind": "lock", **lock})
    client.post(f"/teams/{team}/cast/wishes/", {"kind": "ban", "ban-player": noor.pk})
    client.post(
        f"/teams/{team}/minutes/", {"kind": "apart", "apart-one": ida.pk, "apart-other": pia.pk}
    )
    form = {"call": "Gangway", "priority": "1", "unit": cast.unit.pk}
    client.post(f"/package/{cast.entry.pk}/", form)
    question = question_for(team_cast(cast.team), 2)
    assert question.locks[0] == (pia.pk, cast.entry.pk, "2", None)
    assert question.bans[0] == (noor.pk, None, None)
    assert question.never_together == ((ida.pk, pia.pk),)
    assert set(question.plays[0].unit) == {player.pk for player in cast.players[:5]}
    assert not question.allowed[question.player_index[noor.pk]].any()
    assert ask(cast.team, cast.head, 2).quick_value != 0
    assert noor.pk not in {row[3] for row in CastProposal.objects.get().answer}


def test_the_same_lock_or_ban_twice_is_refused(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/cast/wishes/"
    ban = {"kind": "ban", "ban-player": cast.players[0].pk}
    assert client.post(path, ban).status_code == 302
    assert client.post(path, ban).status_code == 422
    assert CastBan.objects.count() == 1
    client.post(path, {"remove-ban": CastBan.objects.get().pk})
    assert not CastBan.objects.exists()


def test_an_answer_to_another_question_is_said_to_be_old(cast: Cast) -> None:
    ask(cast.team, cast.head, 2)
    factories.PlayerFactory.create(team=cast.team, number="77")
    text = cast.client(cast.head).get(f"/teams/{cast.team.pk}/cast/").content.decode()
    assert "Put it away and ask again" in text


def proposed_without_the_last(cast: Cast) -> tuple[CastProposal, list[str]]:
    """A running search whose answer so far puts the five first and nobody else anywhere."""
    proposal = ask(cast.team, cast.head, 2)
    proposal.answer = [
        [cast.entry.pk, str(role), 1, player.pk]
        for role, player in enumerate((*cast.players[1:5], cast.players[0]), start=1)
    ]
    proposal.save()
    known = team_cast(cast.team)
    found = suggestions(proposal, known, question_for(known, 2))
    return proposal, [text for each in found for text in each.written]


def test_who_would_be_without_a_part_is_asked_by_name_while_the_search_runs(cast: Cast) -> None:
    _, changes = proposed_without_the_last(cast)
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/cast/accept/"
    before = set(team_cast(cast.team).cast.assignments)
    answer = client.post(path, {"change": changes, "whole": "1"})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "The search is still running" in text
    left = [*cast.players[5:]]
    assert all(player.name in text for player in left)
    assert set(team_cast(cast.team).cast.assignments) == before, "nothing is accepted yet"
    sent = {"change": changes, "whole": "1", "without": [player.pk for player in left]}
    assert client.post(path, sent).status_code == 302
    assert {a.player for a in team_cast(cast.team).cast.assignments} == {
        player.pk for player in cast.players[:5]
    }


def test_whom_the_page_names_after_the_search_is_not_asked_again(cast: Cast) -> None:
    proposal, changes = proposed_without_the_last(cast)
    CastProposal.objects.filter(pk=proposal.pk).update(state="done")
    client = cast.client(cast.head)
    text = client.get(f"/teams/{cast.team.pk}/cast/").content.decode()
    said = re.findall(r'name="without" value="(\d+)"', text)
    assert {int(pk) for pk in said} == {player.pk for player in cast.players[5:]}
    assert "Left out, without a single place in the proposal" in text
    sent = {"change": changes, "whole": "1", "without": said}
    assert client.post(f"/teams/{cast.team.pk}/cast/accept/", sent).status_code == 302


def test_one_change_that_takes_somebodys_only_part_is_asked_too(cast: Cast) -> None:
    """Second in role 5 is all that the sixth has; those who have none already are not named."""
    sixth, seventh = cast.players[5], cast.players[6]
    change = f"{cast.entry.pk}.5.2:{sixth.pk}>"
    answer = cast.client(cast.head).post(f"/teams/{cast.team.pk}/cast/accept/", {"change": change})
    said = answer.content.decode().partition("place in the cast:")[2].partition("</p>")[0]
    assert answer.status_code == 422
    assert sixth.name in said
    assert seventh.name not in said
