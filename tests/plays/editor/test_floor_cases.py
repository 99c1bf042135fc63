"""The file that the browser's tests read says what the server's code answers today."""

from __future__ import annotations

import json

from plays.core.editing.apply import applied
from plays.core.editing.commands import Act
from plays.core.play import ActionKind, Point
from tests.plays.core.editing.test_editing import begun
from tests.plays.editor.floor_cases import FILE, GROUND_FILE, cases, ground_text, text


def test_the_cases_of_the_file_are_the_servers_answers() -> None:
    again = "python -m tests.plays.editor.floor_cases"
    assert FILE.read_text("utf-8") == text(), again
    assert GROUND_FILE.read_text("utf-8") == ground_text(), again


def test_there_are_drops_that_snap_and_drops_that_stay_on_every_court() -> None:
    for each in cases()["courts"]:
        moved = [at != to for at, to in each["snaps"]]
        assert any(moved), each["rules"]
        assert not all(moved), each["rules"]


def test_what_the_ring_showed_is_what_the_server_keeps() -> None:
    for _, to in json.loads(FILE.read_text("utf-8"))["courts"][0]["snaps"]:
        play = begun()
        at = Point(*to)
        if abs(at.x) > 7.5 or not 0 <= at.y <= 14:
            continue
        made = applied(play, Act("entry", "2", ActionKind.CUT, at))
        assert made.actions()[0].path == (at,)
