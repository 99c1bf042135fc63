"""Who is asked for something while still doing something else.

A role does one thing after the other, so nothing is lost: what is asked for too early begins
when the role is free. But whoever wrote the play has to be told. Seconds.
"""

from __future__ import annotations

from typing import Final

from plays.core.motion.timeline import Span, Timeline
from plays.core.play import CueRule, Moment
from plays.core.sequence.cues import CueGraph, Link, Why

SLACK: Final = 0.05  # seconds; less than anybody sees


def asked_while_busy(line: Timeline) -> frozenset[str]:
    """The actions whose written cues come while their role is still in the action before.

    A cue on a point of somebody's way is left out: only the clock knows when that is.
    """
    found = set()
    for id_, waits in CueGraph(line.play).waits.items():
        cued = [_moment(line, link) for link in waits.cues]
        free = [_moment(line, link) for link in waits.implied if link.why is Why.OWN]
        known = [moment for moment in cued if moment is not None]
        if not free or free[0] is None or not known or len(known) < len(cued):
            continue
        due = min(known) if waits.rule is CueRule.FIRST else max(known)
        if due < free[0] - SLACK:
            found.add(id_)
    return frozenset(found)


def _moment(line: Timeline, link: Link) -> float | None:
    if link.moment is Moment.SIGNAL:
        return line.signal + link.wait
    if link.moment is Moment.BALL_IN:
        return None if line.ball_in is None else line.ball_in + link.wait
    span = line.spans.get(link.action or "")
    at = None if span is None else _of(span, link)
    return None if at is None else at + link.wait


def _of(span: Span, link: Link) -> float | None:
    """As the clock takes it: a hold leaves its role free as soon as it has begun."""
    if link.moment is Moment.START:
        return span.arrive if link.why is Why.OWN else span.start
    if link.moment is Moment.SET:
        return span.set if span.set is not None else span.arrive
    return span.end if link.moment is Moment.END else None
