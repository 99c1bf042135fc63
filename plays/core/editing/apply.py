"""A command applied to a play gives a play; what points at a removed thing goes with it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from plays.core.court.courts import Court, court
from plays.core.document.floor import APRON
from plays.core.editing.act import acted
from plays.core.editing.after import kept_for
from plays.core.editing.branch import branched
from plays.core.editing.commands import (
    Act,
    AddCounter,
    AddPhase,
    Bend,
    Command,
    InRun,
    JoinScreens,
    MovePoint,
    OfPlay,
    OpenGate,
    OrderLooks,
    Place,
    RemoveAction,
    RemoveCounter,
    RemovePhase,
    RenamePhase,
    Restore,
    SetAfter,
    SetCue,
    SetHow,
    SetOther,
    SetWhose,
    Stand,
)
from plays.core.editing.gate import gated
from plays.core.editing.join import for_another, joined
from plays.core.editing.looks import may_receive, ordered
from plays.core.editing.phases import swapped
from plays.core.editing.refused import (
    COUNTER_PLACE,
    GONE,
    LAST_PHASE,
    NOBODY,
    OFF_COURT,
    TITLE,
    RefusedError,
)
from plays.core.editing.remove import without_action, without_phase
from plays.core.editing.reroute import bent
from plays.core.editing.stand import stood
from plays.core.limits import MAX_NAME
from plays.core.play import Action, ActionKind, Counter, Cue, Phase, Play, Point, Spot
from plays.core.shorthand.naming import slug


def applied(play: Play, command: Command, counter: str | None = None) -> Play:
    """The play after a gesture, made in a counter or in the play itself. Raises RefusedError."""
    if isinstance(command, Restore):
        return replace(command.play, key=play.key)
    if counter is None:
        return _plainly(play, command)
    if not isinstance(command, InRun):
        if isinstance(command, Place):
            raise RefusedError(COUNTER_PLACE)
        return _plainly(play, command)
    return branched(play, counter, command, in_run)


def _plainly(play: Play, command: InRun | OfPlay) -> Play:
    match command:
        case Place() | Stand():
            return _begun(play, command)
        case AddPhase():
            return _with_phase(play, command.title)
        case AddCounter():
            return _with_counter(play, command)
        case RemovePhase() | RenamePhase() | SetAfter():
            return _changed_phase(play, command)
        case RemoveCounter() | SetWhose():
            return _changed_counter(play, command)
        case _:
            return in_run(play, command)


def in_run(play: Play, command: InRun) -> Play:
    """What can be done in the play and, on its run, in a counter alike. Raises RefusedError."""
    match command:
        case Act() | OpenGate():
            return _done(play, command)
        case MovePoint() | Bend():
            return _rerouted(play, command)
        case SetCue() | SetOther() | SetHow():
            return _set(play, command)
        case JoinScreens():
            return joined(play, command)
        case OrderLooks():
            return ordered(play, command.actions)
        case RemoveAction():
            _changed(play, command.action, lambda each: each)
            return without_action(play, {command.action})


def _begun(play: Play, command: Place | Stand) -> Play:
    if isinstance(command, Stand):
        return stood(play, command.formation)
    return _placed(play, command)


def _done(play: Play, command: Act | OpenGate) -> Play:
    _has_phase(play, command.phase)
    if isinstance(command, OpenGate):
        return gated(play, command)
    if command.at is not None:
        _inside(play, command.at, thrower=command.role == play.thrower)
    return acted(play, command)


def _placed(play: Play, command: Place) -> Play:
    floor = court(play.court)
    at, spot = command.at, play.spot
    if command.role == play.thrower:
        spot = _spot_at(floor, at)
        at = floor.spot_place(spot)
    else:
        _inside(play, at, thrower=False)
    if command.role not in {start.role for start in play.starts}:
        raise RefusedError(GONE)
    starts = tuple(
        replace(start, at=at) if start.role == command.role else start for start in play.starts
    )
    return replace(play, starts=starts, spot=spot)


def _spot_at(floor: Court, at: Point) -> Spot:
    """The nearest place on the sidelines or the baseline; the far end is for words."""
    side = "left" if at.x < 0 else "right"
    across, up = floor.half_width - abs(at.x), at.y
    if up < across:
        return Spot("baseline", side, round(min(abs(at.x), floor.half_width), 3))  # type: ignore[arg-type]
    return Spot("sideline", side, round(min(max(at.y, 0.0), floor.length), 3))  # type: ignore[arg-type]


def _inside(play: Play, at: Point, *, thrower: bool) -> None:
    if not court(play.court).contains(at, -APRON if thrower else 0.0):
        raise RefusedError(OFF_COURT)


def _has_phase(play: Play, phase: str) -> None:
    if all(each.id != phase for each in play.phases):
        raise RefusedError(GONE)


def _changed(play: Play, action: str, change: Callable[[Action], Action]) -> Play:
    if action not in {each.id for each in play.actions()}:
        raise RefusedError(GONE)
    phases = tuple(
        replace(
            phase,
            actions=tuple(change(each) if each.id == action else each for each in phase.actions),
        )
        for phase in play.phases
    )
    return replace(play, phases=phases)


def _set(play: Play, command: SetCue | SetOther | SetHow) -> Play:
    if isinstance(command, SetHow):
        return _done_so(play, command)
    if isinstance(command, SetOther):
        return _given(play, command)
    return _changed(play, command.action, lambda each: replace(each, cues=_cued(each, command)))


def _cued(action: Action, command: SetCue) -> tuple[Cue, ...]:
    if command.cue is None or not command.also:
        return () if command.cue is None else (command.cue,)
    kept = tuple(cue for cue in action.cues if cue != command.cue)
    return kept if len(kept) < len(action.cues) else (*kept, command.cue)


def _rerouted(play: Play, command: MovePoint | Bend) -> Play:
    action = {each.id: each for each in play.actions()}.get(command.action)
    if action is None or not 0 <= command.point < len(action.path):
        raise RefusedError(GONE)
    _inside(play, command.at, thrower=action.role == play.thrower)
    if isinstance(command, Bend):
        return bent(play, command)
    path = (*action.path[: command.point], command.at, *action.path[command.point + 1 :])
    return swapped(play, replace(action, path=path))


def _given(play: Play, command: SetOther) -> Play:
    """Two who screen together do so for one person: both of them change."""
    changed = _changed(play, command.action, lambda each: _other(each, command))
    action = next(each for each in play.actions() if each.id == command.action)
    return changed if action.joint is None else for_another(play, action, command.other)


def _other(action: Action, command: SetOther) -> Action:
    if command.other == action.role:
        raise RefusedError(NOBODY, action.role)
    if action.kind is ActionKind.SCREEN:
        return replace(action, cutter=command.other)
    if action.kind in (ActionKind.PASS, ActionKind.HANDOFF):
        return replace(action, to=command.other)
    raise RefusedError(GONE)


def _done_so(play: Play, command: SetHow) -> Play:
    """A cut that is not for the ball any more takes its looks along."""
    changed = _changed(play, command.action, lambda each: _how(each, command))
    action = next(each for each in changed.actions() if each.id == command.action)
    if action.kind is not ActionKind.CUT or may_receive(action):
        return changed
    kept = tuple(look for look in play.looks if look.action != action.id)
    return replace(changed, looks=kept)


def _how(action: Action, command: SetHow) -> Action:
    cut = command.cut if action.kind is ActionKind.CUT else None
    thrown = command.pass_kind if action.kind is ActionKind.PASS else None
    return replace(
        action,
        cut=cut or action.cut,
        pass_kind=thrown or action.pass_kind,
        easy=action.easy if command.easy is None else command.easy,
        decoy=action.decoy if command.decoy is None else command.decoy,
    )


def _renamed(play: Play, command: RenamePhase) -> Play:
    """Its id stays: nobody sees it, and counters begin there."""
    _has_phase(play, command.phase)
    if not 0 < len(command.title.strip()) <= MAX_NAME:
        raise RefusedError(TITLE)
    phases = tuple(
        replace(each, title=command.title) if each.id == command.phase else each
        for each in play.phases
    )
    return replace(play, phases=phases)


def _with_phase(play: Play, title: str) -> Play:
    """One more, unless nothing happens in the last one yet: a second tap makes no second phase.

    What happens after a rotation belongs to it.
    """
    last = play.phases[-1] if play.phases else None
    if last and len(play.phases) > 1 and not last.actions:
        return play
    id_ = slug(title, [phase.id for phase in play.phases], "phase")
    made = Phase(id_, title, ()) if last is None else replace(last, id=id_, title=title, actions=())
    return replace(play, phases=(*play.phases, made))


def _changed_phase(play: Play, command: RemovePhase | RenamePhase | SetAfter) -> Play:
    if isinstance(command, RenamePhase):
        return _renamed(play, command)
    if isinstance(command, SetAfter):
        return kept_for(play, command)
    phase = command.phase
    _has_phase(play, phase)
    if len(play.phases) == 1:
        raise RefusedError(LAST_PHASE)
    return without_phase(play, phase)


def _with_counter(play: Play, command: AddCounter) -> Play:
    _has_phase(play, command.phase)
    id_ = slug(command.defence.value, [each.id for each in play.counters], "counter")
    made = Counter(id_, command.defence, command.phase, command.says)
    return replace(play, counters=(*play.counters, made))


def _changed_counter(play: Play, command: RemoveCounter | SetWhose) -> Play:
    if isinstance(command, RemoveCounter):
        kept = tuple(each for each in play.counters if each.id != command.counter)
        return replace(play, counters=kept)
    if command.counter not in {each.id for each in play.counters}:
        raise RefusedError(GONE)
    counters = tuple(
        replace(each, whose=command.whose) if each.id == command.counter else each
        for each in play.counters
    )
    return replace(play, counters=counters)
