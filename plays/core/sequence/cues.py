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

``CueGraph`` is the one lookup of a play that runs in one way. Nothing here knows a time:
``order`` says in which order times can be computed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from itertools import takewhile

from plays.core.play import ROLES, Action, ActionKind, Cue, CueRule, Moment, Phase, Play, Role
from plays.core.sequence.after_look import entry_of
from plays.core.sequence.course import BALL_MOVERS
from plays.core.sequence.needs import ancestors, circle_in, in_order, knot

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

    rule: CueRule
    cues: tuple[Link, ...]
    implied: tuple[Link, ...]

    @property
    def links(self) -> tuple[Link, ...]:
        return self.cues + self.implied


class CueGraph:
    """The written actions looked up once, and what each of them waits for.

    Of two actions with one id the first counts.
    """

    def __init__(self, play: Play) -> None:
        self.play = play
        self.by_id: dict[str, Action] = {}
        self.written: list[tuple[Phase, Action]] = []
        self.own: dict[Role, list[str]] = {role: [] for role in ROLES}
        self.next: dict[str, str | None] = {}  # what the same role does next
        self.previous: dict[str, Action | None] = {}
        self.carrier: dict[str, str | None] = {}  # the pass that gave the role the ball
        self.place: dict[str, int] = {}
        caught: dict[Role, str] = {}
        for phase in play.phases:
            for action in phase.actions:
                if action.id not in self.by_id:
                    self._write(phase, action, caught)

    def _write(self, phase: Phase, action: Action, caught: dict[Role, str]) -> None:
        own = self.own[action.role]
        self.previous[action.id] = self.by_id[own[-1]] if own else None
        self.next[action.id] = None
        if own:
            self.next[own[-1]] = action.id
        own.append(action.id)
        self.place[action.id] = len(self.written)
        self.written.append((phase, action))
        self.by_id[action.id] = action
        self.carrier[action.id] = caught.get(action.role) if action.kind in BALL_USERS else None
        if action.kind in BALL_MOVERS and action.to is not None:
            caught[action.to] = action.id

    @cached_property
    def throw_in(self) -> Action | None:
        """The pass that brings the ball in, if the play writes one down.

        In a rotation the ball is in already, by a look, if the play has any.
        """
        for phase in self.play.phases:
            if phase.rotation and self.play.looks:
                return None
            for action in phase.actions:
                if action.kind in BALL_MOVERS:
                    thrown = action.kind is ActionKind.PASS and action.role == self.play.thrower
                    return action if thrown else None
        return None

    @cached_property
    def ball_in(self) -> str | None:
        """The action at whose end the throw-in is caught."""
        if self.throw_in is not None:
            return self.throw_in.id
        look = entry_of(self.play) if self.play.thrower is not None else None
        return look.action if look is not None and look.action in self.by_id else None

    @cached_property
    def until_in(self) -> tuple[str, ...]:
        """What the thrower watches until the ball is in: the actions of the looks before that one,
        and its own, which is last."""
        brings = entry_of(self.play) if self.ball_in is not None else None
        if brings is None or self.ball_in != brings.action:
            return () if self.ball_in is None else (self.ball_in,)
        before = takewhile(lambda look: look is not brings, self.play.looks)
        later = {action.id for phase, action in self.written if phase.rotation}
        watched = (
            look.action
            for look in before
            if look.passer == self.play.thrower and look.action in self.by_id.keys() - later
        )
        return (*dict.fromkeys(watched), brings.action)

    @cached_property
    def waits(self) -> Mapping[str, Waits]:
        """What every action waits for, by action id, in written order.

        Cues that name an unknown action are left out: they are for ``problems`` to report.
        """
        plain = {action.id: _plain(self, phase, action) for phase, action in self.written}
        edges = _edges(self, plain)
        for leaver, cutter in _shoulders(self):
            if cutter != leaver and leaver not in ancestors(edges, cutter):
                shoulder = Link(Why.SHOULDER, Moment.PASSES, cutter)
                plain[leaver] = replace(plain[leaver], implied=(*plain[leaver].implied, shoulder))
                edges[leaver].add(cutter)
        return plain

    @cached_property
    def before(self) -> Mapping[str, frozenset[str]]:
        """The actions whose times must be known before an action's own start can be, by id."""
        return {id_: frozenset(found) for id_, found in _edges(self, self.waits).items()}

    def order(self) -> tuple[str, ...]:
        """All actions so that each comes after all it waits for, else as written.

        Raises CueCycleError.
        """
        found, left = in_order(self.before)
        if left:
            raise CueCycleError(circle_in(left))
        return found

    def cycles(self) -> tuple[tuple[str, ...], ...]:
        """A circle for every knot of actions that wait for one another; empty when all is well."""
        _, left = in_order(self.before)
        found = []
        while left:
            circle = circle_in(left)
            found.append(circle)
            gone = knot(left, circle[0])
            _, left = in_order({id_: left[id_] - gone for id_ in left if id_ not in gone})
        return tuple(found)

    def cutter_of(self, screen: Action) -> str | None:
        """The action in which the cutter uses a screen, or None.

        It is the cutter's move that waits for this screen; else the next one written after it.
        """
        own = [self.by_id[id_] for id_ in self.own.get(screen.cutter, ())] if screen.cutter else []
        moves = [action for action in own if action.kind in MOVING and action.path]
        for move in moves:
            if any(cue.action == screen.id and cue.on is not Moment.PASSES for cue in move.cues):
                return move.id
        here = self.place.get(screen.id, -1)
        return next((move.id for move in moves if self.place[move.id] > here), None)

    def catching(self, made: Action) -> str | None:
        """What the receiver of a pass has last done before it, as written, passes aside."""
        own = [self.by_id[id_] for id_ in self.own[made.to]] if made.to else []
        earlier = [
            action.id
            for action in own
            if self.place[action.id] < self.place[made.id] and action.kind not in BALL_MOVERS
        ]
        return earlier[-1] if earlier else None


