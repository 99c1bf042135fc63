"""The play document: strict reading, canonical writing, the schema, older versions.

Outside: the jsonschema library for the schema (draft 2020-12), RFC 8785 (JSON
Canonicalization Scheme) for the bytes, RFC 6901 for the pointers.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from jsonschema import (  # type: ignore[import-untyped]  # the library carries no types
    Draft202012Validator,
)

from plays.core.document.file import (
    BadPlay,
    content_hash,
    from_json,
    json_schema,
    read_draft,
    read_own,
    read_play,
    readable,
    schema_text,
    to_json,
    write_play,
    write_readable,
)
from plays.core.document.values import field_limits
from plays.core.limits import MAX_BYTES, MAX_ITEMS, MAX_NUMBER, MAX_TEXT, Range
from plays.core.play import VERSION, Cue, Moment, Point, RuleSet, Start

DATA = Path(__file__).parents[3] / "data" / "plays"
SCHEMA = Path(__file__).parents[4] / "plays" / "schema" / "play.schema.json"
LANTERN = (DATA / "lantern.json").read_bytes()


def values() -> Any:
    return json.loads(LANTERN)


def faults(data: bytes | str | dict[str, Any]) -> list[tuple[str, str]]:
    with pytest.raises(BadPlay) as error:
        read_play(data)
    return [(problem.place, problem.code) for problem in error.value.problems]


def test_what_is_wrong_is_told_with_its_place_and_of_the_whole_with_a_stroke() -> None:
    with pytest.raises(BadPlay) as error:
        read_play(values() | {"thrower": "7"})
    assert str(error.value).startswith("/thrower: ")
    with pytest.raises(BadPlay) as whole:
        read_play("[]")
    assert str(whole.value).startswith("/: ")


def sentences(data: bytes | str | dict[str, Any]) -> list[str]:
    return [problem.sentence for problem in read_draft(data).problems]


def test_reads_what_is_written_and_writes_what_was_read() -> None:
    play = read_play(LANTERN)
    assert play.court is RuleSet.NFHS
    assert play.start_of("4") == Point(-2.1, 2.6)
    assert play.phase("entry").actions[3].cues == (Cue(Moment.PASSES, "cut-4", 0, 0.25),)
    assert to_json(play) == values()
    assert from_json(to_json(play)) == play
    assert read_play(write_play(play)) == play
    assert read_play(write_readable(play)) == play


def test_own_documents_are_read_like_anybodys_and_bad_ones_are_still_told() -> None:
    play = read_play(LANTERN)
    assert read_own(to_json(play)) == play
    assert read_own(values() | {"coachbook_play": VERSION}) == read_play(values())
    with pytest.raises(BadPlay):
        read_own(to_json(play) | {"phases": 3})
    with pytest.raises(BadPlay):
        read_own(to_json(play) | {"coachbook_play": VERSION + 1})


def test_an_own_document_of_an_older_version_is_carried_forward() -> None:
    old = values() | {"coachbook_play": 0}
    assert read_own(old) == read_play(old)


def test_text_bytes_and_mapping_are_read_alike() -> None:
    play = read_play(LANTERN)
    assert read_play(LANTERN.decode()) == read_play(values()) == play
    assert read_play(b"\xef\xbb\xbf" + LANTERN) == play


def test_a_line_of_a_hundred_letters_stays_one_line() -> None:
    for length, lines in ((100, 1), (101, 3)):
        text = readable(["x" * (length - 4)])
        assert (text.count("\n") + 1, json.loads(text)) == (lines, ["x" * (length - 4)])
    inner = readable(["x" * 94], "  ")  # the indent is a part of its line
    assert "\n" not in inner
    assert "\n" in readable(["x" * 95], "  ")


def test_a_list_as_long_as_may_be_is_read() -> None:
    document = to_json(read_play(LANTERN))
    assert len(read_play({**document, "teach": ["a"] * MAX_ITEMS}).teach) == MAX_ITEMS


def test_readable_file_stays_as_it_is() -> None:
    again = write_readable(read_play(LANTERN))
    assert write_readable(read_play(again)) == again
    assert max(len(line) for line in again.decode().splitlines()) <= 120


def test_canonical_bytes_do_not_depend_on_order_spaces_or_idle_words() -> None:
    shuffled = dict(reversed(values().items())) | {"cautions": [], "level": "U12"}
    shuffled["starts"][0]["at"] = [-7.920000, 8.534000]
    loose = json.dumps(shuffled, indent=7)
    assert write_play(read_play(loose)) == write_play(read_play(LANTERN))
    assert content_hash(read_play(loose)) == content_hash(read_play(LANTERN))


def test_canonical_bytes_follow_rfc_8785() -> None:
    """Sections 3.2.1 to 3.2.3: no spaces, sorted keys, shortest numbers, plain UTF-8."""
    play = replace(read_play(LANTERN), name="Größe “A”\t", counters=(), looks=(), phases=())
    text = write_play(play).decode()
    assert text.startswith('{"ball":"1","call":"Lantern {5}","coachbook_play":1,"court":"NFHS",')
    assert '"name":"Größe “A”\\t"' in text
    assert '"spot":{"along":8.534,"edge":"sideline","side":"left"}' in text
    whole = replace(play, starts=(Start("1", Point(-0.0, 2.0)),))
    assert '"starts":[{"at":[0,2],"role":"1"}]' in write_play(whole).decode()


def test_places_are_kept_to_the_millimetre() -> None:
    play = read_play(LANTERN)
    off = replace(play, starts=(Start("1", Point(-7.92004, 8.5336)), *play.starts[1:]))
    assert read_play(write_play(off)).start_of("1") == Point(-7.92, 8.534)
    near = values()
    near["starts"][0]["at"] = [-7.92004, 8.5336]
    assert read_play(near).start_of("1") == Point(-7.92, 8.534)
    assert content_hash(off) == content_hash(read_play(near))


def test_a_wait_that_rounds_to_nothing_is_not_written() -> None:
    play = read_play(LANTERN)
    first = play.phases[0].actions[0]
    tiny = replace(first, cues=(Cue(Moment.SIGNAL, wait=0.0004),))
    phase = replace(play.phases[0], actions=(tiny, *play.phases[0].actions[1:]))
    written = write_play(replace(play, phases=(phase,)))
    assert b'"cues":[{"on":"signal"}]' in written
    assert write_play(read_play(written)) == written


def test_hash_is_of_the_content_and_not_of_the_key() -> None:
    play = read_play(LANTERN)
    assert content_hash(play) == content_hash(replace(play, key="other"))
    assert content_hash(play) != content_hash(replace(play, name="Other"))
    assert len(content_hash(play)) == 64


def test_a_misspelt_key_is_one_fault_and_not_missing_as_well() -> None:
    bad = values()
    bad["looks"][0]["reciever"] = bad["looks"][0].pop("receiver")
    bad["phases"][0]["tittle"] = bad["phases"][0].pop("title")
    del bad["phases"][0]["id"]
    assert sorted(faults(bad)) == [
        ("/looks/0/reciever", "unknown_key"),
        ("/phases/0/id", "missing"),
        ("/phases/0/tittle", "unknown_key"),
    ]


def test_three_faults_are_three_problems() -> None:
    bad = values()
    bad["phases"][0]["actions"][1]["kind"] = "run"
    bad["looks"][0]["reciever"] = "4"
    del bad["name"]
    assert sorted(faults(bad)) == [
        ("/looks/0/reciever", "unknown_key"),
        ("/name", "missing"),
        ("/phases/0/actions/1/kind", "choice"),
    ]


def test_problems_are_said_in_a_coachs_words() -> None:
    bad = values()
    bad["phases"][0]["actions"][1]["kind"] = "run"
    bad["phases"][0]["actions"][1]["cues"][0]["wait"] = "soon"
    bad["looks"][0]["reciever"] = "4"
    bad["spot"]["side"] = 3
    bad["starts"][2]["at"] = [1]
    bad["starts"][3]["at"] = {"x": 1, "y": 2}
    del bad["phases"][0]["title"]
    kinds = "cut, screen, pass, dribble, handoff, shot or hold"
    assert set(sentences(bad)) == {
        f"Phase 1, action 2, “kind” is “run”; it can be {kinds}.",
        "Phase 1, action 2, cue 1, “wait” must be a number.",
        "“reciever” means nothing in look 1. Did you mean “receiver”?",
        "The throw-in spot, “side” is “3”; it can be left or right.",
        "Start 3, the place must be two numbers in brackets: across and up the court, in metres.",
        "Start 4, the place must be two numbers in brackets: across and up the court, in metres.",
        "“title” is missing in phase 1.",
    }


@pytest.mark.parametrize(
    ("path", "value", "code"),
    [
        (("name",), 7, "type"),
        (("name",), None, "type"),
        (("ball",), "6", "choice"),
        (("ball",), 1, "choice"),
        (("starts",), {}, "type"),
        (("starts", 0), [], "type"),
        (("starts", 0, "at"), [1, 2, 3], "place"),
        (("starts", 0, "at"), "middle", "place"),
        (("starts", 0, "at"), {"x": 1, "y": 2}, "place"),
        (("starts", 0, "at", 0), True, "type"),
        (("phases", 0, "rotation"), "yes", "type"),
        (("phases", 0, "actions", 0, "path", 0), {"x": 1, "y": 2}, "place"),
        (("needs", 0, "level"), 2.5, "type"),
        (("needs", 0, "level"), 2.9999, "type"),
        (("needs", 0, "level"), "4", "type"),
        (("spot", "colour"), "red", "unknown_key"),
        (("phases", 0, "actions", 0, "teach"), "one", "type"),
        (("use",), "a" * (MAX_TEXT + 1), "long_text"),
        (("use",), "bell\x07", "odd_text"),
        (("use",), "half \ud83d", "odd_text"),
        (("starts", 0, "at", 0), 1e9, "large_number"),
        (("needs", 0, "level"), 10**40, "large_number"),
        (("teach",), ["a"] * (MAX_ITEMS + 1), "long_list"),
        (("conditions",), {"x": {"x": {"x": {"x": {"x": {"x": {"x": {"x": {"x": {}}}}}}}}}}, "any"),
    ],
)
def test_every_kind_of_fault_is_found_at_its_place(
    path: tuple[str | int, ...], value: object, code: str
) -> None:
    bad = values()
    part = bad
    for token in path[:-1]:
        part = part[token]
    part[path[-1]] = value
    found = faults(bad)
    if code != "any":
        assert found == [("/" + "/".join(map(str, path)), code)]


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b" \n", "empty"),
        (b"PK\x03\x04 not a play", "no_json"),
        (b"\xff\xfe{", "no_text"),
        (b"[1, 2]", "no_play"),
        (b'"play"', "no_play"),
        (b"{" + b" " * MAX_BYTES + b"}", "too_large"),
        (b"[" * 100_000, "no_json"),
        (b'{"a": ' + b"9" * 5000 + b"}", "no_json"),
        (b"{}", "no_version"),
        (b'{"coachbook_play": "1"}', "no_version"),
        (b'{"coachbook_play": true}', "no_version"),
        (b'{"coachbook_play": -1}', "no_version"),
        (b'{"coachbook_play": 2}', "newer"),
    ],
)
def test_what_is_no_play_at_all_is_one_clear_problem(data: bytes, code: str) -> None:
    (problem,) = read_draft(data).problems
    assert problem.code == code
    assert problem.sentence.endswith((".", ")."))


def test_no_json_says_where_it_stops() -> None:
    assert sentences(b'{"coachbook_play": 1,\n "key" "a"}') == [
        "The file is not JSON: it stops making sense at line 2, column 8."
    ]


def test_two_megabytes_are_refused_by_their_size() -> None:
    assert sentences(b"x" * 2_000_000) == ["The file holds 1954 kB; a play holds 256 kB at most."]


def test_nan_infinity_and_keys_written_twice_are_refused_with_everything_else() -> None:
    text = LANTERN.decode()
    text = text.replace("[-7.92, 8.534]", "[NaN, 1e999]", 1)
    text = text.replace('"name": "Lantern",', '"name": "Lantern", "name": "Lamp",')
    text = text.replace('"formation": "box"', '"formation": "boxes"')
    assert faults(text) == [
        ("/name", "twice"),
        ("/starts/0/at/0", "no_number"),
        ("/starts/0/at/1", "no_number"),
        ("/formation", "choice"),
    ]


@pytest.mark.parametrize("key", ["\\ud83d", "\\u0000", "k" * 5000])
def test_keys_that_no_page_could_show_are_told_without_being_shown(key: str) -> None:
    text = LANTERN.decode().replace('"series": "Box"', f'"{key}": 1, "{key}": 2')
    (problem,) = read_draft(text).problems
    assert (problem.place, problem.code) == ("", "odd_key")
    assert problem.sentence == "The play holds a key that is no word of a play."


def test_pointers_are_escaped_by_rfc_6901() -> None:
    bad = values() | {"a/b~c": 1}
    assert faults(bad) == [("/a~1b~0c", "unknown_key")]


def test_values_that_are_no_json_are_refused() -> None:
    assert faults({"coachbook_play": {1, 2}}) == [("", "no_json")]
    circle: dict[str, Any] = {}
    circle["circle"] = circle
    assert faults(circle) == [("", "no_json")]


def test_a_draft_of_version_0_is_carried_forward() -> None:
    play = read_play((DATA / "lantern_version_0.json").read_bytes())
    assert play.court is RuleSet.NFHS
    assert play.starts[1] == Start("2", Point(-1.8, 5.8))
    screen, cut, clear = play.phase("entry").actions
    assert screen.cues == (Cue(Moment.SIGNAL),)
    assert cut.cues == (Cue(Moment.END, "clear-3"),)
    assert clear.cues == ()
    assert play.looks[0].guess == 0.35
    assert b'"coachbook_play":1' in write_play(play)


@pytest.mark.parametrize(
    "part",
    [{}, {"starts": 3}, {"phases": {}}, {"phases": [1, {"actions": 2}]}, {"court": ["84 ft"]}],
)
def test_a_broken_draft_of_version_0_gives_problems(part: dict[str, Any]) -> None:
    assert faults({"coachbook_play": 0, "looks": [{"per_cent": "many"}, 4]} | part)


def test_schema_is_current() -> None:
    """Write it anew with plays.core.document.schema_text when the model has changed."""
    assert SCHEMA.read_text(encoding="utf-8") == schema_text()


def test_schema_is_a_schema_and_takes_the_sample() -> None:
    Draft202012Validator.check_schema(json_schema())
    validator = Draft202012Validator(json_schema())
    assert list(validator.iter_errors(values())) == []
    bad = values()
    bad["needs"][0]["level"] = 6
    bad["looks"][0]["guess"] = -0.1
    bad["phases"][0]["title"] = "  "
    bad["starts"][0]["at"] = [1, 2, 3]
    bad["extra"] = 1
    assert len(list(validator.iter_errors(bad))) == 5


def test_form_holds_every_bound_that_the_schema_publishes() -> None:
    """pydantic walks the types of the model by itself: a bound that form overlooks shows here."""
    kinds = json_schema()["$defs"] | {"Play": json_schema()}
    published = {
        (kind, name): (part["minimum"], part["maximum"])
        for kind, schema in kinds.items()
        for name, one in schema.get("properties", {}).items()
        for part in one.get("anyOf", [one])
        if abs(part.get("maximum", MAX_NUMBER)) != MAX_NUMBER
    }
    ours = {field: tuple(of) for field, of in field_limits().items() if isinstance(of, Range)}
    assert published == ours
    assert ours["Look", "guess"] == (0, 1)
