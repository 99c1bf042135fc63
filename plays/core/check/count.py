"""Findings about the count: can each look leave the hand inside five seconds, and in turn?

Seconds from the ball at disposal. The count and its article come from ``throw_in_rules``, the times
from the timeline's windows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from plays.core.check.chain import first_of, quicker_read, shorter_wait, shorter_ways
from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.check.remedy import Fix, rounded_up
from plays.core.court.rules import ThrowInRules
from plays.core.motion.timeline import Timeline, Window
from plays.core.motion.windows import COUNT
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

LAST = 0.5  # seconds before the end of the count in which nobody should plan a throw; ours

OVER: Final = N_(
    "{look} can leave the hand at {seconds} s at the earliest: {over} s after the count of {count}."
)
TIGHT: Final = N_(
    "{look} can leave the hand at {seconds} s at the earliest: that is in the last half second of"
    " the count."
)
IN_TURN: Final = N_(
    "If the looks before it are passed up, {look} leaves the hand at {seconds} s: {over} s after"
    " the count of {count}."
)
NONE: Final = N_("No look can leave the hand inside the count of {count}.")
GO_AS: Final = N_("Let {who} go as {other} starts: the look comes {by} s sooner.")
SHORTER_WAIT: Final = N_("Let {who} wait {less} s less.")
NEARER: Final = N_("Let {who} start {metres} m nearer to the catch.")
EARLIER: Final = N_("Let {who} catch {metres} m sooner on the way.")
SHORTER: Final = N_("Shorten what the look waits for: {ways}.")
WAYS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "screen": N_("the way of {who} to the screen by {metres} m"),
        "first": N_("the first run of {who} by {metres} m"),
        "catch": N_("the run of {who} to the catch by {metres} m"),
    }
)
LEAVE_OUT: Final = N_(
    "Let somebody nearer catch here, or leave the look out: even with half as far to run it "
    "would not come {over} s sooner."
)
FEWER: Final = N_("Move it up in the order, or drop a look before it.")
WHOLE: Final = N_("Drop an action, or start the first one {over} s sooner.")
GONE: Final = N_("{look} is never there: {who} has run on before the ball can arrive.")
STAY: Final = N_("Let {who} stay {more} s longer.")


def count_findings(line: Timeline, rules: ThrowInRules, voice: Voice) -> Iterator[PlayFinding]:
    """What is wrong with the count; nothing for a play without a throw-in."""
    counted = [window for window in line.windows if window.counted]
    if counted and all(window.earliest > COUNT for window in counted):
        yield _none(counted, rules, voice)
    for window in counted:
        yield from _one(line, window, rules, voice)
    for window in line.windows:
        if window.leaves is not None and not window.opens and window.earliest <= COUNT:
            yield _gone(window, voice)


def _one(
    line: Timeline, window: Window, rules: ThrowInRules, voice: Voice
) -> Iterator[PlayFinding]:
    if window.earliest > COUNT - LAST + 0.05:
        yield _late(line, window, rules, voice)
    elif window.in_turn > COUNT + 0.05:
        yield _out_of_turn(window, rules, voice)


def _late(
    line: Timeline,
    window: Window,
    rules: ThrowInRules,
    voice: Voice,
) -> PlayFinding:
    """Serious for the look that the play is run for; one of several is worth a warning."""
    past = window.earliest - COUNT
    basis = Basis.RULE if past > 0.0 else Basis.HOUSE  # no book knows the last half second
    said = voice.say(
        OVER if past > 0.0 else TIGHT,
        look=voice.look(window),
        seconds=voice.number(window.earliest),
        over=voice.number(max(past, 0.0)),
        count=voice.number(COUNT, 0),
    )
    remedy, fix = _sooner(line, window, past + LAST, voice)
    return PlayFinding(
        "count_over" if past > 0.0 else "count_tight",
        Severity.SERIOUS if past > 0.0 and window.index == 0 else Severity.WARNING,
        basis=basis,
        sentence=said,
        remedy=remedy,
        source=source_of(voice, basis, rules.count.article if past > 0.0 else None),
        roles=(window.look.passer, window.look.receiver),
        when=window.earliest,
        action=window.look.action,
        look=window.look.id,
        fix=fix,
    )


def _sooner(line: Timeline, window: Window, seconds: float, voice: Voice) -> tuple[str, Fix | None]:
    """How the receiver gets there so much sooner: a shorter wait, or a shorter way."""
    look = window.look
    who, over = voice.who(look.receiver), rounded_up(seconds)
    read = quicker_read(line, window)
    if read is not None:
        names = {"who": voice.who(read.who), "other": voice.who(read.other)}
        return voice.say(GO_AS, by=voice.number(read.gain), **names), None
    waits = shorter_wait(line, window, over)
    if waits is not None:
        role, fix = waits
        return voice.say(SHORTER_WAIT, who=voice.who(role), less=voice.number(over)), fix
    move = line.move(look.action)
    length = 0.0 if move is None else move.run.path.length
    # A shorter way saves no less than its metres at full speed.
    metres = 0.0 if move is None else seconds * move.run.peak
    if length >= 1.0 and metres <= length / 2.0:
        # Of whose first action it is, the way begins where they start.
        starts = first_of(line.play, look.receiver).id == look.action
        template = NEARER if starts else EARLIER
        return voice.say(template, who=who, metres=voice.number(rounded_up(metres))), None
    return _by_shorter_ways(line, window, seconds, voice), None


def _by_shorter_ways(line: Timeline, window: Window, seconds: float, voice: Voice) -> str:
    """Whose ways would have to be shorter, of all that the look waits for; else that no such
    change is enough."""
    ways = shorter_ways(line, window, seconds)
    if not ways:
        return voice.say(LEAVE_OUT, over=voice.number(rounded_up(seconds)))
    told = [
        voice.language.say(WAYS[way.way], who=voice.who(way.who), metres=voice.number(way.metres))
        for way in ways
    ]
    return voice.say(SHORTER, ways=voice.language.all_of(told))


def _out_of_turn(window: Window, rules: ThrowInRules, voice: Voice) -> PlayFinding:
    said = voice.say(
        IN_TURN,
        look=voice.look(window),
        seconds=voice.number(window.in_turn),
        over=voice.number(window.in_turn - COUNT),
        count=voice.number(COUNT, 0),
    )
    return PlayFinding(
        "count_in_turn",
        Severity.WARNING,
        basis=Basis.RULE,
        sentence=said,
        remedy=voice.say(FEWER),
        source=source_of(voice, Basis.RULE, rules.count.article),
        roles=(window.look.passer, window.look.receiver),
        when=window.in_turn,
        action=window.look.action,
        look=window.look.id,
    )


def _none(counted: list[Window], rules: ThrowInRules, voice: Voice) -> PlayFinding:
    first = min(counted, key=lambda window: window.earliest)
    over = rounded_up(first.earliest - COUNT + LAST)
    return PlayFinding(
        "count_none",
        Severity.SERIOUS,
        basis=Basis.RULE,
        sentence=voice.say(NONE, count=voice.number(COUNT, 0)),
        remedy=voice.say(WHOLE, over=voice.number(over)),
        source=source_of(voice, Basis.RULE, rules.count.article),
        roles=(first.look.passer,),
        when=first.earliest,
    )


def _gone(window: Window, voice: Voice) -> PlayFinding:
    who = voice.who(window.look.receiver)
    more = rounded_up(window.earliest - window.latest)
    return PlayFinding(
        "look_gone",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=voice.say(GONE, look=voice.look(window), who=who),
        remedy=voice.say(STAY, who=who, more=voice.number(more)),
        source=source_of(voice, Basis.COMPUTED),
        roles=(window.look.receiver,),
        when=window.earliest,
        action=window.look.action,
        look=window.look.id,
    )
