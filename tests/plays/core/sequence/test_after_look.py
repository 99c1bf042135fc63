"""A rotation that is kept for some looks: each way of the play is held to a plain play.

A play with a rotation after look 1 and one after look 2 has to run, way by way, as two plays
would that have only the one rotation: those never had anything to do with looks by name.
"""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from jsonschema import (  # type: ignore[import-untyped]  # the library carries no types
    Draft202012Validator,
)

from plays.core.check.begun import begun, begun_further, begun_in
from plays.core.check.check import check
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.defence.verdict import Tactic
from plays.core.document.file import json_schema, read_play, to_json, write_play
from plays.core.document.form import problems
from plays.core.drawing.phase import diagram
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.thrown import thrown
from plays.core.moves.moves import mirror
from plays.core.play import ROLES, AgeGroup, Phase, Play
from plays.core.sequence.after_look import (
    after,
    bringing_in,
    first_way,
    numbers_after,
    way_to,
    way_with,
    ways,
)
from plays.core.sequence.course import assumed_looks, final_places, scenes
from plays.core.shorthand.naming import canonical
from plays.core.shorthand.read import read
from plays.core.shorthand.recall import recalled
from plays.core.shorthand.tongue import spanish
from plays.core.shorthand.write import shorthand
from plays.core.words.part import part_of
from tests.plays.core.demo_plays import DEMO
from tests.strategies import plays_by_look

PACE = pace_of(AgeGroup.U16)
SCHEMA = Draft202012Validator(json_schema())


def by_key(key: str) -> Play:
    return next(play for play in DEMO if play.key == key)


def tide() -> Play:
    """Its rotation is for look 1, and another one for look 2, into the corner."""
    return by_key("tidegate")


def only(play: Play, *phases: Phase) -> Play:
    """The play as it was written before phases could name looks: with this one rotation."""
    common = (phase for phase in play.phases if not phase.rotation)
    plain = (replace(phase, after=()) for phase in phases)
    return replace(play, phases=(*common, *plain), counters=(), variants=())


def rotations(play: Play) -> tuple[Phase, Phase]:
    first, second = (phase for phase in play.phases if phase.rotation)
    return first, second


@given(plays_by_look())
def test_the_first_way_runs_as_the_play_with_its_rotation_alone(play: Play) -> None:
    """Against the plain play, second for second and place for place."""
    plain = only(play, rotations(play)[0])
    mine, other = timeline(play, PACE), timeline(plain, PACE)
    assert mine.spans == other.spans
    assert final_places(play) == final_places(plain)
    known = {window.look.id: window for window in other.windows}
    assert {window.look.id: window for window in mine.windows} == known


@given(plays_by_look())
def test_a_further_way_runs_as_the_play_with_that_rotation_from_the_same_catch(play: Play) -> None:
    kept = rotations(play)[1]
    way = after(play, kept.after[0])
    mine = timeline(way, PACE)
    look = next(look for look in play.looks if look.id == kept.after[0])
    plain = replace(only(play, kept), looks=(look,))
    assert mine.spans == timeline(plain, PACE, caught=mine.ball_in).spans
    assert mine.ball_in == pytest.approx(
        next(f.catch for f in mine.flights if f.source == look.id), abs=1e-9
    )
    assert scenes(play)[-1].places == scenes(plain)[-1].places
    assert scenes(play)[-1].holder == look.receiver


@given(plays_by_look())
def test_every_way_is_sound_and_its_own_only_way(play: Play) -> None:
    assert problems(play) == ()
    assert len(ways(play)) == 2
    for way in ways(play):
        assert ways(way) == (way,)
        assert way.looks == play.looks
        assert thrown(timeline(way, PACE), way.phases[-1].after[0]).play == way


@given(plays_by_look())
def test_document_and_text_give_it_back(play: Play) -> None:
    """By our own reader, by the published schema and the jsonschema library, in both languages."""
    assert read_play(write_play(play)) == play
    assert [error.message for error in SCHEMA.iter_errors(to_json(play))] == []
    for text in (shorthand(play), spanish(shorthand(play))):
        found = read(text)
        assert found.faults == ()
        assert found.play == canonical(play)
        assert recalled(found.play, play).phases == recalled(canonical(play), play).phases
    assert recalled(read(shorthand(play)).play, play).phases[-1].after == play.phases[-1].after


