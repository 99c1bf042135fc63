"""The order in which a play's actions begin, as its diagrams number them."""

from __future__ import annotations

from collections.abc import Iterable

from plays.core.check.after import OwnWay, further_ways
from plays.core.check.moments import moments, numbers
from plays.core.check.setting import Setting, line_of, usual_defence
from plays.core.document.form import problems
from plays.core.motion.timeline import Timeline
from plays.core.play import Play
from plays.core.words.speaker import Voice
from shared.core.language import ENGLISH


def begun(play: Play) -> dict[str, int]:
    """The number, from 1, of each action and look by its id, at the play's own level.

    None of a play whose form is faulty: it has no clock. What is kept for a look goes on from what
    all ways have in common.
    """
    if problems(play):
        return {}
    setting = Setting(play.level, defence=usual_defence(play))
    first = numbers(moments(line_of(play, setting), Voice(ENGLISH)))
    return first | begun_further(play, setting)


def begun_further(play: Play, setting: Setting) -> dict[str, int]:
    """The same of what is run after other looks than the first; empty where a play has no such.

    The play must be sound.
    """
    return begun_in((way, line_of(way.play, setting)) for way in further_ways(play))


def begun_in(further: Iterable[tuple[OwnWay, Timeline]]) -> dict[str, int]:
    """The same, of further ways whose timelines are there already."""
    found = dict[str, int]()
    for way, line in further:
        more = numbers(moments(line, Voice(ENGLISH)))
        found |= {id_: number for id_, number in more.items() if id_ in way.actions}
    return found
