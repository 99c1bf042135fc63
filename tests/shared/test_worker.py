"""The protocol of background work, on rows that do nothing but beat."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from roster.models import CastProposal
from shared import worker
from shared.worker import BEAT, MOST_STARTS, SILENT, Facts, Pulse, WorkError, look_after, perform
from tests.cast import make_cast


@pytest.fixture
def row(transactional_db: None, spawned: list[worker.Work]) -> CastProposal:
    made = CastProposal.objects.create(team=make_cast().team, question_hash="")
    spawned.clear()  # what the cast's own plays asked for
    worker.launch(made)
    return made


def does(monkeypatch: pytest.MonkeyPatch, work: Callable[[CastProposal, Pulse], Facts]) -> None:
    """Let the row be worked on by this function."""
    monkeypatch.setattr(CastProposal, "worker", "here")
    monkeypatch.setattr(worker, "import_string", {"here": work}.__getitem__)


def fall_silent() -> None:
    CastProposal.objects.update(beat_at=timezone.now() - SILENT - timedelta(seconds=1))


def test_a_beat_of_the_future_is_no_sign_of_life(
    row: CastProposal, spawned: list[worker.Work]
) -> None:
    """A worker that was killed, and then the clock was set back by a year."""
    CastProposal.objects.update(beat_at=timezone.now() + timedelta(days=365))
    assert look_after(row.read_again()).starts == 2
    assert len(spawned) == 2


def test_a_launch_asks_for_one_process_and_counts_it(
    row: CastProposal, spawned: list[worker.Work]
) -> None:
    assert spawned == [row]
    assert row.read_again().starts == 1


def test_progress_and_answer_are_in_the_row(
    row: CastProposal, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []

    def work(work: CastProposal, pulse: Pulse) -> Facts:
        assert pulse.report(value=3.0)
        time.sleep(2 * BEAT)
        seen.append(row.read_again().value)
        return {"value": 4.0}

    does(monkeypatch, work)
    before = row.beat_at
    perform(row)
    after = row.read_again()
    assert seen == [3.0]
    assert (after.state, after.value) == ("done", 4.0)
    assert after.beat_at > before


def test_a_reason_is_written_down_and_a_bug_is_raised_too(
    row: CastProposal, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(row: CastProposal, pulse: Pulse) -> Facts:
        raise WorkError("no plays")

    does(monkeypatch, refuse)
    perform(row)
    assert (row.read_again().state, row.read_again().fault) == ("failed", "no plays")
    CastProposal.objects.update(state="running")

    def fail(row: CastProposal, pulse: Pulse) -> Facts:
        raise KeyError("x")

    does(monkeypatch, fail)
    with pytest.raises(KeyError):
        perform(row)
    assert row.read_again().state == "failed"


def test_who_hears_no_stop_is_ended_with_what_was_found(
    row: CastProposal, monkeypatch: pytest.MonkeyPatch
) -> None:
    left: list[int] = []

    def deaf(row: CastProposal, pulse: Pulse) -> Facts:
        pulse.report(value=5.0)
        CastProposal.objects.update(stop_asked=True)
        until = time.monotonic() + 10 * BEAT
        while not left and time.monotonic() < until:
            time.sleep(0.05)
        assert row.read_again().value == 5.0
        return {}

    does(monkeypatch, deaf)
    perform(row, leave=left.append)
    assert left == [0]
    assert row.read_again().state == "cancelled"


def test_the_silent_are_begun_again_then_given_up(
    row: CastProposal, spawned: list[worker.Work]
) -> None:
    assert look_after(row).starts == 1
    for _ in range(MOST_STARTS):
        fall_silent()
        found = look_after(row.read_again())
    assert len(spawned) == MOST_STARTS
    assert (found.state, found.fault) == ("failed", worker.KILLED)


def test_two_pages_that_look_at_once_begin_one_worker(
    row: CastProposal, spawned: list[worker.Work]
) -> None:
    fall_silent()
    one, other = row.read_again(), row.read_again()
    look_after(one)
    look_after(other)
    assert len(spawned) == 2  # the first start, and one more
    assert row.read_again().starts == 2


def test_the_silent_that_were_to_stop_have_stopped(row: CastProposal) -> None:
    CastProposal.objects.update(stop_asked=True)
    fall_silent()
    assert look_after(row.read_again()).state == "cancelled"


def test_a_worker_that_only_slept_does_not_speak_over_its_successor(
    row: CastProposal, monkeypatch: pytest.MonkeyPatch
) -> None:
    sleeper = row.read_again()
    fall_silent()
    look_after(row.read_again())
    does(monkeypatch, lambda row, pulse: {"value": 9.0})
    perform(sleeper)
    after = row.read_again()
    assert (after.state, after.value, after.starts) == ("running", 0.0, 2)


@pytest.mark.parametrize("table", ["nothing.AtAll", "roster.Team", "x"])
def test_the_command_refuses_what_is_no_work(table: str, db: None) -> None:
    with pytest.raises(CommandError):
        call_command("work", table, "1", "1")


def test_the_command_refuses_a_start_that_is_not_the_last(row: CastProposal) -> None:
    with pytest.raises(CommandError, match="no start 7"):
        call_command("work", "roster.CastProposal", str(row.pk), "7")
