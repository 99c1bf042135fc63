"""Where each defender wants to be at every moment: stances, switches, help.

Places are complex numbers, x + iy in metres. All distances are choices of ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from plays.core.court.courts import court
from plays.core.defence.march import REACTIONS, Script
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, ActionKind, Defender, Play, Role, Stance
from plays.core.sequence import cues

Guards = NDArray[np.intp]
Helps = NDArray[np.bool_]


class Tactic(StrEnum):
    """How the five defend; the first is the plain man-to-man."""

    CHASE = "chase"  # everybody stays with their man
    SWITCH = "switch"  # men are swapped at screens and crosses
    JUMP = "jump"  # like chase, and all shift towards the ball
    DENY = "deny"  # in the lanes, pressure on the thrower, nobody at the rim
    FRONT = "front"  # in front of whoever posts up
    SAG = "sag"  # everybody packed towards the basket
    TRAP = "trap"  # the thrower's defender doubles the first receiver


GAP = {Tactic.SAG: 2.2}  # metres between man and defender, towards the basket
USUAL_GAP = 1.0
NEAR_BASKET = 0.5  # never further than this share of the way to the basket
IN_THE_LANE = 0.8  # metres towards the ball, denying
IN_FRONT = 0.7  # metres towards the ball, fronting
POST = 3.5  # metres from the basket within which somebody is fronted
SHIFT_FROM = 4.5  # metres from the ball: nearer men are guarded as they are
SHIFT = 0.3  # share of the rest of the way to the ball by which defenders jump to it
SHIFT_MOST = 1.5  # metres
HELP = 3.0  # metres from the basket, towards the ball, at which the helper stands
HELP_MOST = 0.45  # but never further than this share of the way to the ball
AT_RIM = 1.2  # metres, instead, when they sag or front and rely on help behind
PRESSURE = 1.3  # metres in front of the thrower
TIGHT = 0.8  # metres between cutter and screener: shoulder to shoulder, with room for an arm
WIDE = 1.5  # metres at which a defender simply runs through between them
CROSSING = 1.0  # metres within which two cutters cross
CROSS_SPEED = 1.5  # metres per second that both must run
CALL = 0.35  # seconds before the crossing at which a switch is called


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What the defenders see of a play: times (n,), and for each reaction people and ball.

    ``people`` (n, 5) and ``balls`` (n,) are as they were a reaction ago, at the times ``ago``.
    """

    times: Floats
    ago: tuple[Floats, ...]
    people: tuple[Places, ...]
    balls: tuple[Places, ...]


def seen(line: Timeline, *, still_out: bool, step: float, until: float | None = None) -> Seen:
    """The same for every tactic, so that it need not be reckoned for each."""
    end = line.end + 1.0 if until is None else until
    times = np.arange(0.0, end + step / 2.0, step)
    ago = [np.maximum(times - max(line.pace.follow + more, 0.0), 0.0) for more in REACTIONS]
    return Seen(
        times,
        tuple(ago),
        tuple(line.places(then, still_out=still_out) for then in ago),
        tuple(ball_places(line, then, still_out=still_out) for then in ago),
    )


def script(
    line: Timeline,
    tactic: Tactic,
    *,
    still_out: bool,
    step: float = 0.04,
    view: Seen | None = None,
) -> Script:
    """What the defenders want, for each of the three reactions."""
    view = view or seen(line, still_out=still_out, step=step)
    guards = _guards(line, tactic, view.times, still_out=still_out)
    helping = line.play.thrower is not None
    over = np.inf if still_out or line.ball_in is None else line.ball_in
    aims = []
    for ago, people, ball in zip(view.ago, view.people, view.balls, strict=True):
        wanted = _aims(line, tactic, people, ball, guards)
        if helping:
            wanted = _with_helper(line, tactic, wanted, people, ball, helps=ago <= over)
        aims.append(wanted)
    stacked = np.stack(aims, axis=1)
    free = _free(line, tactic, view.times, still_out=still_out)
    begin = np.where(np.isnan(_drawn(line.play)), stacked[0, 1], _drawn(line.play))
    return Script(line.pace, view.times, stacked, begin, guards, free)


def wanted_place(line: Timeline, role: Role, moment: float) -> complex:
    """Where the defender of a role who stands still stands in a plain man-to-man."""
    then = np.array([moment])
    people, balls = line.places(then), ball_places(line, then, still_out=False)
    aims = _aims(line, Tactic.CHASE, people, balls, np.arange(5)[None, :])
    return complex(aims[0, ROLES.index(role)])


def _drawn(play: Play) -> Places:
    """(5,): where the coach drew the defender of each role, or not a number."""
    found = np.full(5, complex(np.nan, np.nan))
    for defender in play.defenders:
        if defender.at is not None:
            found[ROLES.index(defender.guards)] = complex(*defender.at)
    return found


