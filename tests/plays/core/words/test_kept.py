"""What a role of a demo play is told stays as somebody has read it, in both languages.

The demo plays are ours and so are their words. A change's own diff shows which it has moved.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, Play
from plays.core.words.part import part_of
from plays.core.words.role_part import RolePart
from tests.kept import assert_same
from tests.languages import language
from tests.plays.core.demo_plays import DEMO


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_a_part_is_told_as_before(play: Play, code: str) -> None:
    lines = [line for call in all_calls(play) for line in told(call, code)]
    assert_same("\n".join(lines) + "\n", __file__, f"{play.key}-{code}.txt")


def told(play: Play, code: str) -> Iterator[str]:
    """What each role reads, a line for each sentence or step, then what each counter changes."""
    for role in ROLES:
        part = part_of(play, role, None, language(code))
        yield f"{play.key} {role}"
        yield from _lines(part)
        for counter in part.counters:
            yield f"  {counter.title} {counter.says} {counter.same}"
            yield from (f"    {change.kind.value}: {change.text}" for change in counter.changes)


def _lines(part: RolePart) -> Iterator[str]:
    yield from part.start
    yield from (f"{step.text} {' '.join(step.teach)}".strip() for step in part.steps)
    yield from (look.text for look in part.looks)
    yield from (f"{reading.phase}: {reading.sentence}" for reading in part.readings)
    yield from filter(None, (part.ending, part.no_look, part.note, *part.calls))
