"""Diagrams, the strip and the keys to their signs stay as somebody approved them by eye.

The plays are ours and so are the looks of their lines; no source outside says how they are drawn.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from plays.core.defence.verdict import Word
from plays.core.drawing.legend import legend
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.overview import overview
from plays.core.drawing.phase import diagram
from plays.core.drawing.strip import ActionBar, LookBar, Mark, Row, Strip
from plays.core.drawing.strip_picture import strip_picture
from plays.core.play import Defence
from shared.core.drawing.picture import Picture
from shared.core.language import ENGLISH
from tests.kept import assert_kept
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, MILLWHEEL, NAMES, QUAYSIDE

THIRD = replace(GATEHOUSE.phases[1], id="again", title="Again", actions=(), rotation=False)
STRIP = Strip(
    (
        Row(
            "1",
            (ActionBar("throw", 2.6, 3.1, "b1", "pass"), ActionBar("move", 3.4, 5.6, "b2", "cut")),
            (Mark("release", 2.6, "b1"), Mark("finding", 1.2, "late", "warning")),
            (),
        ),
        Row(
            "2",
            (ActionBar("move", 0.9, 2.4, "a3", "cut"), ActionBar("move", 3.0, 3.5, "b5", "cut")),
            (Mark("finding", 2.2, "crowded", "serious"),),
            (
                LookBar("l1", 1, 1.4, 2.6, 1.6, 2.2, Word.OPEN, late=False),
                LookBar("l4", 4, 2.0, 3.2, 2.4, None, Word.COVERED, late=False),
            ),
        ),
        Row(
            "3",
            (ActionBar("move", 0.0, 5.4, "a4", "dribble"),),
            (),
            (
                LookBar("l2", 2, 1.8, 3.6, 2.0, 3.0, Word.CONTESTED, late=False),
                LookBar("l5", 5, 5.2, 5.2, 5.2, 5.2, Word.PAST, late=True),
            ),
        ),
        Row(
            "4",
            (
                ActionBar("screen", 0.2, 1.0, "a1", "screen"),
                ActionBar("held", 1.0, 3.0, "a1", "screen"),
            ),
            (Mark("set", 1.0, "a1"),),
            (LookBar("l6", 6, 2.0, 4.0, 2.0, 3.0, Word.OPEN, late=False, read=Defence.SWITCH),),
        ),
        Row(
            "5",
            (ActionBar("move", 4.7, 5.9, "a5", "shot"),),
            (Mark("catch", 3.1, "b1"),),
            (LookBar("l3", 3, 0.4, 2.2, 1.0, 1.4, None, late=False),),
        ),
    ),
    signal=0.5,
    count=5.0,
    until=6.2,
)  # fmt: skip
FULL = Drawing(emphasis="2", names=NAMES, label="both", defenders=True)
NUMBERS = {"b1": 1, "b2": 2, "b3": 3, "b4": 4, "b5": 5}

PICTURES: dict[str, Callable[[], Picture]] = {
    "gate": lambda: diagram(GATEHOUSE, "gate", FULL),
    "gate-on-a-page": lambda: diagram(GATEHOUSE, "gate", on_page(FULL, ENGLISH)),
    "gate-against-a-switch": lambda: diagram(GATEHOUSE, "gate", Drawing(), counter="switch"),
    "finish-in-print": lambda: diagram(GATEHOUSE, "finish", replace(FULL, scheme="print")),
    "screens": lambda: diagram(MILLWHEEL, "screens", Drawing(names=NAMES, label="name")),
    "hand-off-in-the-dark": lambda: diagram(
        MILLWHEEL, "handoff", Drawing(numbers=NUMBERS, scheme="dark")
    ),
    "whole-court": lambda: diagram(QUAYSIDE, "free", Drawing(names=NAMES, label="both")),
    "two-phases": lambda: overview(MILLWHEEL, Drawing(names=NAMES)),
    "three-phases": lambda: overview(replace(GATEHOUSE, phases=(*GATEHOUSE.phases, THIRD))),
    "legend": lambda: legend(emphasis=True, numbered=True, defenders=True),
    "legend-in-print": lambda: legend("print", width=220.0, size=9.5),
    "strip": lambda: strip_picture(STRIP, "Gatehouse", names=NAMES),
    "strip-on-a-phone": lambda: strip_picture(STRIP, "Gatehouse", width=224.0, scheme="print"),
    "strip-without-a-count": lambda: strip_picture(
        replace(STRIP, count=None, signal=0.0), "Gatehouse", scheme="dark"
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_drawn_as_it_was_approved(name: str) -> None:
    assert_kept(PICTURES[name](), __file__, name)
