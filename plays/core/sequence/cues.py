"""What each action waits for: the cue graph of a play.

Written cues are those of the document, taken together by the action's ``cue_rule``. On top of
them come links that no coach writes, all of which must be fulfilled too:

- OWN: a role does one thing after the other. A screen holds the role until it is set, a hold
  not at all, anything else until it is done.
- SHOULDER: without another cue a screener leaves once the cutter has run past the screen,
  unless the cutter waits for that very leaving.
- BALL: who passes, hands off, dribbles or shoots must have caught the ball first.
- ROTATION: what stands in a rotation phase waits for the throw-in to be caught.
- SIGNAL: a role's first action without a cue waits for the signal.

Nothing here knows a time: ``order`` says in which order times can be computed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from heapq import heapify, heappop, heappush

from plays.core.play import Action, ActionKind, Cue, CueRule, Moment, Phase, Play, Role
from plays.core.sequence.course import BALL_MOVERS

BALL_USERS = (ActionKind.PASS, ActionKind.HANDOFF, ActionKind.DRIBBLE, ActionKind.SHOT)
STANDING = (ActionKind.SCREEN, ActionKind.HOLD)  # these end when the role's next action starts
MOVING = (ActionKind.CUT, ActionKind.DRIBBLE, ActionKind.SHOT)


class CueCycleError(ValueError):
    """Actions wait for one another in a circle; ``circle`` names them in waiting order."""

    def __init__(self, circle: tuple[str, ...]) -> None:
        super().__init__("these actions wait for one another: " + ", ".join(circle))
        self.circle = circle


class Why(StrEnum):
    """Where a link comes from."""

    CUE = "cue"
    OWN = "own"
    SHOULDER = "shoulder"
    BALL = "ball"
    ROTATION = "rotation"
    SIGNAL = "signal"


@dataclass(frozen=True, slots=True)
class Link:
    """One moment that an action waits for, and ``wait`` seconds after it.

    ``action`` is None for SIGNAL and BALL_IN only. A SHOULDER link has the moment PASSES
    without a ``point``: where the cutter's path passes the screen is for the clock to find.
    """

    why: Why
    moment: Moment
    action: str | None = None
    point: int | None = None
    wait: float = 0.0


@dataclass(frozen=True, slots=True)
class Waits:
    """Everything one action waits for: its cues by ``rule``, and all of ``implied``."""

    action: str
    rule: CueRule
    cues: tuple[Link, ...]
    implied: tuple[Link, ...]

    @property
    def links(self) -> tuple[Link, ...]:
        return self.cues + self.implied


def waits(play: Play) -> dict[str, Waits]:
    """What every action waits for, by action id, in written order.

    Cues that name an unknown action are left out: they are for ``problems`` to report.
    """
    script = _Script(play)
    plain = {action.id: _plain(script, phase, action) for phase, action in script.written}
    edges = _edges(script, plain)
    for leaver, cutter in _shoulders(script):
        if cutter != leaver and leaver not in _ancestors(edges, cutter):
            shoulder = Link(Why.SHOULDER, Moment.PASSES, cutter)
            plain[leaver] = replace(plain[leaver], implied=(*plain[leaver].implied, shoulder))
            edges[leaver].add(cutter)
    return plain


def before(play: Play) -> dict[str, frozenset[str]]:
    """The actions whose times must be known before an action's own start can be, by action id."""
    script = _Script(play)
    return {id_: frozenset(found) for id_, found in _edges(script, waits(play)).items()}


def order(play: Play) -> tuple[str, ...]:
    """All actions so that each comes after all it waits for, else as written.

    Raises CueCycleError.
    """
    found, left = _sorted(before(play))
    if left:
        raise CueCycleError(_circle(left))
    return found


def cycles(play: Play) -> tuple[tuple[str, ...], ...]:
    """One circle for every knot of actions that wait for one another; empty when all is well."""
    _, left = _sorted(before(play))
    found = []
    while left:
        circle = _circle(left)
        found.append(circle)
        knot = _knot(left, circle[0])
        _, left = _sorted({key: value - knot for key, value in left.items() if key not in knot})
    return tuple(found)


