"""Where each defender wants to be at every moment: stances, switches, help.

A defender stands at a weighted mean of man, ball and basket, as professionals do, and never where
the man is; a tight, a denying or a fronting one at a distance from the man. Places are complex
numbers, x + iy in metres. What is not said to be measured is a choice of ours (``guarding``).

Long since a place leans on all ten people at once: stance, help and the ball's way are one sum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from plays.core.court.courts import court
from plays.core.defence.around import around_screens
from plays.core.defence.doubles import doubled
from plays.core.defence.guarding import STANDARD, Guarding
from plays.core.defence.march import STEP, Script
from plays.core.defence.screens import obstacles, seals
from plays.core.defence.switches import guards_of
from plays.core.defence.zone import nearest, zone
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import Flight, Timeline
from plays.core.motion.windows import look_flight
from plays.core.play import ROLES, Defender, Play, Role, Stance

Guards = NDArray[np.intp]
Helps = NDArray[np.bool_]


class Tactic(StrEnum):
    """How the five defend; the first is the plain man-to-man."""

    CHASE = "chase"  # everybody stays with their man
    SWITCH = "switch"  # men are swapped at screens and crosses
    JUMP = "jump"  # like chase, and all shift towards the ball
    TIGHT = "tight"  # like chase, an arm's length from the man
    DENY = "deny"  # in the lanes, pressure on the thrower, nobody at the rim
    FRONT = "front"  # in front of whoever posts up
    BEHIND = "behind"  # at the back of whoever posts up
    OVER = "over"  # over each screen, on the cutter's trail
    UNDER = "under"  # behind each screener's back, to meet the cutter beyond
    SAG = "sag"  # everybody packed towards the basket
    TRAP = "trap"  # a second defender at the first catch, and at every screen on the ball
    ZONE = "zone"  # a 2-3 zone: places by the ball, nobody follows a man


@dataclass(frozen=True, slots=True)
class Scheme:
    """A tactic, and whose defenders keep to it; with none named all do. The others chase.

    Who is named stands in front or behind wherever the man is, else only near the basket.
    """

    tactic: Tactic
    whose: tuple[Role, ...] = ()

    def keeps(self, role: Role) -> bool:
        return not self.whose or role in self.whose

    def named(self, role: Role) -> bool:
        return role in self.whose


NEAR_BASKET = 0.5  # a tight defender is never further than this share of the way to the basket
UNDER_BASKET = 1.4  # metres: nearer to the basket a man's defender is on no side of him
GENTLY = 0.3  # metres over which one rule of standing goes over into another; ours
ON_THE_BALL = (1.0, 3.0)  # metres from the ball: nearer is on the ball, further is off it
HELP_MOST = 0.45  # the helper is never further out than this share of the way to the ball


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """What the defenders see of a play: times (n,), and ``people`` (n, 5) and ``balls`` (n,).

    Both are as they were at the times ``ago``, by which a defender follows late.
    """

    times: Floats
    ago: Floats
    people: Places
    balls: Places


def sight(
    line: Timeline,
    *,
    still_out: bool,
    step: float = STEP,
    until: float | None = None,
    given: str | None = None,
) -> Sight:
    """The same for every tactic, so that it need not be reckoned for each.

    ``given`` is the look by which the ball has come to whoever has it.
    """
    end = line.end + 1.0 if until is None else until
    times = np.arange(0.0, end + step / 2.0, step)
    ago = np.maximum(times - line.pace.follow, 0.0)
    return Sight(
        times,
        ago,
        line.places(ago, still_out=still_out),
        ball_places(line, ago, still_out=still_out, given=given),
    )


def script(
    line: Timeline,
    scheme: Scheme,
    *,
    still_out: bool,
    seen: Sight | None = None,
    guarding: Guarding = STANDARD,
) -> Script:
    """What the defenders want."""
    seen = seen or sight(line, still_out=still_out)
    if scheme.tactic is Tactic.ZONE:
        return _zone(line, seen, guarding)
    guards = np.tile(np.arange(5), (len(seen.times), 1))
    whose = [role for role in ROLES if scheme.keeps(role)]
    switching = whose if scheme.tactic is Tactic.SWITCH else []
    if switching:
        guards = guards_of(line, seen.times, guarding, switching, still_out=still_out)
    floor = _Floor(line, scheme, guarding)
    aims = floor.aims(seen.people, seen.balls, guards)
    if scheme.tactic in (Tactic.OVER, Tactic.UNDER):
        rim = floor.basket if scheme.tactic is Tactic.UNDER else None
        aims = around_screens(line, guarding, aims, seen.ago, whose, under=rim, still_out=still_out)
    if scheme.tactic is Tactic.TRAP:
        what, rim = (seen.ago, seen.people, seen.balls), floor.basket
        aims = doubled(line, guarding, aims, what, whose=whose, basket=rim, still_out=still_out)
    if line.play.thrower is not None:
        over = np.inf if still_out or line.ball_in is None else line.ball_in
        helping = scheme.tactic if scheme.keeps(line.play.thrower) else Tactic.CHASE
        aims = _with_helper(line, helping, guarding, aims, seen, helps=seen.ago <= over)
    held = seals(line, seen.times, guards, still_out=still_out)
    held += tuple(
        each
        for each in obstacles(line, guarding, still_out=still_out)
        if not {each.cutter, each.screener} <= set(switching)
        and not (scheme.tactic is Tactic.UNDER and scheme.keeps(each.cutter))
    )
    begin = np.where(np.isnan(_drawn(line.play)), aims[0], _drawn(line.play))
    return Script(line.pace, seen.times, aims, begin, guards, held, guarding)


def _zone(line: Timeline, seen: Sight, guarding: Guarding) -> Script:
    """Nobody follows a man, so no screen is in anybody's way, and nobody is drawn elsewhere."""
    aims = zone(seen.balls, line.play.court)
    return Script(
        line.pace, seen.times, aims, aims[0], nearest(aims, seen.people), guarding=guarding
    )


