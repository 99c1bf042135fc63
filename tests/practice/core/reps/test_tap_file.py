"""Reading taps: what each refusal says, and which values are just still taken.

JSON as RFC 8259 has it, moments as ISO 8601; the bounds are those of a row's key and our own.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

import pytest

from practice.core.reps.called import CalledPlay
from practice.core.reps.rep import Mode, Rep, Slip, Undo, as_cast
from practice.core.reps.tap_file import read_taps
from practice.core.reps.tap_reader import LARGEST, LONGEST_CALL, LONGEST_ID
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH

REP: dict[str, Any] = {
    "kind": "rep",
    "id": "a",
    "practice": 3,
    "play": 7,
    "mode": "live",
    "at": "2026-03-03T18:00:00.250+01:00",
    "cast": {"5": 15, "1": 11, "2": 12, "3": 13, "4": 14},
    "clean": True,
}
UNDO: dict[str, Any] = {"kind": "undo", "id": "u", "rep": "a", "at": "2026-03-03T18:01:00Z"}
AT = datetime(2026, 3, 3, 17, 0, 0, 250_000, tzinfo=UTC)


def faults(entry: object) -> list[tuple[str, str, str]]:
    read = read_taps({"taps": [REP, entry]}, ENGLISH)
    assert [tap.id for tap in read.taps[:1]] == ["a"], "the good one is never lost"
    assert all(one.severity is Severity.SERIOUS for one in read.findings)
    assert len(read.taps) == (1 if read.findings else 2)
    return [(one.code, one.place, one.sentence) for one in read.findings]


def test_a_rep_is_read_field_by_field() -> None:
    full = {
        **REP,
        "clean": False,
        "erred": "3",
        "slip": "wrong_read",
        "unit": 21,
        "by": 31,
        "revision": 41,
        "call": "Tide {3}",
    }
    cast = as_cast({"1": 11, "2": 12, "3": 13, "4": 14, "5": 15})
    read = read_taps(json.dumps({"taps": [REP, full]}), ENGLISH)
    assert read.findings == ()
    assert read.taps == (
        Rep("a", 3, 7, Mode.LIVE, AT, cast),
        Rep(
            "a",
            3,
            7,
            Mode.LIVE,
            AT,
            cast,
            clean=False,
            erred="3",
            slip=Slip.WRONG_READ,
            unit=21,
            by=31,
            revision=41,
            call="Tide {3}",
        ),
    )


def test_an_undo_is_read_field_by_field() -> None:
    at = datetime(2026, 3, 3, 18, 1, tzinfo=UTC)
    read = read_taps({"taps": [UNDO, {**UNDO, "by": 31}]}, ENGLISH)
    assert read.taps == (Undo("u", "a", at), Undo("u", "a", at, 31))
    assert faults({"kind": "undo"}) == [
        ("missing", "/taps/1/id", "“id” is missing."),
        ("missing", "/taps/1/rep", "“rep” is missing."),
        ("bad_time", "/taps/1/at", "“at” is no time with its zone."),
    ]


@pytest.mark.parametrize(
    ("changes", "code", "field", "sentence"),
    [
        ({"id": None}, "missing", "id", "“id” is missing."),
        ({"id": 7}, "bad_id", "id", "“id” is no id."),
        ({"id": ""}, "bad_id", "id", "“id” is no id."),
        ({"id": "x" * (LONGEST_ID + 1)}, "bad_id", "id", "“id” is no id."),
        ({"id": "a\nb"}, "bad_id", "id", "“id” is no id."),
        ({"practice": None}, "missing", "practice", "“practice” is missing."),
        ({"play": True}, "bad_id", "play", "“play” is no id."),
        ({"play": LARGEST + 1}, "bad_id", "play", "“play” is no id."),
        ({"play": 1.5}, "bad_id", "play", "“play” is no id."),
        ({"unit": []}, "bad_id", "unit", "“unit” is no id."),
        ({"by": False}, "bad_id", "by", "“by” is no id."),
        ({"revision": ""}, "bad_id", "revision", "“revision” is no id."),
        ({"at": None}, "bad_time", "at", "“at” is no time with its zone."),
        ({"at": 7}, "bad_time", "at", "“at” is no time with its zone."),
        ({"at": "2026-03-03T18:00"}, "bad_time", "at", "“at” is no time with its zone."),
        ({"at": "2026-02-30T18:00Z"}, "bad_time", "at", "“at” is no time with its zone."),
        ({"kind": "tap"}, "bad_choice", "kind", "“tap” is none of rep, undo or called."),
        (
            {"mode": "fast"},
            "bad_choice",
            "mode",
            "“fast” is none of walk_through, half_speed, live or game.",
        ),
        (
            {"slip": "x\ty" * 40},
            "bad_choice",
            "slip",
            "“" + ("x?y" * 40)[:64] + "” is none of "
            "early, late, wrong_spot, wrong_read, pass or screen.",
        ),
        ({"erred": "6"}, "bad_choice", "erred", "“6” is none of 1, 2, 3, 4 or 5."),
        ({"cast": {}}, "bad_cast", "cast", "“cast” must name a player for roles 1 to 5."),
        ({"cast": None}, "bad_cast", "cast", "“cast” must name a player for roles 1 to 5."),
        ({"cast": [11]}, "bad_cast", "cast", "“cast” must name a player for roles 1 to 5."),
        ({"cast": {"0": 11}}, "bad_cast", "cast", "“cast” must name a player for roles 1 to 5."),
        ({"cast": {"1": None}}, "bad_cast", "cast", "“cast” must name a player for roles 1 to 5."),
        ({"call": "x" * (LONGEST_CALL + 1)}, "bad_call", "call", "“call” is no call of a play."),
        ({"call": "a\nb"}, "bad_call", "call", "“call” is no call of a play."),
        ({"clean": None}, "bad_clean", "clean", "“clean” must be true or false."),
        ({"clean": 1}, "bad_clean", "clean", "“clean” must be true or false."),
    ],
)
def test_each_fault_of_a_rep_is_told_in_words_at_its_place(
    changes: dict[str, object], code: str, field: str, sentence: str
) -> None:
    assert faults({**REP, **changes}) == [(code, f"/taps/1/{field}", sentence)]


@pytest.mark.parametrize(
    "changes",
    [
        {"id": "x" * LONGEST_ID},
        {"play": LARGEST},
        {"play": -LARGEST},
        {"play": "lantern"},
        {"cast": {"5": 15}},
        {"call": "x" * LONGEST_CALL},
        {"call": ""},
        {"call": None, "slip": None, "erred": None, "unit": None, "by": None},
    ],
)
def test_what_is_just_still_sound_is_read(changes: dict[str, object]) -> None:
    assert faults({**REP, **changes}) == []


@pytest.mark.parametrize("entry", [7, "rep", None, ["rep"]])
def test_what_is_no_tap_is_said_once(entry: object) -> None:
    assert faults(entry) == [("not_a_tap", "/taps/1", "This entry is no tap.")]


def test_a_number_of_the_length_of_the_largest_key_is_an_id_and_a_longer_one_is_none() -> None:
    text = json.dumps({"taps": [REP]})
    whole = text.replace('"play": 7', f'"play": {LARGEST}')
    (tap,) = read_taps(whole, ENGLISH).taps
    assert isinstance(tap, Rep)
    assert (tap.play, type(tap.play)) == (LARGEST, int)
    # Five thousand digits are more than Python reads as an int by itself (sys.int_info): they
    # spoil their own tap, not the file.
    for digits in ("1" + "0" * 19, "9" * 5000):
        read = read_taps(text.replace('"play": 7', f'"play": {digits}'), ENGLISH)
        assert read.taps == ()
        assert [(one.code, one.place) for one in read.findings] == [("bad_id", "/taps/0/play")]


@pytest.mark.parametrize("taps", [None, "all", {"0": REP}])
def test_a_file_without_a_list_of_taps_says_so(taps: object) -> None:
    sentence = "This is no file of waiting reps: it has no list of taps."
    read = read_taps(json.dumps({"taps": taps}), ENGLISH)
    assert read.taps == ()
    assert read.findings == (Finding("no_list", Severity.SERIOUS, "/taps", sentence),)
    assert read_taps({}, ENGLISH).findings == read.findings


def test_what_is_no_json_says_so_and_no_taps_are_no_fault() -> None:
    sentence = "This is no file of waiting reps: it cannot be read as JSON."
    for data in (b"\xff", "{", "[]", "7"):
        read = read_taps(data, ENGLISH)
        assert read.findings == (Finding("no_json", Severity.SERIOUS, "", sentence),)
    assert read_taps({"taps": []}, ENGLISH).findings == ()


CALLED: dict[str, Any] = {
    "kind": "called",
    "id": "c",
    "game": 3,
    "play": 7,
    "at": "2026-03-03T18:00:00Z",
    "taken": "none",
    "result": "reset",
}


@pytest.mark.parametrize(("period", "kept"), [(0, False), (1, True), (2, True), (99, False)])
def test_a_period_is_a_whole_number_from_one_to_the_last(period: int, *, kept: bool) -> None:
    read = read_taps({"taps": [{**CALLED, "period": period}]}, ENGLISH)
    assert [one.code for one in read.findings] == ([] if kept else ["bad_number"])
    if kept:
        (tap,) = read.taps
        assert isinstance(tap, CalledPlay)
        assert tap.period == period