def _aims(line: Timeline, tactic: Tactic, people: Places, balls: Places, guards: Guards) -> Places:
    """(n, 5): the places the defenders go for, by what they see of people and ball."""
    men, ball = np.take_along_axis(people, guards, axis=1), balls[:, None]
    basket = complex(*court(line.play.court).basket)
    aims = _between(men, basket, GAP.get(tactic, USUAL_GAP))
    if tactic is Tactic.JUMP:
        away = np.abs(ball - men)
        steps = np.clip(SHIFT * (away - SHIFT_FROM), 0.0, SHIFT_MOST)
        aims = aims + _unit(ball - men) * steps
    if tactic is Tactic.DENY:
        aims = men + IN_THE_LANE * _unit(ball - men)
    if tactic is Tactic.FRONT:
        near = np.abs(men - basket) < POST
        aims = np.where(near, men + IN_FRONT * _unit(ball - men), aims)
    return _by_stance(line.play, aims, men, ball, basket)


def _with_helper(
    line: Timeline, tactic: Tactic, aims: Places, people: Places, ball: Places, *, helps: Helps
) -> Places:
    """With the thrower's defender helping; once the ball is in, the thrower steps in and is
    guarded like everybody."""
    helper = ROLES.index(line.play.thrower or "1")
    basket = complex(*court(line.play.court).basket)
    place = _help(line, tactic, people, ball, basket)
    aims[:, helper] = np.where(helps, place, aims[:, helper])
    return aims


def _between(men: Places, basket: complex, gap: float) -> Places:
    away = np.abs(basket - men)
    return men + _unit(basket - men) * np.minimum(gap, NEAR_BASKET * away)


def _by_stance(play: Play, aims: Places, men: Places, ball: Places, basket: complex) -> Places:
    """Stances that the coach wrote down go before the tactic's, and so do drawn distances.

    A defender drawn without a stance stays as far from the man, and on the same side of him
    seen from the basket, as drawn.
    """
    for defender in play.defenders:
        k = ROLES.index(defender.guards)
        if defender.stance is None and defender.at is not None:
            aims[:, k] = _as_drawn(play, defender, men[:, k], basket)
        elif defender.stance is Stance.BETWEEN:
            aims[:, k] = _between(men[:, k], basket, USUAL_GAP)
        elif defender.stance is not None:
            step = IN_FRONT if defender.stance is Stance.FRONT else IN_THE_LANE
            aims[:, k] = men[:, k] + step * _unit(ball[:, 0] - men[:, k])
    return aims


def _as_drawn(play: Play, defender: Defender, man: Places, basket: complex) -> Places:
    start = complex(*play.start_of(defender.guards))
    at = defender.at or play.start_of(defender.guards)
    drawn = complex(at.x, at.y)
    way = complex(_unit(np.array([basket - start]))[0])
    side = (drawn - start) * way.conjugate()
    return np.asarray(man + _unit(basket - man) * side)


def _help(
    line: Timeline, tactic: Tactic, everybody: Places, ball: Places, basket: complex
) -> Places:
    helper = ROLES.index(line.play.thrower or "1")
    drawn = _drawn(line.play)[helper]
    if not np.isnan(drawn):
        return np.full(len(ball), drawn)
    first = line.windows[0] if line.windows else None
    if tactic is Tactic.DENY and first is not None:
        return ball + PRESSURE * _unit(first.target - ball)
    if tactic is Tactic.TRAP and first is not None:
        man = everybody[:, ROLES.index(first.look.receiver)]
        return man + IN_THE_LANE * _unit(ball - man)
    away = AT_RIM if tactic in (Tactic.SAG, Tactic.FRONT) else HELP
    steps = np.minimum(away, HELP_MOST * np.abs(ball - basket))
    return basket + steps * _unit(ball - basket)


def ball_places(line: Timeline, times: Floats, *, still_out: bool) -> Places:
    """(n,): where the ball is at sorted times; with ``still_out`` it stays with the thrower."""
    holder = line.play.thrower if still_out and line.play.thrower else line.play.ball
    ball = line.tracks[holder].places(times, line.after_in if still_out else frozenset())
    if still_out:
        return ball
    for flight in line.flights:
        first, last = np.searchsorted(times, [flight.release, flight.catch])
        flown = (times[first:last] - flight.release) / max(flight.catch - flight.release, 1e-9)
        ball[first:last] = flight.origin + flown * (flight.target - flight.origin)
        ball[last:] = line.tracks[flight.receiver].places(times[last:])
    return ball