def wanted_place(line: Timeline, role: Role, moment: float) -> complex:
    """Where the defender of a role who stands still stands in a tight man-to-man."""
    then = np.array([moment])
    people, balls = line.places(then), ball_places(line, then, still_out=False)
    floor = _Floor(line, Scheme(Tactic.TIGHT), STANDARD)
    aims = floor.aims(people, balls, np.arange(5)[None, :])
    return complex(aims[0, ROLES.index(role)])


def _drawn(play: Play) -> Places:
    """(5,): where the coach drew the defender of each role, or not a number."""
    found = np.full(5, complex(np.nan, np.nan))
    for defender in play.defenders:
        if defender.at is not None:
            found[ROLES.index(defender.guards)] = complex(*defender.at)
    return found


@dataclass(frozen=True, slots=True)
class _Floor:
    """Where the defenders of a tactic go for, by what they see of people and ball."""

    line: Timeline
    scheme: Scheme
    guarding: Guarding

    @property
    def basket(self) -> complex:
        return complex(*court(self.line.play.court).basket)

    def aims(self, people: Places, balls: Places, guards: Guards) -> Places:
        """(n, 5): the places wanted."""
        men, ball = np.take_along_axis(people, guards, axis=1), balls[:, None]
        aims = self._by_tactic(self.scheme.tactic, men, ball)
        if self.scheme.whose:
            keep = np.array([self.scheme.keeps(role) for role in ROLES])
            aims = np.where(keep, aims, self._by_tactic(Tactic.CHASE, men, ball))
        return self._by_stance(aims, men, ball)

    def _by_tactic(self, tactic: Tactic, men: Places, ball: Places) -> Places:
        own = self.guarding
        if tactic is Tactic.TIGHT:
            return self._between(men)
        if tactic is Tactic.DENY:
            return np.asarray(men + own.in_lane * _unit(ball - men))
        aims = self._weighted(tactic, men, ball)
        if tactic in (Tactic.FRONT, Tactic.BEHIND):
            named = np.array([self.scheme.named(role) for role in ROLES])
            near = (np.abs(men - self.basket) < own.post) | named
            front = men + own.in_front * _unit(ball - men)
            aims = np.where(near, front if tactic is Tactic.FRONT else self._at_back(men), aims)
        return aims

    def _at_back(self, men: Places) -> Places:
        way = self.basket - men
        return men + _unit(way) * np.minimum(self.guarding.at_back, NEAR_BASKET * np.abs(way))

    def _weighted(self, tactic: Tactic, men: Places, ball: Places) -> Places:
        """By weights of man, ball and basket; by man and basket alone on the ball."""
        own, basket = self.guarding, self.basket
        to_ball = own.jump_to_ball if tactic is Tactic.JUMP else own.to_ball
        to_basket = own.sag_to_basket if tactic is Tactic.SAG else own.to_basket
        off = men + to_ball * (ball - men) + to_basket * (basket - men)
        on = men + own.on_ball * (basket - men)
        near, far = ON_THE_BALL
        share = np.clip((far - np.abs(ball - men)) / (far - near), 0.0, 1.0)
        return self._not_beside(men, off + share * (on - off))

    def _not_beside(self, men: Places, aims: Places) -> Places:
        """With every defender at least ``beside`` nearer to the basket than the man.

        Near the basket the weights alone would put a defender where the man himself stands. Who
        stands right under it has no side to be guarded from.
        """
        way = self.basket - men
        far, ahead = np.abs(way), _unit(way)
        least = np.minimum(self.guarding.beside, NEAR_BASKET * far)
        nearer = ((aims - men) * ahead.conj()).real
        sided = np.minimum(far / UNDER_BASKET, 1.0)
        short = least - nearer
        push = 0.5 * (short + np.hypot(short, GENTLY))  # what is short, without a corner at nothing
        return np.asarray(aims + ahead * sided * push)

    def _between(self, men: Places) -> Places:
        way = self.basket - men
        return men + _unit(way) * np.minimum(self.guarding.tight, NEAR_BASKET * np.abs(way))

    def _by_stance(self, aims: Places, men: Places, ball: Places) -> Places:
        """Stances that the coach wrote down go before the tactic's, and so do drawn distances;
        what a scheme says of a named role goes before both.

        A defender drawn without a stance stays as far from the man, and on the same side of him
        seen from the basket, as drawn.
        """
        own = self.guarding
        for defender in self.line.play.defenders:
            k = ROLES.index(defender.guards)
            if self.scheme.named(defender.guards):
                continue
            if defender.stance is None and defender.at is not None:
                aims[:, k] = _as_drawn(self.line.play, defender, men[:, k], self.basket)
            elif defender.stance is Stance.BETWEEN:
                aims[:, k] = self._between(men[:, k])
            elif defender.stance is Stance.BEHIND:
                aims[:, k] = self._at_back(men[:, k])
            elif defender.stance is not None:
                step = own.in_front if defender.stance is Stance.FRONT else own.in_lane
                aims[:, k] = men[:, k] + step * _unit(ball[:, 0] - men[:, k])
        return aims