def throw_in(play: Play) -> Action | None:
    """The pass that brings the ball in, if the play writes one down.

    In a rotation the ball is in already, by a look, if the play has any.
    """
    for phase in play.phases:
        if phase.rotation and play.looks:
            return None
        for action in phase.actions:
            if action.kind in BALL_MOVERS:
                thrown = action.kind is ActionKind.PASS and action.role == play.thrower
                return action if thrown else None
    return None


def cutter_of(play: Play, screen: Action) -> str | None:
    """The action in which the cutter uses a screen, or None.

    It is the cutter's move that waits for this screen; else the next one written after it.
    """
    return _cutter_of(_Script(play), screen)


def next_of_role(play: Play, action_id: str) -> str | None:
    """What the same role does next. Raises KeyError for an unknown action."""
    return _Script(play).next[action_id]


class _Script:
    """The written actions, looked up once. Of two with one id the first counts."""

    def __init__(self, play: Play) -> None:
        self.play = play
        self.by_id: dict[str, Action] = {}
        self.written: list[tuple[Phase, Action]] = []
        self.previous: dict[str, Action | None] = {}
        self.next: dict[str, str | None] = {}
        self.carrier: dict[str, str | None] = {}  # the pass that gave the role the ball
        self.place: dict[str, int] = {}
        latest: dict[Role, Action] = {}
        caught: dict[Role, str] = {}
        for phase in play.phases:
            for action in phase.actions:
                if action.id not in self.by_id:
                    self._write(phase, action, latest, caught)

    def _write(
        self, phase: Phase, action: Action, latest: dict[Role, Action], caught: dict[Role, str]
    ) -> None:
        self.place[action.id] = len(self.written)
        self.written.append((phase, action))
        self.by_id[action.id] = action
        self.previous[action.id] = last = latest.get(action.role)
        self.next[action.id] = None
        if last is not None:
            self.next[last.id] = action.id
        latest[action.role] = action
        self.carrier[action.id] = caught.get(action.role) if action.kind in BALL_USERS else None
        if action.kind in BALL_MOVERS and action.to is not None:
            caught[action.to] = action.id

    def ball_in(self) -> str | None:
        """The action at whose end the throw-in is caught."""
        written = throw_in(self.play)
        if written is not None:
            return written.id
        if self.play.thrower is None or not self.play.looks:
            return None
        first = self.play.looks[0].action
        return first if first in self.by_id else None


def _plain(script: _Script, phase: Phase, action: Action) -> Waits:
    """All links but SHOULDER, which depends on the others."""
    cues = tuple(_link(script, action, cue) for cue in action.cues if _known(script, cue))
    implied = []
    last = script.previous[action.id]
    if last is not None:
        implied.append(Link(Why.OWN, _released(last), last.id))
    elif not cues:
        implied.append(Link(Why.SIGNAL, Moment.SIGNAL))
    carrier = script.carrier[action.id]
    if carrier is not None:
        implied.append(Link(Why.BALL, Moment.END, carrier))
    if phase.rotation and action.id != script.ball_in():
        implied.append(Link(Why.ROTATION, Moment.BALL_IN))
    return Waits(action.id, action.cue_rule, cues, tuple(implied))


def _known(script: _Script, cue: Cue) -> bool:
    if cue.on in (Moment.SIGNAL, Moment.BALL_IN):
        return True
    return cue.action in script.by_id


def _link(script: _Script, action: Action, cue: Cue) -> Link:
    if cue.on in (Moment.SIGNAL, Moment.BALL_IN):
        return Link(Why.CUE, cue.on, wait=cue.wait)
    if _own_standing(script, action, cue):
        moment = _released(script.by_id[cue.action or ""])
        return Link(Why.CUE, moment, cue.action, wait=cue.wait)
    return Link(Why.CUE, cue.on, cue.action, cue.point, cue.wait)


def _own_standing(script: _Script, action: Action, cue: Cue) -> bool:
    """Whether it waits for its own screen or hold to end, which ends only as it starts."""
    last = script.previous[action.id]
    mine = last is not None and last.id == cue.action and last.kind in STANDING
    return mine and cue.on is Moment.END


