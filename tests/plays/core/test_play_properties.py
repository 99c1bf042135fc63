"""Random plays: sound ones have no problem and survive the round trip, broken ones are told.

The jsonschema library reads the published schema beside our own strict reader: whatever
document comes, both must agree on whether it has the form of a play.
"""

from __future__ import annotations

import json
from math import isfinite
from typing import Any

import pytest
from hypothesis import given, settings
from jsonschema import (  # type: ignore[import-untyped]  # the library carries no types
    Draft202012Validator,
)

from plays.core.document.file import (
    VERSION_KEY,
    content_hash,
    json_schema,
    read_draft,
    read_play,
    to_json,
    write_play,
    write_readable,
)
from plays.core.document.form import problems
from plays.core.document.review import review
from plays.core.play import VERSION, Play
from plays.core.sequence.course import final_places, scenes, with_counter
from plays.core.sequence.cues import CueGraph
from tests.plays.core.document.broken_documents import BREAKERS, broken, mangled_documents
from tests.strategies import sound_plays

SCHEMA = Draft202012Validator(json_schema())


@given(sound_plays())
def test_sound_plays_have_no_problem(play: Play) -> None:
    assert problems(play) == ()


@given(sound_plays())
def test_sound_plays_survive_the_round_trip(play: Play) -> None:
    assert read_play(to_json(play)) == play
    assert read_play(write_readable(play)) == play
    written = write_play(play)
    again = read_play(written)
    assert again == play
    assert write_play(again) == written
    assert content_hash(again) == content_hash(play)


@given(sound_plays())
def test_sound_plays_fit_the_schema(play: Play) -> None:
    assert [error.message for error in SCHEMA.iter_errors(json.loads(write_play(play)))] == []


@given(sound_plays())
def test_sound_plays_run_in_order_with_every_counter(play: Play) -> None:
    for run in (play, *(with_counter(play, counter) for counter in play.counters)):
        sequence = {id_: index for index, id_ in enumerate(CueGraph(run).order())}
        assert sorted(sequence) == sorted(action.id for action in run.actions())
        for id_, sources in CueGraph(run).before.items():
            assert all(sequence[source] < sequence[id_] for source in sources)
        assert len(scenes(run)) == len(run.phases)
        assert set(final_places(run)) == set("12345")


@pytest.mark.parametrize(
    ("code", "number"), [(code, n) for code, ways in BREAKERS.items() for n in range(len(ways))]
)
@settings(max_examples=3)
@given(play=sound_plays())
def test_a_known_fault_is_named(code: str, number: int, play: Play) -> None:
    """Every way of every fault, each in a few plays."""
    found = review(broken(play, code, number)).problems
    assert code in {problem.code for problem in found}
    assert all(problem.sentence.strip() and problem.sentence[-1] in ".?" for problem in found)


@given(mangled_documents())
def test_whatever_comes_is_read_or_told_and_never_raises(document: dict[str, Any]) -> None:
    play, found = review(document)
    assert all(problem.sentence.strip() for problem in found)
    if play is None:
        assert found
    else:
        assert read_play(write_play(play)) == play
        CueGraph(play).cycles()


@given(mangled_documents())
def test_our_reader_and_the_published_schema_agree(document: dict[str, Any]) -> None:
    """But for what no schema says: NaN, and texts of spaces or characters without a shape.

    It describes this version, while the reader knows older ones too.

    A draft with a fault is read on as far as it goes: it is no play yet.
    """
    codes = {problem.code for problem in review(document).problems}
    older = document.get(VERSION_KEY) in range(VERSION)
    if older or not _finite(document) or codes & {"odd_text", "empty_text"}:
        return
    draft = read_draft(document)
    ours = draft.play is not None and not draft.problems
    ours = ours and codes.isdisjoint({"long_text", "out_of_range", "key", "long_list"})
    assert ours == SCHEMA.is_valid(document)


def _finite(value: Any) -> bool:
    if isinstance(value, dict):
        return all(_finite(item) for item in value.values())
    if isinstance(value, list):
        return all(_finite(item) for item in value)
    return not isinstance(value, float) or isfinite(value)
