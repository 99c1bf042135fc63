"""Merging logged taps: nothing lost, nothing counted twice, in every order."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import ROLES
from practice.core.reps.log import Tap, merge, to_json
from practice.core.reps.rep import Id, Mode, Rep, Slip, Undo, as_cast, strays, tally, touches
from practice.core.reps.rep_rules import Present, check_rep
from practice.core.reps.tap_file import read_taps
from shared.core.language import ENGLISH

START = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
FIVE = as_cast({"1": "ada", "2": "bo", "3": "cy", "4": "di", "5": "eva"})


def rep(key: str, second: int = 0, **changes: Any) -> Rep:
    made = Rep(key, "tue", "lantern", Mode.LIVE, START + timedelta(seconds=second), FIVE)
    return replace(made, **changes)


ids = st.sampled_from([f"t{number}" for number in range(8)])
moments = st.integers(0, 600).map(lambda second: START + timedelta(seconds=second))
reps = st.builds(
    Rep,
    ids,
    st.just("tue"),
    st.sampled_from(["lantern", "anchor"]),
    st.sampled_from(Mode),
    moments,
    st.just(FIVE),
    st.booleans(),
    call=st.sampled_from([None, "", "Tide {3}"]),
)
undos = st.builds(Undo, st.sampled_from(["u1", "u2", "u3"]), ids, moments)
taps = st.lists(st.one_of(reps, undos), max_size=12)


@given(taps, taps, st.integers(0, 10_000))
def test_merging_does_not_depend_on_order_doubling_or_grouping(
    one: list[Tap], other: list[Tap], seed: int
) -> None:
    straight = merge(one, other)
    shuffled = [*one, *other, *one]
    random.Random(seed).shuffle(shuffled)
    assert merge(shuffled) == straight
    assert merge(merge(other).taps, merge(one).taps) == straight
    assert merge(straight.taps) == straight


@given(taps)
def test_every_rep_is_counted_once_undone_or_in_a_clash(given_taps: list[Tap]) -> None:
    log = merge(given_taps)
    kept = {*log.reps, *log.undone}
    clashing = {other for clash in log.clashes for other in clash.others}
    assert {tap for tap in given_taps if isinstance(tap, Rep)} == {
        tap for tap in kept | clashing if isinstance(tap, Rep)
    }
    assert len({one.id for one in kept}) == len(kept)


def test_five_hundred_taps_sent_twice_in_pieces_by_two_phones_are_five_hundred() -> None:
    logged = [rep(f"phone{n % 2}-{n}", n) for n in range(500)]
    chance = random.Random(7)
    batches = [chance.sample(logged, 60) for _ in range(40)] + [logged[::-1]]
    assert merge(*batches).reps == tuple(logged)


def test_an_undo_that_arrives_before_its_rep_still_takes_it_back() -> None:
    undo = Undo("u1", "a", START)
    waiting = merge([undo])
    assert waiting.early_undos == (undo,)
    late = merge(waiting.taps, [rep("a", 5), rep("b", 6)])
    assert [one.id for one in late.reps] == ["b"]
    assert [one.id for one in late.undone] == ["a"]
    assert late.early_undos == ()


def test_two_different_taps_with_one_id_are_counted_once_and_shown() -> None:
    first, second = rep("a", 1), rep("a", 2, clean=False, erred="4")
    log = merge([second], [first])
    assert log.reps == (first,)
    assert [(clash.kept, clash.others) for clash in log.clashes] == [(first, (second,))]


def test_reps_that_name_what_was_deleted_are_kept_for_a_decision() -> None:
    logged = [rep("a"), rep("b", 1, play="gone"), rep("c", 2, practice="old")]
    found = strays(
        logged,
        practices=frozenset({"tue"}),
        plays=frozenset({"lantern"}),
        players=frozenset({"ada", "bo", "cy", "di"}),
    )
    assert [(s.rep.id, s.practice_gone, s.play_gone, s.players_gone) for s in found] == [
        ("a", False, False, ("eva",)),
        ("b", False, True, ("eva",)),
        ("c", True, False, ("eva",)),
    ]


def test_an_error_belongs_to_the_role_that_erred() -> None:
    parts = touches([rep("a", clean=False, erred="4", slip=Slip.LATE)])
    assert {part.role: part.clean for part in parts} == {role: role != "4" for role in ROLES}
    nobody = touches([rep("b", clean=False)])
    assert not any(part.clean for part in nobody)


def test_tally_counts_clean_ones_and_slips() -> None:
    counts = tally(
        [
            rep("a"),
            rep("b", mode=Mode.WALK_THROUGH),
            rep("c", clean=False, erred="4", slip=Slip.LATE),
            rep("d", clean=False, erred="4", slip=Slip.LATE),
        ]
    )
    assert (counts.clean, counts.total) == (2, 4)
    assert counts.slips == {("4", Slip.LATE): 2}


@given(taps)
def test_taps_survive_a_file(given_taps: list[Tap]) -> None:
    file = json.dumps({"taps": [to_json(tap) for tap in given_taps]})
    read = read_taps(file, ENGLISH)
    assert read.findings == ()
    assert read.taps == tuple(given_taps)


def test_a_spoilt_file_lists_every_fault_at_its_place_and_keeps_the_good_tap() -> None:
    good = to_json(rep("a"))
    spoilt = {**good, "at": "tomorrow", "mode": "fast", "cast": {"6": "ada"}, "clean": "yes"}
    read = read_taps({"taps": [good, spoilt, 7, {"kind": "undo", "id": "u"}]}, ENGLISH)
    assert [tap.id for tap in read.taps] == ["a"]
    assert [(found.place, found.code) for found in read.findings] == [
        ("/taps/1/at", "bad_time"),
        ("/taps/1/mode", "bad_choice"),
        ("/taps/1/cast", "bad_cast"),
        ("/taps/1/clean", "bad_clean"),
        ("/taps/2", "not_a_tap"),
        ("/taps/3/rep", "missing"),
        ("/taps/3/at", "bad_time"),
    ]


def test_a_rep_without_a_call_is_written_as_before_there_were_any() -> None:
    assert "call" not in to_json(rep("a"))
    assert to_json(rep("a", call=""))["call"] == ""
    assert [tap.call for tap in read_taps({"taps": [to_json(rep("a"))]}, ENGLISH).taps] == [None]  # type: ignore[union-attr]


@pytest.mark.parametrize("call", [7, ["Tide"], "x" * 61, "two\nlines"])
def test_what_is_no_call_is_told_at_its_place(call: object) -> None:
    read = read_taps({"taps": [{**to_json(rep("a")), "call": call}]}, ENGLISH)
    assert [(found.place, found.code) for found in read.findings] == [("/taps/0/call", "bad_call")]


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"[1, 2]", b"[" * 100_000, "{"])
def test_what_is_no_file_of_taps_is_said_once(data: bytes | str) -> None:
    read = read_taps(data, ENGLISH)
    assert read.taps == ()
    assert [found.code for found in read.findings] == ["no_json"]


def test_a_time_without_a_zone_is_refused() -> None:
    read = read_taps({"taps": [{**to_json(rep("a")), "at": "2026-03-03T18:00:00"}]}, ENGLISH)
    assert [found.place for found in read.findings] == ["/taps/0/at"]


NAMES: dict[Id, str] = {
    "ada": "Ada",
    "bo": "Bo",
    "cy": "Cy",
    "di": "Di",
    "eva": "Eva",
    "fay": "Fay",
}


def test_a_sound_rep_has_no_findings() -> None:
    assert check_rep(rep("a"), Present(NAMES), ENGLISH) == ()


def test_a_rep_for_someone_absent_is_named_at_the_role() -> None:
    (found,) = check_rep(rep("a"), Present(NAMES, absent=frozenset({"di"})), ENGLISH)
    assert (found.code, found.place) == ("absent", "/cast/4")
    assert found.sentence.startswith("Di was marked absent")


def test_one_person_in_two_roles_and_an_empty_role_are_all_named() -> None:
    cast = as_cast({"1": "ada", "2": "bo", "3": "ada", "4": "di"})
    found = check_rep(rep("a", cast=cast), Present(NAMES), ENGLISH)
    assert [(one.code, one.place) for one in found] == [
        ("empty_role", "/cast/5"),
        ("two_roles", "/cast/1"),
        ("two_roles", "/cast/3"),
    ]
    assert "Ada is in roles 1 and 3 at once" in found[1].sentence


def test_a_live_rep_with_a_limited_player_warns_and_one_who_is_out_is_an_error() -> None:
    present = Present(NAMES, limited=frozenset({"bo"}), out=frozenset({"cy"}))
    found = check_rep(rep("a"), present, ENGLISH)
    assert [(one.code, one.severity.value) for one in found] == [
        ("limited_live", "warning"),
        ("out", "serious"),
    ]
    slow = check_rep(rep("a", mode=Mode.WALK_THROUGH), present, ENGLISH)
    assert [one.code for one in slow] == ["out"]


def test_the_result_must_fit_the_role_that_erred() -> None:
    def codes(**changes: Any) -> list[str]:
        return [found.code for found in check_rep(rep("a", **changes), Present(NAMES), ENGLISH)]

    assert codes(clean=True, erred="4") == ["clean_erred"]
    assert codes(clean=False) == ["no_erred"]
    assert codes(cast=FIVE[:4], clean=False, erred="5") == ["empty_role", "erred_empty"]
    assert codes(mode=Mode.GAME) == ["game_mode"]
    assert codes(cast=(*FIVE[:4], ("5", "zed"))) == ["not_here"]


def test_who_erred_is_read_from_a_tap_as_it_was_written() -> None:
    (read,) = read_taps({"taps": [to_json(rep("a", clean=False, erred="4"))]}, ENGLISH).taps
    assert isinstance(read, Rep)
    assert (read.clean, read.erred) == (False, "4")
    odd = {**to_json(rep("a", clean=False)), "erred": "6"}
    assert [each.code for each in read_taps({"taps": [odd]}, ENGLISH).findings] == ["bad_choice"]


def test_what_is_no_list_and_what_is_no_id_is_told() -> None:
    assert [each.code for each in read_taps({"taps": "all"}, ENGLISH).findings] == ["no_list"]
    odd = {**to_json(rep("a")), "play": {"id": 7}}
    (found,) = read_taps({"taps": [odd]}, ENGLISH).findings
    assert (found.place, found.code) == ("/taps/0/play", "bad_id")
