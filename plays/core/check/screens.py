"""Findings about screens: set in time, standing still, inside the lines, with a step left.

Metres and seconds. What the books ask of a screener comes with its article from
``throw_in_rules``; the other limits are ours and say so.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.check.remedy import Fix, rounded_up
from plays.core.court.courts import Court
from plays.core.court.rules import ScreenRules
from plays.core.defence.guarding import STANDARD
from plays.core.defence.screens import Contact, contacts, used
from plays.core.defence.stance import wanted_place
from plays.core.motion.timeline import Span, Timeline
from plays.core.play import Action, ActionKind, JointShape, Point, Role, ScreenStyle
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

STEP_PER_HEIGHT = 0.5  # share of the height that we take for a step, only to point at a place
INSIDE = 0.3  # metres from the line to the middle of a screener whose foot is on it; ours
BARELY = 0.4  # share of a screen that has to be used; ours
STANDING = 0.3  # metres per second below which somebody stands

EARLY: Final = N_(
    "{cutter} runs past the screen of {screener} at {seconds} s, {by} s before {screener} gets"
    " there."
)
MOVING: Final = N_(
    "{screener} is still moving when {cutter} runs past at {seconds} s: set {by} s too late."
)
UNTIL_SET: Final = N_("Let {who} wait until {screener} is set.")
LEFT: Final = N_("{screener} leaves the screen {by} s before {cutter} runs past it.")
STAY: Final = N_("Let {who} hold the screen until {cutter} is past.")
WIDE: Final = N_(
    "{cutter} runs past {metres} m away from the screen of {screener}: a defender goes through"
    " between them."
)
BRUSH: Final = N_("Lead the path of {cutter} past {screener} shoulder to shoulder.")
OUTSIDE: Final = N_("{screener} sets the screen on or over the line.")
INWARDS: Final = N_("Set it {metres} m further inside.")
CLOSE: Final = N_(
    "{screener} sets the back screen {metres} m behind the defender of {cutter}, who stands and"
    " cannot see it: hardly a step is left."
)
BACK_OFF: Final = N_("Set it {metres} m further away from the defender.")


def screen_findings(
    line: Timeline, court: Court, rules: ScreenRules, voice: Voice
) -> Iterator[PlayFinding]:
    """What is wrong with the screens."""
    actions = {action.id: action for action in line.play.actions()}
    for contact in contacts(line):
        joint = actions[contact.screen].joint
        gate = joint is not None and joint.shape is JointShape.GATE
        if joint is None or joint.part == "open":  # what closes, closes behind the cutter
            yield from _in_time(line, contact, rules, voice, gate=gate)
        if not gate and used(contact, STANDARD) < BARELY:
            yield _wide(line, contact, voice)
    for action in actions.values():
        if action.kind is ActionKind.SCREEN:
            yield from _inside(line, action, court, rules, voice)
            if action.screen is ScreenStyle.BACK and action.cutter is not None:
                yield from _step_left(line, action, action.cutter, rules, voice)


def _in_time(
    line: Timeline, contact: Contact, rules: ScreenRules, voice: Voice, *, gate: bool
) -> Iterator[PlayFinding]:
    """Set before the cutter comes, and there until then; who opens a gate leaves to shut it."""
    span = line.spans[contact.screen]
    if span.set is None:
        return
    gone = _gone(line, span)
    if contact.moment < span.set - 0.01:
        yield _late(line, contact, span, rules, voice)
    elif gone is not None and gone < contact.moment - 0.05 and not gate:
        by = contact.moment - gone
        leaver = _next(line, span)
        yield PlayFinding(
            "screen_left",
            Severity.WARNING,
            basis=Basis.COMPUTED,
            sentence=voice.say(
                LEFT,
                screener=voice.who(span.role),
                cutter=voice.who(contact.cutter),
                by=voice.number(rounded_up(by)),
            ),
            remedy=voice.say(STAY, who=voice.who(span.role), cutter=voice.who(contact.cutter)),
            source=source_of(voice, Basis.COMPUTED),
            roles=(span.role, contact.cutter),
            when=gone,
            where=_place(line, contact.screen),
            action=contact.screen,
            fix=None if leaver is None else Fix(action=leaver, later=rounded_up(by + 0.2)),
        )


def _wide(line: Timeline, contact: Contact, voice: Voice) -> PlayFinding:
    screener = line.spans[contact.screen].role
    return PlayFinding(
        "screen_wide",
        Severity.NOTE,
        basis=Basis.HOUSE,
        sentence=voice.say(
            WIDE,
            cutter=voice.who(contact.cutter),
            screener=voice.who(screener),
            metres=voice.number(contact.apart),
        ),
        remedy=voice.say(BRUSH, cutter=voice.who(contact.cutter), screener=voice.who(screener)),
        source=source_of(voice, Basis.HOUSE),
        roles=(contact.cutter, screener),
        when=contact.moment,
        where=_place(line, contact.screen),
        action=contact.action,
    )


def _late(
    line: Timeline, contact: Contact, span: Span, rules: ScreenRules, voice: Voice
) -> PlayFinding:
    """The cutter is there before the screener (no screen yet), or before the screener is set."""
    still = span.set if span.set is not None else span.arrive
    early = contact.moment < span.arrive
    by = (span.arrive if early else still) - contact.moment
    more = rounded_up(still - contact.moment + 0.05)
    article = rules.stationary.article
    basis = Basis.COMPUTED if early else Basis.RULE
    return PlayFinding(
        "cutter_early" if early else "screen_moving",
        Severity.SERIOUS,
        basis=basis,
        sentence=voice.say(
            EARLY if early else MOVING,
            cutter=voice.who(contact.cutter),
            screener=voice.who(span.role),
            seconds=voice.number(contact.moment),
            by=voice.number(max(rounded_up(by), 0.1)),
        ),
        remedy=voice.say(UNTIL_SET, who=voice.who(contact.cutter), screener=voice.who(span.role)),
        source=source_of(voice, basis, None if early else article),
        roles=(contact.cutter, span.role),
        when=contact.moment,
        where=_place(line, contact.screen),
        action=contact.action,
        fix=Fix(action=contact.action, later=more, until=contact.screen),
    )


def _inside(
    line: Timeline, action: Action, court: Court, rules: ScreenRules, voice: Voice
) -> Iterator[PlayFinding]:
    place = _place(line, action.id)
    if place is None or court.contains(place, INSIDE):
        return
    short = max(
        abs(place.x) + INSIDE - court.half_width,
        INSIDE - place.y,
        place.y + INSIDE - court.length,
    )
    yield PlayFinding(
        "screen_outside",
        Severity.SERIOUS,
        basis=Basis.RULE,
        sentence=voice.say(OUTSIDE, screener=voice.who(action.role)),
        remedy=voice.say(INWARDS, metres=voice.number(rounded_up(short))),
        source=source_of(voice, Basis.RULE, rules.inside.article),
        roles=(action.role,),
        when=line.spans[action.id].set,
        where=place,
        action=action.id,
    )


def _step_left(
    line: Timeline,
    action: Action,
    cutter: Role,
    rules: ScreenRules,
    voice: Voice,
) -> Iterator[PlayFinding]:
    """A stationary opponent who cannot see the screen needs a normal step, says every book.

    The opponent stands where the cutter's defender wants to, while the cutter stands still.
    """
    span, place = line.spans[action.id], _place(line, action.id)
    if span.set is None or place is None:
        return
    moments = np.array([max(span.set - 0.5, 0.0), span.set])
    if line.tracks[cutter].speeds(moments).max() > STANDING:
        return
    guard = wanted_place(line, cutter, span.set)
    apart = abs(guard - complex(*place))
    step = STEP_PER_HEIGHT * line.pace.height
    if apart >= step:
        return
    yield PlayFinding(
        "screen_close",
        Severity.NOTE,
        basis=Basis.RULE,
        sentence=voice.say(
            CLOSE,
            screener=voice.who(action.role),
            cutter=voice.who(cutter),
            metres=voice.number(apart),
        ),
        remedy=voice.say(BACK_OFF, metres=voice.number(rounded_up(step - apart))),
        source=source_of(voice, Basis.RULE, rules.blind_steps.article, judged=True),
        roles=(action.role, cutter),
        when=span.set,
        where=place,
        action=action.id,
    )


def _place(line: Timeline, action: str) -> Point | None:
    move = line.move(action)
    return None if move is None else Point(move.run.path.end.real, move.run.path.end.imag)


def _next(line: Timeline, span: Span) -> str | None:
    """What the screener moves off to."""
    later = [
        move
        for move in line.tracks[span.role].moves
        if move.start > span.start + 1e-9 and move.run.path.length > 0.0
    ]
    return min(later, key=lambda move: move.start).action if later else None


def _gone(line: Timeline, span: Span) -> float | None:
    leaver = _next(line, span)
    return None if leaver is None else line.spans[leaver].start
