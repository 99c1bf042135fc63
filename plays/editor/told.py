"""What is said of a step that was taken, where it did more than its gesture shows."""

from __future__ import annotations

from dataclasses import replace

from django.utils.translation import gettext as _

from plays.core.editing.branch import keeps_ball
from plays.core.editing.commands import Act, Bend, Command, OpenGate
from plays.core.editing.looks import makes_room
from plays.core.play import ROLES, Play
from plays.editor.branches import drawn_run

GATE = "gate"
WAY = "way"
INSTEAD = "instead"
ROOM = "room"
DRAFT = "draft"


def then(before: Play, after: Play, command: Command, counter_id: str) -> str:
    """A word for the address: the role that does this next, or what was made; or empty."""
    if isinstance(command, OpenGate):
        return "" if counter_id else GATE
    if isinstance(command, Bend):
        return WAY
    if not isinstance(command, Act):
        return ""
    counter, run = drawn_run(before, counter_id)
    phase = counter.from_phase if counter else command.phase
    if counter and keeps_ball(run, replace(command, phase=phase)):
        return INSTEAD
    if _makes_room(run, drawn_run(after, counter_id)[1]):
        return ROOM
    here = [each for each in run.phases if each.id == phase]
    return command.role if any(a.role == command.role for p in here for a in p.actions) else ""


def _makes_room(before: Play, after: Play) -> bool:
    """Whether a new cut goes too far from the ball to be looked at."""
    known = {each.id for each in before.actions()} | {look.action for look in after.looks}
    return any(each.id not in known and makes_room(after, each) for each in after.actions())


def told(word: str) -> str:
    """The sentence of such a word; empty for any other."""
    said = {
        GATE: _("The gate opens here; the run through it and the closing are in the next phase."),
        INSTEAD: _("This is done instead of the planned pass."),
        ROOM: _("That far the ball is not thrown at this age: it is no look. A tap makes it one."),
        WAY: _("The line goes that way now."),
        DRAFT: _("What is published stays as it is: this begins a new draft."),
    }
    if word in ROLES:
        return _("The %(role)s does this next, after what they do already.") % {"role": word}
    return said.get(word, "")


def busy(role: str) -> str:
    return _("The %(role)s is still busy then: this begins as soon as they are free.") % {
        "role": role
    }
