"""Findings about looks against the defence, their order, and what the counters are worth.

Margins are seconds between ball and defender, as ``defence`` computes them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.check.remedy import Fix
from plays.core.defence.verdict import LATER, Tactic, Verdict, Word
from plays.core.defence.words import DEFENCES
from plays.core.motion.timeline import Timeline, Window
from plays.core.motion.windows import COUNT
from plays.core.play import Play
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

HOPEFUL = 0.5  # a guess above this, of a look that is covered, is mentioned; ours
SOME = 0.15  # seconds of margin worth another order of the looks; ours

NOTHING: Final = N_("Against {tactic}, no look of this play is open or even contested at its turn.")
COVERED: Final = N_(
    "{look} is what the play is run for, and against {tactic} the defender of {stopper} is there"
    " first, at the catch."
)
READ_COVERED: Final = N_(
    "{look} is the answer to {tactic}, and there the defender of {stopper} is first, at the catch."
)
READ_PICKED: Final = N_(
    "{look} is the answer to {tactic}, and there the defender of {stopper} is in its way."
)
PICKED: Final = N_(
    "{look} is what the play is run for, and against {tactic} the defender of {stopper} is in its"
    " way."
)
HELPER: Final = N_("Draw the helper away from there, or let the catch be further out.")
ANOTHER_WAY: Final = N_("Pass from another angle, or over the hands.")
UNUSED: Final = N_(
    "No screen holds the defender of {who} up: set it where that defender stands, not where {who}"
    " does."
)
EARLIER: Final = N_(
    "It is better at {seconds} s than at its turn: look for it sooner in the order."
)
UNCOVER: Final = N_("Give {who} a screen or a change of direction, or make the pass shorter.")
ORDER: Final = N_("{late} comes before {early}, but cannot be thrown until {early} is gone.")
SWAP: Final = N_("Look for {early} first, {by} s earlier.")
PAST: Final = N_(
    "{look} is gone by its turn: {who} was free for it, and has run on or stood too long."
)
SOONER: Final = N_("Look for it before {other}, or let {who} come when {other} is passed up.")
ALONE: Final = N_("Let {who} come later, when the passer can throw.")
GUESS: Final = N_(
    "You guess that {look} is there {guess} times in 10; "
    "against {tactic} the check calls it covered."
)
LOG_IT: Final = N_("Log {n} tries of it in practice before you count on it.")


def look_findings(
    line: Timeline, tactic: Tactic, verdicts: Sequence[Verdict], voice: Voice
) -> Iterator[PlayFinding]:
    """What the defence takes away; what the table of looks says is not said again."""
    in_time = [verdict for verdict in verdicts if verdict.in_time]
    if in_time and not any(verdict.there for verdict in in_time):
        yield _nothing(line, tactic, in_time, voice)
    for verdict in in_time:
        if verdict.word is not Word.COVERED:
            continue
        if verdict.window.index == 0 or verdict.window.look.read is not None:
            yield _covered(line, verdict, voice)
        guess = verdict.window.look.guess
        if guess is not None and guess > HOPEFUL:
            yield _hopeful(verdict, guess, voice)


def _nothing(
    line: Timeline, tactic: Tactic, verdicts: Sequence[Verdict], voice: Voice
) -> PlayFinding:
    best = max(verdicts, key=lambda verdict: verdict.margin)
    return PlayFinding(
        "nothing_open",
        Severity.SERIOUS,
        basis=Basis.COMPUTED,
        sentence=voice.say(NOTHING, tactic=voice.language.say(DEFENCES[tactic])),
        remedy=remedy_for(line, best, voice),
        source=source_of(voice, Basis.COMPUTED),
        roles=(best.window.look.receiver,),
        when=best.turn,
        look=best.look,
    )


def _covered(line: Timeline, verdict: Verdict, voice: Voice) -> PlayFinding:
    look = verdict.window.look
    plain = (PICKED, COVERED) if look.read is None else (READ_PICKED, READ_COVERED)
    said = voice.say(
        plain[verdict.parts.at_catch],
        look=voice.look(verdict.window),
        tactic=voice.language.say(DEFENCES[verdict.tactic]),
        stopper=voice.who(verdict.stopper),
    )
    return PlayFinding(
        "look_covered",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=said,
        remedy=remedy_for(line, verdict, voice),
        source=source_of(voice, Basis.COMPUTED),
        roles=(look.receiver,),
        when=verdict.turn,
        action=look.action,
        look=look.id,
    )


def remedy_for(line: Timeline, verdict: Verdict, voice: Voice) -> str:
    """What would free a look, by what takes it away."""
    receiver = verdict.window.look.receiver
    who = voice.who(receiver)
    if verdict.best_margin > verdict.margin + SOME and verdict.best < verdict.turn:
        return voice.say(EARLIER, seconds=voice.number(verdict.best))
    if verdict.stopper == line.play.thrower:
        return voice.say(HELPER)
    if not verdict.parts.at_catch:
        return voice.say(ANOTHER_WAY)
    screened = any(each.cutter == receiver for each in line.play.actions())
    if screened and not verdict.held and verdict.stopper == receiver:
        return voice.say(UNUSED, who=who)
    return voice.say(UNCOVER, who=who)


def _hopeful(verdict: Verdict, guess: float, voice: Voice) -> PlayFinding:
    said = voice.say(
        GUESS,
        look=voice.look(verdict.window),
        guess=voice.number(10 * guess, 0),
        tactic=voice.language.say(DEFENCES[verdict.tactic]),
    )
    return PlayFinding(
        "guess_high",
        Severity.NOTE,
        basis=Basis.COMPUTED,
        sentence=said,
        remedy=voice.say(LOG_IT, n=8),
        source=source_of(voice, Basis.COMPUTED),
        roles=(verdict.window.look.receiver,),
        when=verdict.turn,
        look=verdict.look,
    )


def order_findings(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """A look that cannot be thrown before a later one has gone, or that is gone by its turn."""
    for window in line.windows:
        late = window.counted and window.in_turn > COUNT
        if window.opens and window.in_turn > window.latest + LATER and not late:
            yield _past(line, window, voice)
    for one in line.windows:
        for other in line.windows[one.index + 1 :]:
            same = one.look.passer == other.look.passer and one.counted == other.counted
            if same and other.opens and one.earliest > other.latest + 1e-9:
                yield _order(line.play, one, other, voice)


def _order(play: Play, late: Window, early: Window, voice: Voice) -> PlayFinding:
    ids = [look.id for look in play.looks]
    ids.insert(ids.index(late.look.id), ids.pop(ids.index(early.look.id)))
    said = voice.say(ORDER, late=voice.look(late), early=voice.look(early))
    remedy = voice.say(
        SWAP, early=voice.look(early), by=voice.number(late.earliest - early.earliest)
    )
    return PlayFinding(
        "look_order",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=said,
        remedy=remedy,
        source=source_of(voice, Basis.COMPUTED),
        roles=(late.look.passer,),
        when=early.latest,
        look=late.look.id,
        fix=Fix(looks=tuple(ids)),
    )


def _past(line: Timeline, window: Window, voice: Voice) -> PlayFinding:
    look = window.look
    before = [w for w in line.windows[: window.index] if w.look.passer == look.passer]
    who = voice.who(look.receiver)
    remedy = voice.say(ALONE, who=who)
    if before:
        remedy = voice.say(SOONER, other=voice.look(before[-1]), who=who)
    return PlayFinding(
        "look_past",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=voice.say(PAST, look=voice.look(window), who=who),
        remedy=remedy,
        source=source_of(voice, Basis.COMPUTED),
        roles=(look.passer, look.receiver),
        when=window.latest,
        action=look.action,
        look=look.id,
    )
