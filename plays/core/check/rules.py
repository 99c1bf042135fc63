"""Findings about the throw-in, by the rule book of the rule set.

Three seconds in the lane are a matter of live play (``live``).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.court.courts import Court, feet
from plays.core.court.rules import Article, Backcourt, ClosedLines, Sideways, ThrowInRules
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, ActionKind, Point, Role, Situation
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

ADJACENT = 1.2  # metres between middles: no room for an opponent in between; ours
ONE_STEP = 0.9  # metres that we take for one step, where a book says just that; ours
HAND_TO_HAND = 0.8  # metres: arms' length, a pass so short is a hand-over; ours
NEAR_LINE = feet(3)  # where the book names no distance, as in the book that does

MOVES: Final = N_(
    "{who} moves {metres} m along the line before the throw-in; {limit} m are allowed."
)
STEPS: Final = N_("{who} moves {metres} m along the line before the throw-in; one step is allowed.")
RUNS: Final = N_(
    "{who} moves {metres} m along the baseline before the throw-in: allowed after a goal only."
)
NO_GOAL: Final = N_("Without a goal before it, keep {who} within {limit} m.")
STAND: Final = N_("Keep {who} within {limit} m.")
HANDED: Final = N_("{who} hands the ball to {other} on the court: a throw-in must be thrown.")
THROW_IT: Final = N_("Make it a short pass, {metres} m or more.")
TWO_OUT: Final = N_("{who} is out of bounds beside the thrower during a spot throw-in.")
STEP_IN: Final = N_("Start {who} {metres} m further inside.")
CLOSED_UP: Final = N_(
    "{one} and {other} stand side by side within {metres} m of the line: an opponent who wants the"
    " place between them must be given it."
)
SPREAD: Final = N_("Start them {metres} m further from the line, or leave room for one between.")
BACK: Final = N_(
    "{look} goes from the frontcourt to the backcourt: allowed in the last two minutes of the"
    " fourth period and of overtime only."
)
KEEP_FRONT: Final = N_("Catch it {metres} m further up, in the frontcourt.")
BEHIND: Final = N_("The ball is not thrown in from right behind the backboard.")
ASIDE: Final = N_("Take the spot {metres} m further to the side.")


def rule_findings(
    line: Timeline, court: Court, rules: ThrowInRules, voice: Voice
) -> Iterator[PlayFinding]:
    """What the rules of the throw-in say against the play; nothing without one."""
    play = line.play
    if play.thrower is None or play.spot is None:
        return
    yield from _thrower_moves(line, rules, voice)
    yield from _handed_in(line, rules, voice)
    yield from _out_of_bounds(line, court, rules, voice)
    yield from _closed_up(line, court, rules, voice)
    yield from _backcourt(line, court, rules, voice)
    behind = play.spot.edge == "baseline" and play.spot.along < court.board_half_width
    if behind and not runs_the_line(line):
        short = court.board_half_width - play.spot.along
        yield _ruled(
            "behind_board",
            Severity.WARNING,
            (voice.say(BEHIND), voice.say(ASIDE, metres=voice.number(short + 0.05))),
            rules.behind_board.article,
            voice,
            at=_At((play.thrower,), when=0.0, where=play.start_of(play.thrower)),
        )


def runs_the_line(line: Timeline) -> bool:
    """Whether it can be after a goal: from behind the own basket, from anywhere on the line.

    The thrower may then run the baseline, and pass to a team-mate behind it.
    """
    return line.play.spot is not None and line.play.spot.far


@dataclass(frozen=True, slots=True)
class _At:
    """Whom, when and where a finding is about."""

    roles: tuple[Role, ...]
    when: float | None = None
    where: Point | None = None
    action: str | None = None
    look: str | None = None


def _ruled(
    code: str,
    severity: Severity,
    words: tuple[str, str],
    article: Article,
    voice: Voice,
    *,
    at: _At,
) -> PlayFinding:
    """A finding by the book; ``words`` are the sentence and the remedy."""
    return PlayFinding(
        code,
        severity,
        basis=Basis.RULE,
        sentence=words[0],
        remedy=words[1],
        source=source_of(voice, Basis.RULE, article),
        roles=at.roles,
        when=at.when,
        where=at.where,
        action=at.action,
        look=at.look,
    )


def _until(line: Timeline) -> float:
    """When the throw-in leaves the hand, as far as the play says."""
    releases = [f.release for f in line.flights if f.passer == line.play.thrower]
    return min(releases, default=line.end)


def _thrower_moves(line: Timeline, rules: ThrowInRules, voice: Voice) -> Iterator[PlayFinding]:
    thrower = line.play.thrower
    if thrower is None:
        return
    metres, when = _along_the_line(line, thrower, rules)
    limit = rules.sideways_limit if rules.sideways_limit is not None else ONE_STEP
    if metres <= limit + 0.01:
        return
    said, remedy = STEPS if rules.sideways.value is Sideways.STEP else MOVES, STAND
    severity, article = Severity.SERIOUS, rules.sideways.article
    if runs_the_line(line) and rules.run_after_goal.value:
        said, remedy = RUNS, NO_GOAL
        severity, article = Severity.NOTE, rules.run_after_goal.article
    who, most = voice.who(thrower), voice.number(limit)
    words = (
        voice.say(said, who=who, metres=voice.number(metres), limit=most),
        voice.say(remedy, who=who, limit=most),
    )
    yield _ruled("thrower_moves", severity, words, article, voice, at=_At((thrower,), when=when))


def _along_the_line(line: Timeline, thrower: Role, rules: ThrowInRules) -> tuple[float, float]:
    """How many metres the thrower moves along the line, as the book counts them, and when."""
    spot = line.play.spot
    times = np.arange(0.0, _until(line), 0.04)
    places = line.tracks[thrower].places(times, line.after_in)
    along = places.real if spot is not None and spot.edge == "baseline" else places.imag
    metres = float(along.max() - along.min())
    if rules.sideways.value is Sideways.TOTAL:  # there and back adds up
        metres = float(np.abs(np.diff(along)).sum())
    return metres, float(times[int(np.argmax(np.abs(along - along[0])))])


def _handed_in(line: Timeline, rules: ThrowInRules, voice: Voice) -> Iterator[PlayFinding]:
    """A hand-off by the thrower, or a first pass so short that it is one."""
    play = line.play
    if rules.hand_in.value:
        return
    for action in play.actions():
        if action.role != play.thrower or action.id in line.after_in or action.to is None:
            continue
        flight = next((f for f in line.flights if f.source == action.id), None)
        short = flight is not None and abs(flight.target - flight.origin) < HAND_TO_HAND
        if action.kind is ActionKind.HANDOFF or (action.kind is ActionKind.PASS and short):
            said = voice.say(HANDED, who=voice.who(action.role), other=voice.who(action.to))
            yield _ruled(
                "handed_in",
                Severity.SERIOUS,
                (said, voice.say(THROW_IT, metres=voice.number(1.0))),
                rules.hand_in.article,
                voice,
                at=_At((action.role, action.to), when=line.spans[action.id].end, action=action.id),
            )
        return


def _out_of_bounds(
    line: Timeline, court: Court, rules: ThrowInRules, voice: Voice
) -> Iterator[PlayFinding]:
    play = line.play
    if not rules.one_out_of_bounds.value or runs_the_line(line):
        return
    times = np.arange(0.0, _until(line), 0.04)
    for role in ROLES:
        if role == play.thrower:
            continue
        places = line.tracks[role].places(times, line.after_in)
        beyond = np.maximum(-places.imag, places.imag - court.length)
        over = np.maximum(np.abs(places.real) - court.half_width, beyond)
        worst = int(np.argmax(over))
        if over[worst] <= 0.0:
            continue
        said = voice.say(TWO_OUT, who=voice.who(role))
        remedy = voice.say(
            STEP_IN, who=voice.who(role), metres=voice.number(float(over[worst]) + 0.3)
        )
        place = complex(places[worst])
        yield _ruled(
            "two_out",
            Severity.SERIOUS,
            (said, remedy),
            rules.one_out_of_bounds.article,
            voice,
            at=_At((role,), when=float(times[worst]), where=Point(place.real, place.imag)),
        )


def _closed_up(
    line: Timeline, court: Court, rules: ThrowInRules, voice: Voice
) -> Iterator[PlayFinding]:
    """Team-mates side by side along the throw-in line as the ball is at disposal."""
    play = line.play
    spot = play.spot
    lines = rules.adjacent.value
    if spot is None or lines is ClosedLines.NONE:
        return
    if lines is ClosedLines.BASELINE and spot.edge != "baseline":
        return
    within = rules.adjacent_within if rules.adjacent_within is not None else NEAR_LINE
    near = [role for role in ROLES if role != play.thrower and _depth(line, court, role) <= within]
    for one, other in combinations(near, 2):
        a, b = play.start_of(one), play.start_of(other)
        if abs(complex(*a) - complex(*b)) > ADJACENT:
            continue
        deepest = min(_depth(line, court, one), _depth(line, court, other))
        said = voice.say(
            CLOSED_UP,
            one=voice.who(one),
            other=voice.who(other),
            metres=voice.number(within),
        )
        yield _ruled(
            "closed_up",
            Severity.WARNING,
            (said, voice.say(SPREAD, metres=voice.number(max(within - deepest + 0.1, 0.1)))),
            rules.adjacent.article,
            voice,
            at=_At((one, other), when=0.0, where=a),
        )


def _depth(line: Timeline, court: Court, role: Role) -> float:
    """How far from the line of the throw-in a role starts."""
    spot, start = line.play.spot, line.play.start_of(role)
    if spot is not None and spot.far:
        return court.length - start.y
    if spot is None or spot.edge == "baseline":
        return start.y
    return court.half_width - (start.x if spot.side == "right" else -start.x)


def _backcourt(
    line: Timeline, court: Court, rules: ThrowInRules, voice: Voice
) -> Iterator[PlayFinding]:
    spot = line.play.spot
    front = spot is not None and court.spot_place(spot).y < court.half_y
    press = line.play.situation is Situation.PRESS_BREAK
    if rules.backcourt.value is Backcourt.ALLOWED or not front or press:
        return
    for window in line.windows:
        over = window.target.imag - court.half_y
        if window.counted and over > 0.0:
            yield _ruled(
                "backcourt",
                Severity.WARNING,
                (
                    voice.say(BACK, look=voice.look(window)),
                    voice.say(KEEP_FRONT, metres=voice.number(over + 0.3)),
                ),
                rules.backcourt.article,
                voice,
                at=_At(
                    (window.look.passer, window.look.receiver),
                    when=window.earliest,
                    where=Point(window.target.real, window.target.imag),
                    look=window.look.id,
                ),
            )
