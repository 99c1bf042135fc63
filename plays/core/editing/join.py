"""Two screens for one cutter that work together."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.commands import JoinScreens
from plays.core.editing.gate import opened_for
from plays.core.editing.guess import closes
from plays.core.editing.phases import swapped
from plays.core.editing.refused import GONE, NOBODY, RefusedError
from plays.core.editing.remove import without_action
from plays.core.play import Action, ActionKind, Joint, JointShape, Phase, Play, Role


def partner_of(phase: Phase, action: Action) -> Action | None:
    """The other screen for the same cutter in the phase, by somebody else; none that closes."""
    if closes(action):
        return None
    for each in phase.actions:
        alike = each.kind is action.kind is ActionKind.SCREEN and each.cutter == action.cutter
        if alike and each.role != action.role and not closes(each):
            return each
    return None


def joined(play: Play, command: JoinScreens) -> Play:
    """The play in which the two open together, or each stands alone. Raises RefusedError."""
    for phase in play.phases:
        for action in phase.actions:
            partner = partner_of(phase, action)
            if action.id == command.action and partner is not None:
                return _with_joint(play, (action, partner), command)
    raise RefusedError(GONE)


def for_another(play: Play, action: Action, cutter: Role) -> Play:
    """The play in which a screen and those that work with it free somebody else."""
    name = action.joint.name if action.joint else ""
    together = [each for each in play.actions() if each.joint and each.joint.name == name]
    if cutter in {each.role for each in together}:
        raise RefusedError(NOBODY, cutter)
    if action.joint and action.joint.shape is JointShape.GATE:
        return opened_for(play, action, cutter)
    return swapped(play, *(replace(each, cutter=cutter) for each in together))


def _with_joint(play: Play, two: tuple[Action, Action], command: JoinScreens) -> Play:
    """What closed behind the cutter goes where there is no gate any more."""
    names = {each.joint.name for each in two if each.joint}
    if command.shape is not JointShape.GATE:
        shutting = [each for each in play.actions() if closes(each)]
        play = without_action(play, {e.id for e in shutting if e.joint and e.joint.name in names})
    first = min(each.id for each in two)
    joint = None if command.shape is None else Joint(f"with {first[:50]}", command.shape)
    return swapped(play, *(replace(each, joint=joint) for each in two))
