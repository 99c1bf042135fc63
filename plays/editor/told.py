"""What is said of a step that was taken, where it did more than its gesture shows."""

from __future__ import annotations

from django.utils.translation import gettext as _

from plays.core.editing.commands import Act, Command, OpenGate
from plays.core.play import ROLES, Play
from plays.editor.branches import drawn_run

GATE = "gate"


def then(before: Play, command: Command, counter_id: str) -> str:
    """A word for the address: the role that does this next, or that a gate was made; or empty."""
    if isinstance(command, OpenGate):
        return "" if counter_id else GATE
    if not isinstance(command, Act):
        return ""
    counter, run = drawn_run(before, counter_id)
    phase = counter.from_phase if counter else command.phase
    here = [each for each in run.phases if each.id == phase]
    return command.role if any(a.role == command.role for p in here for a in p.actions) else ""


def told(word: str) -> str:
    """The sentence of such a word; empty for any other."""
    if word == GATE:
        return _("The gate opens here; the run through it and the closing are in the next phase.")
    if word in ROLES:
        return _("The %(role)s does this next, after what they do already.") % {"role": word}
    return ""


def busy(role: str) -> str:
    return _("The %(role)s is still busy then: this begins as soon as they are free.") % {
        "role": role
    }