@given(plays_by_look())
def test_a_mirror_changes_no_word_of_the_check_and_comes_back(play: Play) -> None:
    assert mirror(mirror(play)) == play
    one, other = (check(p, age=AgeGroup.U14, defence=Tactic.CHASE) for p in (play, mirror(play)))
    assert len(one.verdicts) == len(play.looks)
    assert [v.word for v in one.verdicts] == [v.word for v in other.verdicts]
    assert [f.code for f in one.findings] == [f.code for f in other.findings]
    json.dumps(one.to_json(), allow_nan=False)


@given(plays_by_look())
def test_every_step_of_every_way_is_told_once_and_drawn(play: Play) -> None:
    steps = [step for role in ROLES for step in part_of(play, role).steps]
    assert sorted(step.action for step in steps) == sorted(a.id for a in play.actions())
    for role in ROLES:
        numbers = [step.number for step in part_of(play, role).steps]
        assert numbers == sorted(set(numbers))
    for phase in play.phases:
        assert diagram(play, phase.id).description


def test_a_document_without_the_word_reads_as_before() -> None:
    """A file of an edition that knew no such rotation, and the same written again."""
    old = to_json(by_key("ballast"))
    assert all("after" not in phase for phase in old["phases"])
    assert write_play(read_play(old)) == write_play(by_key("ballast"))
    assert ways(by_key("ballast")) == (by_key("ballast"),)


def test_each_way_has_the_phases_of_its_look() -> None:
    play = tide()
    inside, block = rotations(play)
    assert block.after == ("corner",)
    assert [phase.id for phase in first_way(play).phases][2:] == [inside.id]
    assert [phase.id for phase in after(play, "corner").phases][2:] == [block.id]
    assert numbers_after(play) == {inside.id: (1,), block.id: (2,)}
    assert way_to(play, "block") == way_to(play, "corner") == way_with(play, block.id)
    assert way_to(play, "wing") == way_to(play, "gate") == first_way(play)
    assert [look.id for look in bringing_in(play)] == ["gate", "corner"]
    assert assumed_looks(play) == {}


def test_the_player_in_the_post_is_told_after_which_look_to_do_what() -> None:
    """Read aloud by us: a player of twelve has to know from it alone which run is meant."""
    told = part_of(tide(), "5")
    assert [step.text for step in told.steps[2:]] == [
        (
            "Do this only after look 1, when the ball is in. Roll to a step in front of the basket"
            " and a step to the ball side."
        ),
        "Do this only after look 2, when the ball is in. Post up at the near block.",
    ]
    assert told.ending == ""
    assert [(look.number, look.comes) for look in told.looks] == [
        (4, "It comes at the end of your step 4.")
    ]
    assert part_of(tide(), "2").ending == "You end at the near slot."


def test_a_look_of_a_further_way_is_judged_and_keeps_its_number() -> None:
    """The 3 passes to the post once the ball has come into the corner: look 4 on every page."""
    report = check(tide(), age=AgeGroup.U14)
    assert [(v.look, v.window.index + 1) for v in report.verdicts] == [
        ("gate", 1), ("corner", 2), ("wing", 3), ("block", 4),
    ]  # fmt: skip
    feed = report.verdicts[3].window
    corner = timeline(after(tide(), "corner"), report.line.pace).window("corner")
    assert feed.given == "corner"
    assert feed.earliest >= corner.catch(corner.in_turn)


def test_what_begins_after_one_look_is_numbered_on_from_what_all_have_in_common() -> None:
    play = tide()
    numbers = begun(play)
    for phase in rotations(play):
        assert sorted(numbers[action.id] for action in phase.actions) == [8, 9, 10]


def test_the_timelines_of_a_report_number_it_as_those_made_anew() -> None:
    play = tide()
    setting = Setting(play.level, defence=usual_defence(play))
    found = begun_in(checked(play, setting).further)
    assert found == begun_further(play, setting)
    assert found.keys() == {action.id for action in rotations(play)[1].actions}
