"""Findings about what is counted once the ball is in play: three seconds, and bringing it over.

Seconds and metres. Before the first touch of a throw-in no book counts seconds in the lane (FIBA
26.1.1, NFHS 9-7 note, NBA Rule 10-VI), so that nothing is said of them there.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.court.courts import Court
from plays.core.court.rules import LiveRules
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import SHOT, Timeline
from plays.core.play import ROLES, ActionKind, Point
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

STEP: Final = 0.05  # seconds between the moments that are looked at

CAMPS: Final = N_("{who} stands in the lane for {seconds} s while the ball is in play.")
STEP_OUT: Final = N_("Let {who} step out of the lane before {limit} s are over.")
SLOW: Final = N_(
    "The ball is over the centre line {seconds} s after the first touch; {limit} s are allowed."
)
LONGER: Final = N_("Pass it up the court sooner.")


def live_findings(
    line: Timeline, court: Court, rules: LiveRules, voice: Voice
) -> Iterator[PlayFinding]:
    """What the rules of live play say against it."""
    begin = line.signal if line.play.thrower is None else line.ball_in
    if begin is None:
        return
    yield from _lane(line, court, rules, voice, begin=begin)
    yield from _over(line, court, rules, voice, begin=begin)


def _lane(
    line: Timeline, court: Court, rules: LiveRules, voice: Voice, *, begin: float
) -> Iterator[PlayFinding]:
    times = np.arange(begin, _done(line), STEP)
    limit = rules.lane.value
    for role in ROLES:
        places = line.tracks[role].places(times)
        when, seconds = _longest(times, _inside(places, court))
        if seconds <= limit:
            continue
        at = line.tracks[role].at(when)
        yield PlayFinding(
            "three_seconds",
            Severity.WARNING,
            basis=Basis.RULE,
            sentence=voice.say(CAMPS, who=voice.who(role), seconds=voice.number(seconds)),
            remedy=voice.say(STEP_OUT, who=voice.who(role), limit=voice.number(limit, 0)),
            source=source_of(voice, Basis.RULE, rules.lane.article),
            roles=(role,),
            when=when,
            where=Point(at.real, at.imag),
        )


def _done(line: Timeline) -> float:
    """When the last pass is caught or the last shot thrown; what comes then is no more planned."""
    shots = [span.end for span in line.spans.values() if span.kind is ActionKind.SHOT]
    shots += [w.catch(w.in_turn) + SHOT for w in line.windows if w.look.shot and w.opens]
    looks = [w.catch(w.in_turn) for w in line.windows if w.in_turn <= w.latest and not w.counted]
    return max([*shots, *(flight.catch for flight in line.flights), *looks], default=0.0)


def _inside(places: Places, court: Court) -> Floats:
    """1.0 where a place is in the lane, the lines of which belong to it."""
    aside, deep = np.abs(places.real), places.imag
    within = (aside <= court.lane_half_width) & (deep >= 0.0) & (deep <= court.free_throw_y)
    return np.asarray(within, dtype=np.float64)


def _longest(times: Floats, inside: Floats) -> tuple[float, float]:
    """(since when, for how long) the longest stay lasts."""
    if not len(times):
        return 0.0, 0.0
    edges = np.flatnonzero(np.diff(np.concatenate([[0.0], inside, [0.0]])))
    stays = [(times[a], (b - 1 - a) * STEP) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    when, seconds = max(stays, key=lambda stay: stay[1], default=(0.0, 0.0))
    return float(when), float(seconds)


def _over(
    line: Timeline, court: Court, rules: LiveRules, voice: Voice, *, begin: float
) -> Iterator[PlayFinding]:
    """Only for a ball that comes in behind the centre line."""
    crossed = _crossing(line, court)
    limit = rules.backcourt.value
    if crossed is None or crossed - begin <= limit:
        return
    seconds = voice.number(crossed - begin)
    yield PlayFinding(
        "backcourt_count",
        Severity.WARNING,
        basis=Basis.RULE,
        sentence=voice.say(SLOW, seconds=seconds, limit=voice.number(limit, 0)),
        remedy=voice.say(LONGER),
        source=source_of(voice, Basis.RULE, rules.backcourt.article),
        when=crossed,
    )


def _crossing(line: Timeline, court: Court) -> float | None:
    """When the ball first comes over, as far as the play says; None for one that starts over."""
    start = line.tracks[line.play.ball].at(0.0)
    spot = line.play.spot
    if start.imag <= court.half_y and (spot is None or not spot.far):
        return None
    half = court.half_y
    found = [w.catch(w.in_turn) for w in line.windows if w.opens and w.target.imag < half]
    found += [flight.catch for flight in line.flights if flight.target.imag < half]
    for span in line.spans.values():
        move = line.move(span.action)
        if span.kind is ActionKind.DRIBBLE and move is not None and move.run.path.end.imag < half:
            found.append(span.arrive)
    return min(found, default=None)
