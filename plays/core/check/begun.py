"""The order in which a play's actions begin, as its diagrams number them."""

from __future__ import annotations

from plays.core.check.moments import moments, numbers
from plays.core.check.setting import Setting, line_of, usual_defence
from plays.core.document.form import problems
from plays.core.play import Play
from plays.core.words.speaker import Voice
from shared.core.language import ENGLISH


def begun(play: Play) -> dict[str, int]:
    """The number, from 1, of each action and look by its id, at the play's own level.

    None of a play whose form is faulty: it has no clock.
    """
    if problems(play):
        return {}
    line = line_of(play, Setting(play.level, defence=usual_defence(play)))
    return numbers(moments(line, Voice(ENGLISH)))
