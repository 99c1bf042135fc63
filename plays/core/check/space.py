"""Findings about room on the floor: who runs into whom, who is in the way, who stands idle.

Metres between the middles of people, on a grid of 0.04 s. No book gives these limits: they are
ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import dist
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats, distance
from plays.core.motion.timeline import Timeline, Window
from plays.core.play import ROLES, ActionKind, PassKind, Point, Role
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

BUMP = 0.5  # metres between two middles: shoulders touch; ours
ELBOW_ROOM = 0.8  # metres at which they run past each other; ours
RUNNING = 0.8  # metres per second from which on somebody runs
IN_THE_LANE = 0.5  # metres from the line of the pass; ours
STEP = 0.04

NEAR_ENOUGH = 0.05  # metres that a drawn start may miss a range by; ours

OFF: Final = N_(
    "{one} and {other} are drawn {metres} m apart; the play asks for {low} to {high} m."
)
FURTHER: Final = N_("Let them start {by} m further apart, or widen the range.")
NEARER: Final = N_("Let them start {by} m nearer to each other, or widen the range.")
RUN_INTO: Final = N_("{one} and {other} run into each other at {seconds} s.")
PAST: Final = N_("Lead one of the paths {metres} m further out.")
IN_LANE: Final = N_("{who} stands in the lane of {look} at {seconds} s.")
OUT_OF_LANE: Final = N_("Move {who} {metres} m to the side.")
BOTH_HELD: Final = N_(
    "{one} and {other} are {metres} m apart when they can be thrown to: one defender holds both."
)
APART: Final = N_("Let them end {metres} m further apart.")
IDLE: Final = N_("{who} does nothing in the whole play; a defender who sees that helps elsewhere.")
BUSY: Final = N_("Give {who} a cut that takes a defender away.")


def space_findings(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """Who is in whose way, and who does nothing."""
    yield from _starts(line, voice)
    yield from _bumps(line, voice)
    yield from _lanes(line, voice)
    yield from _pairs(line, voice)
    yield from _idle(line, voice)


def _starts(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """Two who are drawn nearer or further apart than the play itself asks for."""
    places = {start.role: start.at for start in line.play.starts}
    for each in line.play.spacing:
        apart = dist(places[each.one], places[each.other])
        if each.low - NEAR_ENOUGH <= apart <= each.high + NEAR_ENOUGH:
            continue
        one, other = voice.who(each.one), voice.who(each.other)
        low, high = voice.number(each.low), voice.number(each.high)
        by = voice.number(max(each.low - apart, apart - each.high))
        yield PlayFinding(
            "spacing_off",
            Severity.WARNING,
            basis=Basis.COMPUTED,
            sentence=voice.say(
                OFF, one=one, other=other, metres=voice.number(apart), low=low, high=high
            ),
            remedy=voice.say(FURTHER if apart < each.low else NEARER, by=by),
            source=source_of(voice, Basis.COMPUTED),
            roles=(each.one, each.other),
            when=0.0,
            where=places[each.one],
        )


def closest(
    one: Places, other: Places, times: Floats, counts: NDArray[np.bool_] | None = None
) -> tuple[float, float]:
    """(when, how near) two people come to each other, straight between the times (n,).

    Only the steps that begin at a time that ``counts`` are looked at.
    """
    gap, step = one - other, np.diff(times)
    drift = np.diff(gap)
    squares = np.maximum(np.abs(drift) ** 2, 1e-18)
    shares = np.clip(-(gap[:-1] * drift.conj()).real / squares, 0.0, 1.0)
    apart = np.abs(gap[:-1] + shares * drift)
    if counts is not None:
        apart = np.where(counts[:-1], apart, np.inf)
    best = int(np.argmin(apart))
    return float(times[best] + shares[best] * step[best]), float(apart[best])


def _bumps(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """Two who come too near, unless they screen or hand off to each other."""
    times = np.arange(0.0, line.end, STEP)
    places, speeds = line.places(times), line.speeds(times)
    expected = _expected(line)
    for a, b in combinations(range(5), 2):
        if (ROLES[a], ROLES[b]) in expected:
            continue
        moving = np.maximum(speeds[:, a], speeds[:, b]) > RUNNING
        when, apart = closest(places[:, a], places[:, b], times, moving)
        if apart >= BUMP:
            continue
        middle = (line.tracks[ROLES[a]].at(when) + line.tracks[ROLES[b]].at(when)) / 2.0
        yield PlayFinding(
            "run_into",
            Severity.WARNING,
            basis=Basis.HOUSE,
            sentence=voice.say(
                RUN_INTO,
                one=voice.who(ROLES[a]),
                other=voice.who(ROLES[b]),
                seconds=voice.number(when),
            ),
            remedy=voice.say(PAST, metres=voice.number(ELBOW_ROOM - apart)),
            source=source_of(voice, Basis.HOUSE),
            roles=(ROLES[a], ROLES[b]),
            when=when,
            where=Point(middle.real, middle.imag),
        )


def _expected(line: Timeline) -> set[tuple[Role, Role]]:
    """Pairs who are meant to come close: screener and cutter, two screeners, a hand-off."""
    pairs: set[tuple[Role, Role]] = set()
    joints: dict[str, set[Role]] = {}
    for action in line.play.actions():
        if action.kind is ActionKind.SCREEN and action.cutter is not None:
            pairs.add((action.role, action.cutter))
            if action.joint is not None:
                joints.setdefault(action.joint.name, set()).add(action.role)
        if action.kind is ActionKind.HANDOFF and action.to is not None:
            pairs.add((action.role, action.to))
    for roles in joints.values():
        pairs.update((a, b) for a in roles for b in roles)
    return pairs | {(b, a) for a, b in pairs}


def _lanes(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """A team-mate in the line of a pass, when it would be thrown; a lob flies over them."""
    for window in line.windows:
        if window.look.pass_kind is PassKind.LOB or not window.opens:
            continue
        moment = min(window.in_turn, window.latest)
        places = line.places(np.array([moment]), still_out=window.counted)[0]
        for k, role in enumerate(ROLES):
            if role in (window.look.passer, window.look.receiver):
                continue
            aside, along = _aside(window, complex(places[k]))
            high = window.throw.heights(np.array([along]))[0] > line.pace.reach
            if aside < IN_THE_LANE and 0.05 < along < 0.95 and not high:
                yield _in_lane(
                    window, role, voice, moment=moment, aside=aside, place=complex(places[k])
                )


def _aside(window: Window, place: complex) -> tuple[float, float]:
    """(metres from the line of the pass, share of the way along it); at its start without a way."""
    way = window.target - window.origin
    if not way:
        return abs(place - window.origin), 0.0
    turned = (place - window.origin) / way
    return abs(turned.imag) * abs(way), turned.real


def _in_lane(
    window: Window, role: Role, voice: Voice, *, moment: float, aside: float, place: complex
) -> PlayFinding:
    return PlayFinding(
        "lane_crowded",
        Severity.WARNING,
        basis=Basis.HOUSE,
        sentence=voice.say(
            IN_LANE,
            who=voice.who(role),
            look=voice.look(window),
            seconds=voice.number(moment),
        ),
        remedy=voice.say(OUT_OF_LANE, who=voice.who(role), metres=voice.number(ELBOW_ROOM - aside)),
        source=source_of(voice, Basis.HOUSE),
        roles=(role, window.look.receiver),
        when=moment,
        where=Point(place.real, place.imag),
        look=window.look.id,
    )


def _pairs(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """Two looks at once between whose catches one defender reaches both in time."""
    for one, other in combinations(line.windows, 2):
        same = one.look.receiver == other.look.receiver
        overlap = min(one.latest, other.latest) - max(one.earliest, other.earliest)
        if same or one.look.passer != other.look.passer or overlap < 0.0:
            continue
        apart, needed = abs(one.target - other.target), held_within(one, other, line)
        if apart < needed:
            middle = (one.target + other.target) / 2.0
            yield PlayFinding(
                "one_holds_both",
                Severity.WARNING,
                basis=Basis.COMPUTED,
                sentence=voice.say(
                    BOTH_HELD,
                    one=voice.who(one.look.receiver),
                    other=voice.who(other.look.receiver),
                    metres=voice.number(apart),
                ),
                remedy=voice.say(APART, metres=voice.number(needed - apart + 0.05)),
                source=source_of(voice, Basis.COMPUTED),
                roles=(one.look.receiver, other.look.receiver),
                when=max(one.earliest, other.earliest),
                where=Point(middle.real, middle.imag),
                look=other.look.id,
            )


def held_within(one: Window, other: Window, line: Timeline) -> float:
    """The distance between two catches up to which a defender halfway is in time for either."""
    pace = line.pace
    spare = max(min(one.throw.seconds, other.throw.seconds) - pace.choose, 0.0)
    runs = float(distance(np.array(spare), pace.game_speed, pace.time_constant))
    return 2.0 * (pace.side_reach + runs)


def _idle(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    for role in ROLES:
        kinds = {action.kind for action in line.play.actions() if action.role == role}
        if kinds - {ActionKind.HOLD} or role in (line.play.thrower, line.play.ball):
            continue
        yield PlayFinding(
            "idle",
            Severity.NOTE,
            basis=Basis.HOUSE,
            sentence=voice.say(IDLE, who=voice.who(role)),
            remedy=voice.say(BUSY, who=voice.who(role)),
            source=source_of(voice, Basis.HOUSE),
            roles=(role,),
            when=0.0,
            where=line.play.start_of(role),
        )
