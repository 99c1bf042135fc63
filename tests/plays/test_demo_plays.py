"""The plays of the demo club: sound documents that between them use the whole model.

What a play has to contain is the design of the demo; spacing and the number of lines in a
diagram are common practice in coaching, no source. Rules are named beside their checks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from math import hypot
from pathlib import Path

import pytest

from plays.core.calls import placeholders
from plays.core.check.check import check
from plays.core.court.courts import court
from plays.core.defence.verdict import CONTESTED, OPEN, Scheme, Tactic, Word, against
from plays.core.document.file import read_play, to_json, write_play
from plays.core.document.form import problems
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    AgeGroup,
    CueRule,
    Cut,
    Defence,
    Formation,
    JointShape,
    Moment,
    PassKind,
    Play,
    Point,
    Quality,
    RuleSet,
    ScreenStyle,
    Situation,
    Stance,
)
from plays.core.sequence.course import legs, scenes, with_counter
from shared.core.drawing.fonts import read_face

FOLDER = Path(__file__).resolve().parents[2] / "coachbook" / "demo" / "plays"
PLAYS = {path.stem: read_play(path.read_bytes()) for path in sorted(FOLDER.glob("*.json"))}
EVERY = pytest.mark.parametrize("play", PLAYS.values(), ids=PLAYS.keys())
THROWN_IN = pytest.mark.parametrize(
    "play", [play for play in PLAYS.values() if play.thrower], ids=lambda play: play.key
)
MOVES = (ActionKind.CUT, ActionKind.SCREEN, ActionKind.DRIBBLE)


def runs(play: Play) -> Iterator[Play]:
    """The play, and the play as each of its counters changes it."""
    yield play
    for counter in play.counters:
        yield with_counter(play, counter)


def every_action() -> Iterator[Action]:
    for play in PLAYS.values():
        yield from play.actions()
        for counter in play.counters:
            yield from (*counter.replace, *counter.add)


def texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)


def apart(one: Point, other: Point) -> float:
    return hypot(one.x - other.x, one.y - other.y)


@EVERY
def test_a_play_has_no_problem_of_form(play: Play) -> None:
    assert problems(play) == ()


@EVERY
def test_the_file_is_named_by_the_key_and_survives_a_round_trip(play: Play) -> None:
    assert PLAYS[play.key] is play
    assert read_play(write_play(play)) == play


@EVERY
def test_every_letter_is_in_the_font(play: Play) -> None:
    missing = [text for text in texts(to_json(play)) if not read_face().covers(text)]
    assert missing == []


@EVERY
def test_a_play_says_when_how_and_what_goes_wrong(play: Play) -> None:
    assert play.use
    assert play.teach
    assert play.errors
    assert play.cautions
    assert play.looks
    assert play.needs
    assert len(play.counters) >= 2
    assert all(counter.looks for counter in play.counters)
    assert all(
        look.condition and look.guess is not None for run in runs(play) for look in run.looks
    )
    assert sum(bool(action.teach) for action in play.actions()) >= len(play.actions()) * 2 / 3


@EVERY
def test_a_phase_is_one_readable_diagram(play: Play) -> None:
    assert 2 <= len(play.phases) <= 4
    assert all(1 <= len(phase.actions) <= 6 for phase in play.phases)


@EVERY
def test_every_role_has_a_job_before_the_ball_is_in(play: Play) -> None:
    before = [action for phase in play.phases if not phase.rotation for action in phase.actions]
    busy = {action.role for action in before} | {look.passer for look in play.looks}
    assert busy == set(ROLES)


@THROWN_IN
def test_the_thrower_steps_in_after_the_pass(play: Play) -> None:
    for run in runs(play):
        ends = {leg.action.role: leg.end for scene in scenes(run) for leg in scene.legs}
        steps = [a for a in run.actions() if a.role == run.thrower and a.kind in MOVES]
        assert steps
        assert court(run.court).contains(ends[run.thrower or "1"])


@EVERY
def test_everybody_runs_inside_the_lines(play: Play) -> None:
    lines = court(play.court)
    for run in runs(play):
        for action in run.actions():
            assert all(lines.contains(point, 0.3) for point in action.path), action.id


@THROWN_IN
def test_receivers_of_the_throw_in_end_three_metres_apart(play: Play) -> None:
    """Three metres: common practice, no source."""
    for run in runs(play):
        looks = [look for look in run.looks if look.passer == run.thrower]
        on_floor = legs(run)
        caught = {look.receiver: on_floor[look.action].end for look in reversed(looks)}
        near = [
            (run.key, one, other)
            for one, other in combinations(caught, 2)
            if apart(caught[one], caught[other]) < 2.9
        ]
        assert near == []


def test_nobody_starts_within_three_feet_of_the_line_under_nfhs() -> None:
    """NFHS 7-6-5 (2025-26): team-mates side by side within 3 ft of the boundary give way."""
    for play in PLAYS.values():
        if play.court is RuleSet.NFHS:
            here = [start.at for start in play.starts if start.role != play.thrower]
            assert all(court(play.court).contains(point, 0.9144) for point in here)


def test_the_library_has_every_situation_and_formation() -> None:
    situations = Counter(play.situation for play in PLAYS.values())
    assert len(PLAYS) == 27
    assert situations[Situation.SIDELINE] >= 7
    assert situations[Situation.BASELINE] >= 3
    assert situations[Situation.PRESS_BREAK] == 1
    assert situations[Situation.HALF_COURT] >= 3
    assert situations[Situation.LAST_SHOT] == 2
    assert situations[Situation.AFTER_TIMEOUT] == 1
    assert {play.formation for play in PLAYS.values()} >= {
        Formation.LINE_ACROSS,
        Formation.LINE_ALONG,
        Formation.STACK,
        Formation.BOX,
        Formation.DIAMOND,
        Formation.FOUR_ACROSS,
    }
    assert {play.court for play in PLAYS.values()} == {RuleSet.FIBA, RuleSet.NFHS}
    sides = {(play.spot.edge, play.spot.side) for play in PLAYS.values() if play.spot}
    assert len(sides) == 4


def test_between_them_they_use_every_kind_of_action_and_cue() -> None:
    actions = list(every_action())
    assert {action.kind for action in actions} == set(ActionKind)
    assert {action.cut for action in actions if action.cut} == set(Cut)
    assert {action.screen for action in actions if action.screen} == set(ScreenStyle)
    assert {action.joint.shape for action in actions if action.joint} == set(JointShape)
    assert any(action.joint and action.joint.part == "close" for action in actions)
    assert {cue.on for action in actions for cue in action.cues} == set(Moment)
    assert any(action.cue_rule is CueRule.FIRST for action in actions)
    assert any(action.decoy for action in actions)
    assert any(phase.rotation for play in PLAYS.values() for phase in play.phases)


def test_between_them_they_use_looks_counters_needs_and_defenders() -> None:
    plays = list(PLAYS.values())
    kinds = {look.pass_kind for play in plays for run in runs(play) for look in run.looks}
    assert kinds == set(PassKind)
    reads = {
        look.read.defence for play in plays for run in runs(play) for look in run.looks if look.read
    }
    answered = {counter.defence for play in plays for counter in play.counters}
    # Each play is written against the plain chase; none answers one who goes under a screen yet.
    assert reads | answered >= set(Defence) - {Defence.CHASE, Defence.UNDER}
    assert {need.quality for play in plays for need in play.needs} == set(Quality)
    drawn = [defender for play in plays for defender in play.defenders]
    assert {defender.stance for defender in drawn} >= {Stance.FRONT, Stance.BETWEEN}
    assert any(defender.at for defender in drawn)
    assert sum(bool(placeholders(play.call)) for play in plays) >= 5
    assert any(play.conditions for play in plays)


def test_a_screener_is_screened_for() -> None:
    found = {
        play.key
        for play in PLAYS.values()
        for first, second in combinations(
            [action for action in play.actions() if action.kind is ActionKind.SCREEN], 2
        )
        if second.cutter == first.role and first.cutter != second.role
    }
    assert found >= {"tow-rope", "night-ferry"}


def test_a_lob_goes_over_a_fronting_defender() -> None:
    play = PLAYS["foghorn"]
    lob = play.looks[0]
    assert lob.pass_kind is PassKind.LOB
    stances = {defender.guards: defender.stance for defender in play.defenders}
    assert stances[lob.receiver] is Stance.FRONT


@THROWN_IN
def test_the_first_two_throw_ins_come_inside_the_count_for_the_group_it_is_meant_for(
    play: Play,
) -> None:
    windows = timeline(play, pace_of(play.level)).windows
    counted = [window for window in windows if window.counted]
    assert counted
    assert all(window.in_turn <= window.latest <= 5.0 for window in counted[:2])
    assert counted[0].in_turn <= 4.3


def test_the_plays_for_the_youngest_come_inside_the_count_and_the_hardest_does_not() -> None:
    def late(key: str) -> set[str]:
        windows = timeline(PLAYS[key], pace_of(AgeGroup.U12)).windows
        return {window.look.id for window in windows if window.counted and not window.opens}

    assert late("duckboard") == set()
    assert late("lamp-row") == set()
    assert late("slipway") == {"dive"}


def test_screens_free_who_is_followed_and_cost_a_switch_nothing() -> None:
    """A cutter off a screen is freer from a tight defender who follows than without the screen."""
    pace = pace_of(AgeGroup.U16)
    easy = replace(pace, screened=0.0)

    def gained(key: str, look: str, tactic: Tactic) -> float:
        lines = [timeline(PLAYS[key], pace), timeline(PLAYS[key], easy)]
        held, free = against(lines, [tactic, tactic])
        margins = [{v.look: v.margin for v in verdicts}[look] for verdicts in (held, free)]
        return margins[0] - margins[1]

    for key, look in (("duckboard", "cut"), ("oar-rack", "corner"), ("harbour-light", "lift")):
        assert gained(key, look, Tactic.TIGHT) > 0.15, key
        assert gained(key, look, Tactic.SWITCH) == 0.0, key


def words(key: str, tactic: Tactic, age: AgeGroup | None = None) -> dict[str, Word]:
    """What each look of a play is called against a defence, whatever it reads."""
    play = PLAYS[key]
    play = replace(play, looks=tuple(replace(look, read=None) for look in play.looks))
    (verdicts,) = against([timeline(play, pace_of(age or play.level))], [tactic])
    return {verdict.look: verdict.word for verdict in verdicts}


THERE = (Word.OPEN, Word.CONTESTED)


def margins(key: str, scheme: Tactic | Scheme, counter: str | None = None) -> dict[str, float]:
    """The margin of each look against a defence; looks with reads are met as they read."""
    play = PLAYS[key]
    if counter is not None:
        play = with_counter(play, next(each for each in play.counters if each.id == counter))
    (verdicts,) = against([timeline(play, pace_of(play.level))], [scheme])
    return {verdict.look: verdict.margin if verdict.in_time else -9.0 for verdict in verdicts}


@pytest.mark.parametrize("key", ["slipway", "night-ferry"])
def test_a_curl_beats_who_comes_over_the_screen_and_not_who_stays_on_the_basket_side(
    key: str,
) -> None:
    """Over leaves the way to the basket, under does not: common practice, no source."""
    over, under = (
        margins(key, Scheme(tactic, ("2",)), "over")["curl"]
        for tactic in (Tactic.OVER, Tactic.UNDER)
    )
    assert over >= OPEN
    assert over > under + 0.3


def test_slipway_has_every_look_inside_the_count_and_in_each_counter() -> None:
    found = [margins("slipway", Tactic.CHASE)]
    for counter in PLAYS["slipway"].counters:
        scheme = Scheme(Tactic(counter.defence.value), counter.whose)
        found.append(margins("slipway", scheme, counter.id))
    assert min(min(each.values()) for each in found) >= CONTESTED


def test_foghorn_is_there_against_whatever_each_look_reads() -> None:
    assert min(margins("foghorn", Tactic.CHASE).values()) >= CONTESTED
    assert margins("foghorn", Tactic.DENY, "deny")["corner"] >= OPEN


KNOWN_COVERED = {  # by one of the looks against a chase, at the play's own level
    ("backwater", "hole"),  # a zone play
    ("beacon", "block"),
    ("bow-wave", "block"),
    ("breakwater", "rim"),
    ("duckboard", "cut"),
    ("open-water", "rim"),
    ("sluice", "dive"),
    ("sluice", "step-out"),
    ("tow-rope", "rim"),
    ("weathervane", "block"),
}


@EVERY
def test_no_other_look_of_the_demo_is_covered_by_a_chase(play: Play) -> None:
    """What is taken away is taken away by somebody: those above, and no more."""
    found = {look for look, margin in margins(play.key, Tactic.CHASE).items() if margin < CONTESTED}
    assert found == {look for key, look in KNOWN_COVERED if key == play.key}


def test_the_place_of_the_post_defender_decides_between_the_pass_and_the_lob() -> None:
    """Behind gives the pass, in front gives the lob: common practice, no source."""
    behind, front = words("crosswind", Tactic.TIGHT), words("crosswind", Tactic.FRONT)
    assert behind["entry"] in THERE
    assert behind["lob"] not in THERE
    assert front["entry"] not in THERE
    assert front["lob"] in THERE


@pytest.mark.parametrize("key", ["shoals", "backwater"])
def test_the_plays_for_a_zone_have_every_look_against_one(key: str) -> None:
    assert set(words(key, Tactic.ZONE).values()) <= set(THERE)


@pytest.mark.parametrize(("key", "look"), [("tidegate", "gate"), ("floodgate", "gate")])
def test_a_gate_frees_its_cutter_from_who_follows(key: str, look: str) -> None:
    for tactic in (Tactic.CHASE, Tactic.TIGHT):
        assert words(key, tactic)[look] in THERE
    gates = {action.joint.part for action in PLAYS[key].actions() if action.joint}
    assert gates == {"open", "close"}


def test_in_a_box_with_screens_away_both_screeners_begin_on_the_side_of_the_ball() -> None:
    play = PLAYS["ballast"]
    side = 1.0 if play.spot and play.spot.side == "right" else -1.0
    screens = [action for action in play.actions() if action.kind is ActionKind.SCREEN]
    assert len(screens) == 2
    for screen in screens:
        assert (
            side * play.start_of(screen.role).x > 0.0 > side * play.start_of(screen.cutter or "1").x
        )


def test_a_third_of_the_plays_can_be_run_by_the_youngest() -> None:
    fit = {
        key
        for key, play in PLAYS.items()
        if check(play, age=AgeGroup.U12, defence=Tactic.CHASE).runnable
    }
    assert len(fit) * 3 >= len(PLAYS)
    assert fit >= {key for key, play in PLAYS.items() if play.level is AgeGroup.U12}
