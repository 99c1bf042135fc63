"""Findings about looks against the defence, their order, and what the counters are worth.

Margins are seconds between ball and defender, as ``defence`` computes them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from plays.core.check.finding import Basis, PlayFinding, Voice
from plays.core.check.remedy import Fix, rounded_up
from plays.core.defence.verdict import CONTESTED, LATER, Tactic, Verdict, Word
from plays.core.motion.timeline import Timeline, Window
from plays.core.motion.windows import COUNT
from plays.core.play import Counter, Defence, Play
from shared.core.finding import Severity
from shared.core.language import N_

HOPEFUL = 0.5  # a guess above this, of a look that is covered, is mentioned; ours
SOME = 0.15  # seconds of margin worth another order of the looks; ours

NOTHING: Final = N_("Against {tactic}, no look of this play is open or even contested at its turn.")
COVERED: Final = N_(
    "{look} is what the play is run for, and against {tactic} the defender of {stopper} is there"
    " first, at the catch."
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
    "You guess that {look} is there {guess} times in 10; against {tactic} the sum calls it covered."
)
LOG_IT: Final = N_("Log {n} tries of it in practice before you count on it.")
IDLE_COUNTER: Final = N_(
    "When they {defence}, the counter gives no look that is open or contested at its turn."
)
BETTER_COUNTER: Final = N_("Its best look needs {by} s more: free that catch first.")
LATE_COUNTER: Final = N_("When they {defence}, no look of the counter is there in time.")
SOONER_COUNTER: Final = N_("Let its receiver be ready while the passer still has the ball.")

TACTICS: Final = {
    Tactic.CHASE: N_("a chasing defence"),
    Tactic.SWITCH: N_("a switching defence"),
    Tactic.JUMP: N_("a defence that jumps to the ball"),
    Tactic.TIGHT: N_("a tight defence"),
    Tactic.DENY: N_("a denying defence"),
    Tactic.FRONT: N_("a fronting defence"),
    Tactic.SAG: N_("a sagging defence"),
    Tactic.TRAP: N_("a trapping defence"),
}
DEFENCES: Final = {
    Defence.SWITCH: N_("switch"),
    Defence.FRONT: N_("front"),
    Defence.TRAP: N_("trap"),
    Defence.SAG: N_("sag"),
    Defence.CHASE: N_("chase"),
    Defence.DENY: N_("deny"),
}


@dataclass(frozen=True, slots=True)
class CounterVerdict:
    """A counter against its defence: what of the play is left, what the counter gives.

    ``own`` and ``given`` are the ids of looks that are open or contested at their turn, the
    latter of the counter's own (of all, for a counter that lists none); ``lost`` of those that
    are there against a plain chase but not now. Margins are the best ones, None without a look
    in time.
    """

    counter: str
    tactic: Tactic
    lost: tuple[str, ...]
    own: tuple[str, ...]
    given: tuple[str, ...]
    own_margin: float | None
    given_margin: float | None
    verdicts: tuple[Verdict, ...]

    @property
    def helps(self) -> bool:
        """Whether the counter gives a look where the play has lost one, or a better one."""
        if not self.given or self.given_margin is None:
            return False
        better = self.own_margin is None or self.given_margin > self.own_margin
        return bool(self.lost) or better

    def to_json(self) -> dict[str, Any]:
        return {
            "counter": self.counter,
            "tactic": self.tactic.value,
            "lost": list(self.lost),
            "own": list(self.own),
            "given": list(self.given),
            "own_margin": None if self.own_margin is None else round(self.own_margin, 3),
            "given_margin": None if self.given_margin is None else round(self.given_margin, 3),
            "helps": self.helps,
        }


def counter_verdict(
    counter: Counter,
    plain: Sequence[Verdict],
    own: Sequence[Verdict],
    given: Sequence[Verdict],
) -> CounterVerdict:
    """``plain`` are the play's looks against a chase, ``own`` against the counter's defence,
    ``given`` the looks with the counter against that."""
    still = {verdict.look for verdict in own if verdict.there}
    mine = {look.id for look in counter.looks}
    given = [verdict for verdict in given if verdict.look in mine or not mine]
    return CounterVerdict(
        counter=counter.id,
        tactic=Tactic(counter.defence.value),
        lost=tuple(v.look for v in plain if v.there and v.look not in still),
        own=tuple(v.look for v in own if v.there),
        given=tuple(v.look for v in given if v.there),
        own_margin=_best(own),
        given_margin=_best(given),
        verdicts=tuple(given),
    )


def _best(verdicts: Sequence[Verdict]) -> float | None:
    in_time = [verdict.margin for verdict in verdicts if verdict.in_time]
    return max(in_time, default=None)


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
        if verdict.window.index == 0:
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
        sentence=voice.say(NOTHING, tactic=voice.language.say(TACTICS[tactic])),
        remedy=remedy_for(line, best, voice),
        source=voice.source(Basis.COMPUTED),
        roles=(best.window.look.receiver,),
        when=best.turn,
        look=best.look,
    )


def _covered(line: Timeline, verdict: Verdict, voice: Voice) -> PlayFinding:
    look = verdict.window.look
    said = voice.say(
        COVERED if verdict.parts.at_catch else PICKED,
        look=voice.look(verdict.window),
        tactic=voice.language.say(TACTICS[verdict.tactic]),
        stopper=voice.who(verdict.stopper),
    )
    return PlayFinding(
        "look_covered",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=said,
        remedy=remedy_for(line, verdict, voice),
        source=voice.source(Basis.COMPUTED),
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
        tactic=voice.language.say(TACTICS[verdict.tactic]),
    )
    return PlayFinding(
        "guess_high",
        Severity.NOTE,
        basis=Basis.COMPUTED,
        sentence=said,
        remedy=voice.say(LOG_IT, n=8),
        source=voice.source(Basis.COMPUTED),
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
        source=voice.source(Basis.COMPUTED),
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
        source=voice.source(Basis.COMPUTED),
        roles=(look.passer, look.receiver),
        when=window.latest,
        action=look.action,
        look=look.id,
    )


def own_findings(counter: Counter, findings: Iterable[PlayFinding]) -> Iterator[PlayFinding]:
    """Of what was found with a counter, that about its own looks and actions."""
    looks = {look.id for look in counter.looks}
    actions = {action.id for action in (*counter.replace, *counter.add)}
    for finding in findings:
        mine = finding.look in looks or (finding.look is None and finding.action in actions)
        if mine:
            yield replace(finding, counter=counter.id, fix=None)


def counter_findings(
    play: Play, verdicts: Sequence[CounterVerdict], voice: Voice
) -> Iterator[PlayFinding]:
    """Counters that give nothing."""
    known = {counter.id: counter for counter in play.counters}
    for verdict in verdicts:
        counter = known[verdict.counter]
        if counter.looks and not verdict.given:
            yield _idle_counter(counter, verdict, voice)


def _idle_counter(counter: Counter, verdict: CounterVerdict, voice: Voice) -> PlayFinding:
    defence = voice.language.say(DEFENCES[counter.defence])
    if verdict.given_margin is None:  # nothing came in time, so nothing was measured
        sentence, remedy = voice.say(LATE_COUNTER, defence=defence), voice.say(SOONER_COUNTER)
    else:
        short = voice.number(rounded_up(CONTESTED - verdict.given_margin))
        sentence = voice.say(IDLE_COUNTER, defence=defence)
        remedy = voice.say(BETTER_COUNTER, by=short)
    return PlayFinding(
        "counter_idle",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=sentence,
        remedy=remedy,
        source=voice.source(Basis.COMPUTED),
        phase=counter.from_phase,
        counter=counter.id,
    )
