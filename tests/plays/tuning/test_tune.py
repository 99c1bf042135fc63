"""The page of tuning: limits in, a search in the background, a draft out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from functools import partial

import pytest
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.motion.pace import pace_of
from plays.core.play import Play as PlayValue
from plays.core.play import Swap, Variant
from plays.core.tune.calls import TunedCall
from plays.core.tune.changes import Plan, Shift, applied
from plays.core.tune.gain import compared, effects
from plays.core.tune.tune import Tuned, tune
from plays.core.tune.worth import Judge
from plays.library.changes import save_draft
from plays.models import Revision, Tuning
from plays.tuning.work import answer_of, found_to_json
from plays.values import play_value
from shared.worker import Work, perform
from tests.cast import Cast

LIMITS = {"start": "0.5", "screen": "0.5", "wait": "0.5", "reads": "on"}
PLAN: Plan = (Shift("screen", "four-screens-five", 1, 1), Shift("start", "5", 2, 0))


def address(cast: Cast, name: str = "tune") -> str:
    return reverse(name, args=[cast.play.key])


def ask(cast: Cast, **said: object) -> Tuning:
    response = cast.client(cast.keeper).post(address(cast), {**LIMITS, **said})
    assert response.status_code == 302
    return Tuning.objects.get()


def shown(cast: Cast) -> str:
    return cast.client(cast.keeper).get(address(cast)).content.decode()


def answer(cast: Cast, plan: Plan = PLAN) -> Tuning:
    """A search that has ended with this plan."""
    run = ask(cast)
    play = play_value(run.revision)
    judge = Judge(pace_of(play.level), {}, tuple(look.id for look in play.looks))
    new = applied(play, plan)
    told = compared(play, new, judge, 16)
    found = Tuned(new, plan, effects(play, plan, judge), told, spent=1, stopped=False)
    run.update(state=Tuning.State.DONE, found=found_to_json(found))
    return run.read_again()


def test_what_was_asked_is_searched_for_once(
    cast: Cast,
    spawned: Sequence[Work],
    django_capture_on_commit_callbacks: Callable[..., AbstractContextManager[object]],
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        one = ask(cast, fixed=["2", "3"], looks=["corner"], age="U12")
    again = ask(cast)
    assert one.pk == again.pk
    assert [row.pk for row in spawned] == [one.pk]
    assert one.question["limits"]["fixed"] == ["2", "3"]
    assert (one.question["age"], one.question["looks"]) == ("U12", ["corner"])
    assert "Searching in the background" in shown(cast)


@pytest.mark.django_db(transaction=True)  # the beat reads the row from a thread of its own
def test_the_worker_leaves_what_it_found_in_the_row(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("plays.tuning.work.tune", partial(tune, budget=60, drawn=16))
    run = ask(cast, start="0.25", screen="0", wait="0", reads="")
    perform(run)
    run = run.read_again()
    assert (run.state, run.share) == (Tuning.State.DONE, 1.0)
    found = answer_of(run)
    assert found is not None
    assert len(found.effects) == len(found.plan)
    assert {len(bands) for bands in found.compared.after.values()} == {4}


def test_a_search_can_be_stopped(cast: Cast) -> None:
    run = ask(cast)
    client = cast.client(cast.keeper)
    assert client.post(address(cast, "stop-tuning")).status_code == 302
    assert run.read_again().stop_asked
    assert "Stopping" in client.get(address(cast, "tune-progress")).content.decode()


def test_the_answer_is_told_in_the_words_of_the_trade(cast: Cast) -> None:
    answer(cast)
    page = shown(cast)
    assert "The 5 starts half a metre nearer the" in page
    assert "sets the screen for the 5 a quarter of a metre" in page
    assert "times in 100" in page
    assert page.count("<figure") >= 2
    assert page.count("<figure") % 2 == 0


def test_an_answer_without_changes_says_so(cast: Cast) -> None:
    answer(cast, ())
    page = shown(cast)
    assert "Nothing within these limits" in page
    assert "Keep as a draft" not in page


def kept(cast: Cast) -> PlayValue:
    response = cast.client(cast.keeper).post(address(cast, "keep-tuned"))
    draft = Revision.objects.get(published_at=None)
    assert response["Location"] == reverse("revision", args=[cast.play.key, draft.number])
    return play_value(draft)


def test_keeping_makes_a_draft_once_and_leaves_what_is_published(cast: Cast) -> None:
    run = answer(cast)
    before = play_value(run.revision)
    tuned = kept(cast)
    assert tuned == applied(before, PLAN)
    assert kept(cast) == tuned
    assert Revision.objects.filter(play=cast.play).count() == 2
    cast.play.refresh_from_db()
    assert play_value(cast.play.published()) == before


def test_a_play_that_was_changed_meanwhile_is_not_overwritten(cast: Cast) -> None:
    run = answer(cast)
    other = applied(play_value(run.revision), (Shift("start", "4", 1, 0),))
    save_draft(cast.play, other, cast.keeper)
    response = cast.client(cast.keeper).post(address(cast, "keep-tuned"), follow=True)
    assert "has been changed since" in response.content.decode()
    assert play_value(Revision.objects.get(published_at=None)) == other


def test_a_draft_that_was_changed_since_is_not_spoken_of(cast: Cast) -> None:
    save_draft(cast.play, applied(play_value(cast.play.published()), PLAN[:1]), cast.keeper)
    answer(cast, PLAN[1:])
    other = applied(play_value(cast.play.published()), (Shift("start", "4", 1, 0),))
    save_draft(cast.play, other, cast.keeper)
    page = shown(cast)
    assert "has changed since it was tuned" in page
    assert "Keep as a draft" not in page


def test_what_cannot_be_read_is_said_at_its_place(cast: Cast) -> None:
    response = cast.client(cast.keeper).post(address(cast), {**LIMITS, "start": "99"})
    assert response.status_code == 422
    assert not Tuning.objects.exists()


def test_only_keepers_may_keep(cast: Cast) -> None:
    answer(cast)
    for name in ("keep-tuned", "stop-tuning"):
        assert cast.client(cast.head).post(address(cast, name)).status_code == 403
    assert not Revision.objects.filter(published_at=None).exists()


def test_each_call_is_tuned_for_itself_and_kept_in_the_one_play(cast: Cast) -> None:
    mirrored = Variant("Far {5}", swaps=(Swap("2", "3"),), mirror=True)
    play = replace(demo_play("gangway"), key="quay", name="Quay", variants=(mirrored,))
    row, client = factories.published(play, cast.keeper), cast.client(cast.keeper)
    path = reverse("tune", args=["quay"])
    form = client.get(f"{path}?called=1").content.decode()
    assert "on all 2 calls alike" in form
    assert 'aria-current="true">Far 5</a>' in form
    assert client.post(f"{path}?called=1", LIMITS).status_code == 302
    run = Tuning.objects.get()
    assert run.question["call"] == 1
    tuned = TunedCall(play, 1)
    judge = Judge(pace_of(play.level), {}, tuple(look.id for look in play.looks))
    plan: Plan = (Shift("screen", "four-screens-five", 1, 1),)
    told = compared(tuned.play, applied(tuned.play, plan), judge, 16)
    effect = effects(tuned.play, plan, judge)
    found = Tuned(tuned.written(plan), plan, effect, told, spent=1, stopped=False)
    run.update(state=Tuning.State.DONE, found=found_to_json(found))
    assert "What was found for “Far 5”" in client.get(path).content.decode()
    client.post(reverse("keep-tuned", args=["quay"]))
    draft = play_value(row.revisions.get(published_at=None))
    assert draft == tuned.written(plan)
    assert draft.variants == (mirrored,)
    assert draft != applied(play, plan), "seen from the other side it is a step to the other side"


def test_an_address_with_a_call_that_is_not_there_means_the_first(cast: Cast) -> None:
    assert cast.client(cast.keeper).get(f"{address(cast)}?called=7").status_code == 200