def _guards(line: Timeline, tactic: Tactic, times: Floats, *, still_out: bool) -> Guards:
    """(n, 5): whom each defender guards."""
    guards = np.tile(np.arange(5), (len(times), 1))
    if tactic is not Tactic.SWITCH:
        return guards
    swaps = sorted(
        [*_screen_swaps(line, still_out=still_out), *_cross_swaps(line, times, still_out=still_out)]
    )
    for moment, one, other in swaps:
        first = int(np.searchsorted(times, moment - CALL))
        row = guards[min(first, len(times) - 1)].copy()
        a, b = int(np.flatnonzero(row == one)[0]), int(np.flatnonzero(row == other)[0])
        guards[first:, a], guards[first:, b] = other, one
    return guards


Swap = tuple[float, int, int]  # when, and the two roles by index


def _screen_swaps(line: Timeline, *, still_out: bool) -> list[Swap]:
    found = []
    for contact in contacts(line):
        span = line.spans[contact.screen]
        late = still_out and contact.screen in line.after_in
        involved = (span.role, contact.cutter)
        if late or line.play.thrower in involved or span.set is None:
            continue
        if span.set <= contact.moment and contact.apart < WIDE:
            found.append((contact.moment, ROLES.index(contact.cutter), ROLES.index(span.role)))
    return found


def _cross_swaps(line: Timeline, times: Floats, *, still_out: bool) -> list[Swap]:
    """Where two cutters run past each other without a screen."""
    men = line.places(times, still_out=still_out)
    speeds = np.abs(np.diff(men, axis=0, prepend=men[:1])) / (times[1] - times[0])
    found = []
    for a in range(5):
        for b in range(a + 1, 5):
            if line.play.thrower in (ROLES[a], ROLES[b]):
                continue
            apart = np.abs(men[:, a] - men[:, b])
            running = np.minimum(speeds[:, a], speeds[:, b]) > CROSS_SPEED
            close = np.where(running, apart, np.inf)
            nearest = int(np.argmin(close))
            if close[nearest] < CROSSING:
                found.append((float(times[nearest]), a, b))
    return found


def _free(line: Timeline, tactic: Tactic, times: Floats, *, still_out: bool) -> Floats:
    """(n, 5): the share of each step in which a defender can move.

    The law: a set screen costs the cutter's defender ``Pace.screened`` seconds from when the
    cutter runs past it, if the cutter brushes by within ``TIGHT``; running wider lets the
    defender through, and at ``WIDE`` it costs nothing. It costs no longer than the screener
    stays. A switch is not held up.
    """
    free = np.ones((len(times), 5))
    if tactic is Tactic.SWITCH:
        return free
    step = times[1] - times[0]
    for hold in holds(line, still_out=still_out):
        lost = np.clip(times - hold.begin, 0.0, step) - np.clip(times - hold.end, 0.0, step)
        free[:, ROLES.index(hold.cutter)] -= lost / step
    return np.clip(free, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Hold:
    """A screen that holds up the defender of ``cutter`` from ``begin`` to ``end``."""

    screen: str
    cutter: Role
    begin: float
    end: float


def holds(line: Timeline, *, still_out: bool = False) -> tuple[Hold, ...]:
    """What each screen costs the cutter's defender."""
    found = []
    for contact in contacts(line):
        span = line.spans[contact.screen]
        if span.set is None or (still_out and contact.screen in line.after_in):
            continue
        until = _left(line, span.role, span.start, still_out=still_out)
        begin = max(contact.moment, span.set)
        late = begin - contact.moment
        tight = min(max((WIDE - contact.apart) / (WIDE - TIGHT), 0.0), 1.0)
        end = min(begin + max(line.pace.screened * tight - late, 0.0), until)
        if end > begin:
            found.append(Hold(contact.screen, contact.cutter, begin, end))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Contact:
    """A cutter running past a screen: when, how near, and in which action."""

    screen: str
    cutter: Role
    action: str
    moment: float
    apart: float


def contacts(line: Timeline) -> tuple[Contact, ...]:
    """Where the cutter of each screen that has one runs past it."""
    found = []
    for action in line.play.actions():
        own = line.move(action.id) if action.kind is ActionKind.SCREEN else None
        used_in = cues.cutter_of(line.play, action) if own is not None else None
        move = None if used_in is None else line.move(used_in)
        if own is None or move is None or used_in is None or action.cutter is None:
            continue
        along, apart = move.run.path.nearest(own.run.path.end)
        moment = move.start + move.run.when(along)
        found.append(Contact(action.id, action.cutter, used_in, moment, apart))
    return tuple(found)


def _left(line: Timeline, role: Role, after: float, *, still_out: bool) -> float:
    """When a role next moves off."""
    later = [
        move.start
        for move in line.tracks[role].moves
        if move.start > after + 1e-9
        and move.run.path.length > 0.0
        and not (still_out and move.action in line.after_in)
    ]
    return min(later, default=np.inf)


def _unit(vectors: Places) -> Places:
    return np.asarray(vectors / np.maximum(np.abs(vectors), 1e-9))