def _released(last: Action) -> Moment:
    """The moment at which a role is free for its next action."""
    if last.kind is ActionKind.SCREEN:
        return Moment.SET
    return Moment.START if last.kind is ActionKind.HOLD else Moment.END


def _shoulders(script: _Script) -> Iterator[tuple[str, str]]:
    """(the screener's next action if nothing else cues it, the cutter's action)."""
    for _, action in script.written:
        leaver = script.by_id.get(script.next[action.id] or "")
        if action.kind is not ActionKind.SCREEN or leaver is None:
            continue
        cutter = _cutter_of(script, action)
        if cutter is not None and all(_own_standing(script, leaver, cue) for cue in leaver.cues):
            yield leaver.id, cutter


def _cutter_of(script: _Script, screen: Action) -> str | None:
    moves = [
        action
        for _, action in script.written
        if action.role == screen.cutter and action.kind in MOVING and action.path
    ]
    for move in moves:
        if any(cue.action == screen.id and cue.on is not Moment.PASSES for cue in move.cues):
            return move.id
    here = script.place.get(screen.id, -1)
    return next((move.id for move in moves if script.place[move.id] > here), None)


Edges = dict[str, set[str]]


def _edges(script: _Script, waiting: Mapping[str, Waits]) -> Edges:
    return {
        id_: {source for link in found.links for source in _sources(script, link)}
        for id_, found in waiting.items()
    }


def _sources(script: _Script, link: Link) -> Iterator[str]:
    """The actions that a link needs to have been timed."""
    if link.moment is Moment.BALL_IN:
        source = script.ball_in()
        if source is not None:
            yield source
    elif link.action is not None:
        yield link.action
        standing = script.by_id[link.action].kind in STANDING
        leaver = script.next[link.action]
        if link.moment is Moment.END and standing and leaver is not None:
            yield leaver


def _ancestors(edges: Mapping[str, Collection[str]], target: str) -> set[str]:
    """Everything that ``target`` waits for, directly or not; itself only if in a circle."""
    found: set[str] = set()
    left = list(edges.get(target, ()))
    while left:
        source = left.pop()
        if source not in found:
            found.add(source)
            left.extend(edges.get(source, ()))
    return found


def _sorted(
    needed: Mapping[str, Collection[str]],
) -> tuple[tuple[str, ...], dict[str, set[str]]]:
    """(the sorted, what could not be sorted with its own needs among those left)."""
    place = {id_: index for index, id_ in enumerate(needed)}
    missing = {id_: len(set(sources)) for id_, sources in needed.items()}
    followers: dict[str, list[str]] = {id_: [] for id_ in needed}
    for id_, sources in needed.items():
        for source in set(sources):
            followers[source].append(id_)
    ready = [place[id_] for id_, count in missing.items() if count == 0]
    heapify(ready)
    names, found = list(needed), []
    while ready:
        done = names[heappop(ready)]
        found.append(done)
        for follower in followers[done]:
            missing[follower] -= 1
            if missing[follower] == 0:
                heappush(ready, place[follower])
    left = {id_ for id_, count in missing.items() if count > 0}
    return tuple(found), {id_: left & set(needed[id_]) for id_ in names if id_ in left}


def _circle(left: Mapping[str, Collection[str]]) -> tuple[str, ...]:
    """Walk from need to need until one comes again: all that is left waits for something left."""
    place = {id_: index for index, id_ in enumerate(left)}
    walked: list[str] = []
    here = next(iter(left))
    while here not in walked:
        walked.append(here)
        here = min(left[here], key=lambda id_: place[id_])
    circle = walked[walked.index(here) :]
    first = min(range(len(circle)), key=lambda index: place[circle[index]])
    return tuple(circle[first:] + circle[:first])


def _knot(left: Mapping[str, Collection[str]], member: str) -> set[str]:
    """All that wait for ``member`` and that it waits for."""
    return {id_ for id_ in _ancestors(left, member) if member in _ancestors(left, id_)}