def _plain(script: CueGraph, phase: Phase, action: Action) -> Waits:
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
    if phase.rotation and action.id != script.ball_in:
        implied.append(Link(Why.ROTATION, Moment.BALL_IN))
    return Waits(action.cue_rule, cues, tuple(implied))


def _known(script: CueGraph, cue: Cue) -> bool:
    if cue.on in (Moment.SIGNAL, Moment.BALL_IN):
        return True
    return cue.action in script.by_id


def _link(script: CueGraph, action: Action, cue: Cue) -> Link:
    if cue.on in (Moment.SIGNAL, Moment.BALL_IN):
        return Link(Why.CUE, cue.on, wait=cue.wait)
    if _own_standing(script, action, cue):
        moment = _released(script.by_id[cue.action or ""])
        return Link(Why.CUE, moment, cue.action, wait=cue.wait)
    return Link(Why.CUE, cue.on, cue.action, cue.point, cue.wait)


def _own_standing(script: CueGraph, action: Action, cue: Cue) -> bool:
    """Whether it waits for its own screen or hold to end, which ends only as it starts."""
    last = script.previous[action.id]
    mine = last is not None and last.id == cue.action and last.kind in STANDING
    return mine and cue.on is Moment.END


def _released(last: Action) -> Moment:
    """The moment at which a role is free for its next action."""
    if last.kind is ActionKind.SCREEN:
        return Moment.SET
    return Moment.START if last.kind is ActionKind.HOLD else Moment.END


def _shoulders(script: CueGraph) -> Iterator[tuple[str, str]]:
    """(the screener's next action if nothing else cues it, the cutter's action)."""
    for _, action in script.written:
        leaver = script.by_id.get(script.next[action.id] or "")
        if action.kind is not ActionKind.SCREEN or leaver is None:
            continue
        cutter = script.cutter_of(action)
        if cutter is not None and all(_own_standing(script, leaver, cue) for cue in leaver.cues):
            yield leaver.id, cutter


Edges = dict[str, set[str]]


def _edges(script: CueGraph, waiting: Mapping[str, Waits]) -> Edges:
    return {
        id_: {source for link in found.links for source in _sources(script, link)}
        for id_, found in waiting.items()
    }


def _sources(script: CueGraph, link: Link) -> Iterator[str]:
    """The actions that a link needs to have been timed."""
    if link.moment is Moment.BALL_IN:
        yield from script.until_in
    elif link.action is not None:
        yield link.action
        standing = script.by_id[link.action].kind in STANDING
        leaver = script.next[link.action]
        if link.moment is Moment.END and standing and leaver is not None:
            yield leaver
