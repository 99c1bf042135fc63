"""Which screens stand in whose way, from when to when, and for how long at most.

Who hands the ball off stands between the one who takes it and a follower, as a screener does.
Who seals is a screen for themselves: a defender in front is on their back, and has to come round.

The law: a set screen costs the cutter's defender up to ``Pace.screened`` seconds and nothing
else. It costs them where the defender is: while the screener stands in the way of where the
defender wants to go, the defender's clock stands still, and speed is neither lost nor gained.
A defender who comes past with room to spare pays a share of it, and so does one whose cutter
used the screen too wide; a defender who is elsewhere pays nothing. What closes, closes in the
face of whoever comes later. A switch is not held up. Metres and seconds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from plays.core.defence.guarding import Guarding
from plays.core.motion.sprint import Floats
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, ActionKind, Cut, Role
from plays.core.sequence.cues import CueGraph


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A set screener in the way of the defender of ``cutter``; ``seconds`` at most.

    The defender is known by whom they guarded at the beginning.
    """

    screen: str
    screener: Role
    cutter: Role
    at: complex
    begin: float
    end: float
    seconds: float

    @property
    def index(self) -> int:
        """Of the defender who is held up."""
        return ROLES.index(self.cutter)


@dataclass(frozen=True, slots=True)
class Contact:
    """A cutter running past somebody who stands: when, how near, and in which action.

    ``screen`` is the action of who stands ``at`` a place ``since`` then, None if still moving;
    ``on_ball`` says that the cutter has or takes the ball.
    """

    screen: str
    screener: Role
    cutter: Role
    action: str
    moment: float
    apart: float
    at: complex
    since: float | None
    on_ball: bool


def obstacles(
    line: Timeline, guarding: Guarding, *, still_out: bool = False
) -> tuple[Obstacle, ...]:
    """The screens and hand-overs that can hold up a defender."""
    found = []
    for contact in meetings(line):
        screen, screener, since = contact.screen, contact.screener, contact.since
        if since is None or (still_out and screen in line.after_in):
            continue
        until = _left(line, screener, line.spans[screen].start, still_out=still_out)
        seconds = line.pace.screened * used(contact, guarding)
        if seconds > 0.0 and until > since:
            obstacle = Obstacle(screen, screener, contact.cutter, contact.at, since, until, seconds)
            found.append(obstacle)
    return tuple(found)


def seals(
    line: Timeline, times: Floats, guards: NDArray[np.intp], *, still_out: bool = False
) -> tuple[Obstacle, ...]:
    """Whoever seals stands, until the seal is done, in the way of who guards them by then.

    ``guards`` (n, 5) says who guards whom at ``times`` (n,).
    """
    found = []
    for action in line.play.actions():
        move = line.move(action.id) if action.cut is Cut.SEAL else None
        if move is None or (still_out and action.id in line.after_in):
            continue
        begin, place = move.start, complex(move.run.path.at(np.zeros(1))[0])
        role, seconds = action.role, line.pace.screened
        now = guards[min(int(np.searchsorted(times, begin)), len(times) - 1)]
        for defender in np.flatnonzero(now == ROLES.index(role)):
            held = ROLES[int(defender)]
            found.append(Obstacle(action.id, role, held, place, begin, move.end, seconds))
    return tuple(found)


def used(contact: Contact, guarding: Guarding) -> float:
    """How much of a screen a cutter uses, 0 to 1: all of it shoulder to shoulder."""
    room = guarding.wide - guarding.brush
    return min(max((guarding.wide - contact.apart) / max(room, 1e-9), 0.0), 1.0)


def meetings(line: Timeline) -> tuple[Contact, ...]:
    """``contacts`` with screens, and with those who hand the ball off."""
    return contacts(line) + handed(line)


def contacts(line: Timeline) -> tuple[Contact, ...]:
    """Where the cutter of each screen that has one runs past it."""
    found, script = [], CueGraph(line.play)
    for action in line.play.actions():
        own = line.move(action.id) if action.kind is ActionKind.SCREEN else None
        used_in = script.cutter_of(action) if own is not None else None
        move = None if used_in is None else line.move(used_in)
        if own is None or move is None or used_in is None or action.cutter is None:
            continue
        along, apart = move.run.path.nearest(own.run.path.end)
        found.append(
            Contact(
                action.id,
                action.role,
                action.cutter,
                used_in,
                moment=move.start + move.run.when(along),
                apart=apart,
                at=own.run.path.end,
                since=line.spans[action.id].set,
                on_ball=script.by_id[used_in].kind is ActionKind.DRIBBLE,
            )
        )
    return tuple(found)


def handed(line: Timeline) -> tuple[Contact, ...]:
    """Where somebody takes the ball out of the hands of who stands there."""
    found = []
    for action in line.play.actions():
        if action.kind is not ActionKind.HANDOFF or action.to is None:
            continue
        moment = line.spans[action.id].start
        giver, taker = line.tracks[action.role], line.tracks[action.to]
        at = giver.at(moment)
        earlier = [move for move in giver.moves if move.start < moment]
        came = [move.action for move in taker.moves if move.start < moment]
        since = max((move.end for move in earlier), default=0.0)
        found.append(
            Contact(
                action.id,
                action.role,
                action.to,
                came[-1] if came else action.id,
                moment=moment,
                apart=abs(taker.at(moment) - at),
                at=at,
                since=since if since <= moment + 1e-9 else None,
                on_ball=True,
            )
        )
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
