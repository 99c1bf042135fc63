"""The play as it goes when one look is thrown, in its turn: a branch of the written play for each.

What is written assumes one look: without a written throw-in, the first. Thrown to somebody else,
the ball is caught at another moment, so whoever waits for that catch goes at another moment; and
a pass is made only by whoever has the ball by then.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from plays.core.motion.clock import AFTER, timeline
from plays.core.motion.timeline import Flight, Timeline, Window
from plays.core.motion.windows import look_flight
from plays.core.play import Role
from plays.core.sequence.course import WITH_BALL


def thrown(line: Timeline, look: str) -> Timeline:
    """The play of ``line`` when this look is thrown, after the looks that bring the ball to its
    passer. Who was to dribble or shoot with a ball that went elsewhere runs there without it.

    Raises KeyError for a look that the timeline does not have.
    """
    first = _chain(line, look)[0]
    if first.counted:
        caught = first.catch(first.in_turn)
        line = timeline(line.play, line.pace, line.paces, caught=caught)
    balls = [look_flight(window, window.in_turn) for window in _chain(line, look)]
    flights = tuple(_flown(line, balls))
    ends = [line.end, *(flight.catch + AFTER for flight in flights)]
    branch = replace(line, flights=flights, end=max(ends))
    spans = {id_: span for id_, span in line.spans.items() if id_ not in _without(branch, balls)}
    return replace(branch, spans=spans)


def shown(line: Timeline, look: str) -> Timeline:
    """What a page sets in motion: the branch of a look, or the play as it is written where it
    has none of that name."""
    return thrown(line, look) if look in {window.look.id for window in line.windows} else line


def _chain(line: Timeline, look: str) -> tuple[Window, ...]:
    """The look, after those by which its passer has the ball."""
    window = line.window(look)
    return (window,) if window.given is None else (*_chain(line, window.given), window)


def _flown(line: Timeline, balls: list[Flight]) -> Iterator[Flight]:
    """The written passes that bring the ball to the first passer, the looks, and what is written
    of whoever has the ball then."""
    looks = {window.look.id for window in line.windows}
    written = [flight for flight in line.flights if flight.source not in looks]
    before = [flight for flight in written if flight.release < balls[0].release]
    while before and before[-1].receiver != balls[0].passer:
        before.pop()
    yield from before
    yield from balls
    yield from _onward(balls[-1], (each for each in written if each not in before))


def _onward(last: Flight, written: Iterable[Flight]) -> Iterator[Flight]:
    holder: Role = last.receiver
    for flight in written:
        if flight.passer == holder and flight.release >= last.catch:
            yield flight
            holder, last = flight.receiver, flight


def _without(line: Timeline, balls: list[Flight]) -> frozenset[str]:
    """The actions with the ball, from the first look on, of those who have none."""
    return frozenset(
        span.action
        for span in line.spans.values()
        if span.kind in WITH_BALL
        and span.start >= balls[0].release
        and line.holder(span.start + 1e-6) != span.role
        and span.action not in {flight.source for flight in line.flights}
    )
