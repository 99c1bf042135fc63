"""Redrawing from a phase on: a gesture made in a counter is stored as its difference."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from plays.core.editing.commands import Act, InRun, OpenGate
from plays.core.editing.looks import thrown_at
from plays.core.editing.refused import EARLIER, GONE, RefusedError
from plays.core.editing.remove import without_action
from plays.core.play import Action, Counter, Play
from plays.core.sequence.course import BALL_MOVERS, scenes, with_counter
from plays.core.sequence.cues import BALL_USERS

Edit = Callable[[Play, InRun], Play]


def branched(play: Play, counter: str, command: InRun, edit: Edit) -> Play:
    """The play whose counter holds what the edit changes in its run. Raises RefusedError."""
    found = _counter(play, counter)
    if isinstance(command, Act | OpenGate):
        # What a counter adds joins the phase in which it begins.
        command = replace(command, phase=found.from_phase)
    before = with_counter(play, found)
    # The other counters stay in sight, and what goes does, so that no id is given twice.
    gone = _planned_throw(before, command)
    known = (*play.counters, replace(found, id="", add=gone))
    after = edit(replace(_unthrown(before, gone), counters=known), command)
    after = without_action(after, _planned_later(before, command))
    if isinstance(command, Act):
        after = _answer_first(before, after)
    return _stored(play, found, before, after)


def keeps_ball(run: Play, command: InRun) -> bool:
    """Whether somebody has thrown the ball away already: in a counter they have not yet."""
    return bool(_planned_throw(run, command))


def _planned_throw(run: Play, command: InRun) -> tuple[Action, ...]:
    """The same person's throw in that phase, with all that is done with the ball after it."""
    if not isinstance(command, Act) or command.kind not in BALL_USERS:
        return ()
    first = [phase.id for phase in run.phases].index(command.phase)
    here = scenes(run)[first]
    if here.at_the_end()[1] == command.role:
        return ()
    written = [
        *here.phase.actions,
        *(a for phase in run.phases[first + 1 :] for a in phase.actions),
    ]
    thrown = [
        n
        for n, each in enumerate(here.phase.actions)
        if each.role == command.role and each.kind in BALL_MOVERS
    ]
    if not thrown:
        return ()
    return tuple(each for each in written[thrown[-1] :] if each.kind in BALL_USERS)


def _unthrown(run: Play, gone: tuple[Action, ...]) -> Play:
    """The run in which that ball is still in hand; who would have had it throws no look."""
    if not gone:
        return run
    thrower, had = gone[0].role, {each.to for each in gone}
    left = without_action(run, {each.id for each in gone})
    looks = (replace(look, passer=thrower) if look.passer in had else look for look in left.looks)
    return replace(left, looks=tuple(look for look in looks if look.receiver != look.passer))


def _answer_first(before: Play, after: Play) -> Play:
    """Whoever gets free or the ball by what is drawn in a counter is looked at first there."""
    known, looks = {each.id for each in before.actions()}, {look.id for look in before.looks}
    throws = [a for a in after.actions() if a.id not in known and a.kind in BALL_MOVERS]
    for each in throws:
        after = thrown_at(after, each)
    thrown = {each.to for each in throws}
    new = [look for look in after.looks if look.id not in looks or look.receiver in thrown]
    return replace(after, looks=(*new, *(look for look in after.looks if look not in new)))


def _planned_later(run: Play, command: InRun) -> set[str]:
    """What somebody who goes elsewhere now was to do in later phases: it is done no more."""
    if not isinstance(command, Act) or command.kind in BALL_MOVERS:
        return set()
    first = [phase.id for phase in run.phases].index(command.phase)
    later = (each for phase in run.phases[first + 1 :] for each in phase.actions)
    return {each.id for each in later if each.role == command.role}


def with_run(play: Play, counter: str, run: Play) -> Play:
    """The play whose counter is run like this from its phase on. Raises RefusedError."""
    found = _counter(play, counter)
    return _stored(play, found, with_counter(play, found), run)


def _counter(play: Play, counter: str) -> Counter:
    found = {each.id: each for each in play.counters}.get(counter)
    if found is None or found.from_phase not in {phase.id for phase in play.phases}:
        raise RefusedError(GONE)
    return found


def _stored(play: Play, counter: Counter, before: Play, after: Play) -> Play:
    changed = _difference(play, counter, before, after)
    counters = tuple(changed if each.id == counter.id else each for each in play.counters)
    return replace(play, counters=counters)


def _difference(play: Play, counter: Counter, before: Play, after: Play) -> Counter:
    first = [phase.id for phase in play.phases].index(counter.from_phase)
    if after.phases[:first] != before.phases[:first]:
        raise RefusedError(EARLIER)
    base = {each.id: each for phase in play.phases[first:] for each in phase.actions}
    now = {each.id: each for phase in after.phases[first:] for each in phase.actions}
    return replace(
        counter,
        remove=tuple(id_ for id_ in base if id_ not in now),
        replace=_swaps(counter, base, now),
        add=tuple(each for id_, each in now.items() if id_ not in base),
        looks=counter.looks if after.looks == before.looks else after.looks,
    )


def _swaps(counter: Counter, base: dict[str, Action], now: dict[str, Action]) -> tuple[Action, ...]:
    """What is done otherwise; in the order in which it was, so that nothing seems to change."""
    changed = {id_: each for id_, each in now.items() if id_ in base and each != base[id_]}
    old = [each.id for each in counter.replace if each.id in changed]
    return tuple(changed[id_] for id_ in [*old, *(i for i in changed if i not in old)])