def _as_drawn(play: Play, defender: Defender, man: Places, basket: complex) -> Places:
    start = complex(*play.start_of(defender.guards))
    at = defender.at or play.start_of(defender.guards)
    drawn = complex(at.x, at.y)
    way = complex(_unit(np.array([basket - start]))[0])
    side = (drawn - start) * way.conjugate()
    return np.asarray(man + _unit(basket - man) * side)


def _with_helper(
    line: Timeline, tactic: Tactic, guarding: Guarding, aims: Places, seen: Sight, *, helps: Helps
) -> Places:
    """With the thrower's defender helping; once the ball is in, the thrower steps in and is
    guarded like everybody."""
    helper = ROLES.index(line.play.thrower or "1")
    place = _help(line, tactic, guarding, seen)
    aims[:, helper] = np.where(helps, place, aims[:, helper])
    return aims


def _help(line: Timeline, tactic: Tactic, guarding: Guarding, seen: Sight) -> Places:
    ball, basket = seen.balls, complex(*court(line.play.court).basket)
    drawn = _drawn(line.play)[ROLES.index(line.play.thrower or "1")]
    if not np.isnan(drawn):
        return np.full(len(ball), drawn)
    first = line.windows[0] if line.windows else None
    if tactic is Tactic.DENY and first is not None:
        return ball + guarding.pressure * _unit(first.target - ball)
    if tactic is Tactic.TRAP and first is not None:
        man = seen.people[:, ROLES.index(first.look.receiver)]
        return man + guarding.in_lane * _unit(ball - man)
    away = guarding.at_rim if tactic in (Tactic.SAG, Tactic.FRONT) else guarding.help
    steps = np.minimum(away, HELP_MOST * np.abs(ball - basket))
    return basket + steps * _unit(ball - basket)


def ball_places(
    line: Timeline, times: Floats, *, still_out: bool, given: str | None = None
) -> Places:
    """(n,): where the ball is at sorted times; with ``still_out`` it stays with the thrower."""
    holder = line.play.thrower if still_out and line.play.thrower else line.play.ball
    ball = line.tracks[holder].places(times, line.after_in if still_out else frozenset())
    if still_out:
        return ball
    for flight in _flights(line, given):
        first, last = np.searchsorted(times, [flight.release, flight.catch])
        flown = (times[first:last] - flight.release) / max(flight.catch - flight.release, 1e-9)
        ball[first:last] = flight.origin + flown * (flight.target - flight.origin)
        ball[last:] = line.tracks[flight.receiver].places(times[last:])
    return ball


def _flights(line: Timeline, given: str | None) -> Sequence[Flight]:
    """The written passes and the looks up to the one by which the passer has the ball."""
    if given is None:
        return line.flights
    looks = {window.look.id for window in line.windows}
    thrown = [flight for flight in line.flights if flight.source not in looks]
    while given is not None:
        window = line.window(given)
        thrown.append(look_flight(window, window.in_turn))
        given = window.given
    return sorted(thrown, key=lambda flight: flight.release)


def _unit(vectors: Places) -> Places:
    return np.asarray(vectors / np.maximum(np.abs(vectors), 1e-9))
