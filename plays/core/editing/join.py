"""Two screens for one cutter that work together."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.commands import JoinScreens
from plays.core.editing.refused import GONE, RefusedError
from plays.core.play import Action, ActionKind, Joint, Phase, Play


def partner_of(phase: Phase, action: Action) -> Action | None:
    """The other screen for the same cutter in the phase, by somebody else."""
    for each in phase.actions:
        alike = each.kind is action.kind is ActionKind.SCREEN and each.cutter == action.cutter
        if alike and each.role != action.role:
            return each
    return None


def joined(play: Play, command: JoinScreens) -> Play:
    """The play in which the two open together, or each stands alone. Raises RefusedError."""
    for phase in play.phases:
        for action in phase.actions:
            partner = partner_of(phase, action)
            if action.id == command.action and partner is not None:
                return _with_joint(play, phase, (action, partner), command)
    raise RefusedError(GONE)


def _with_joint(play: Play, phase: Phase, two: tuple[Action, Action], command: JoinScreens) -> Play:
    ids = sorted(each.id for each in two)
    joint = None if command.shape is None else Joint(f"with {ids[0][:50]}", command.shape)
    actions = tuple(
        replace(each, joint=joint) if each.id in ids else each for each in phase.actions
    )
    changed = replace(phase, actions=actions)
    phases = tuple(changed if each.id == phase.id else each for each in play.phases)
    return replace(play, phases=phases)
