"""What the counters of a play are worth against what they answer, and what is found of them.

Margins are seconds between ball and defender, as ``defence`` computes them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.check.remedy import rounded_up
from plays.core.defence.verdict import CONTESTED, Tactic, Verdict
from plays.core.play import Counter, Play
from plays.core.words.speaker import Voice
from plays.core.words.terms import WHEN_THEY
from shared.core.finding import Severity
from shared.core.language import N_

IDLE_COUNTER: Final = N_("{when}, the counter gives no look that is open or contested at its turn.")
BETTER_COUNTER: Final = N_("Its best look needs {by} s more: free that catch first.")
LATE_COUNTER: Final = N_("{when}, no look of the counter is there in time.")
SOONER_COUNTER: Final = N_("Let its receiver be ready while the passer still has the ball.")


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
    when = voice.language.say(WHEN_THEY[counter.defence])
    if verdict.given_margin is None:  # nothing came in time, so nothing was measured
        sentence, remedy = voice.say(LATE_COUNTER, when=when), voice.say(SOONER_COUNTER)
    else:
        short = voice.number(rounded_up(CONTESTED - verdict.given_margin))
        sentence = voice.say(IDLE_COUNTER, when=when)
        remedy = voice.say(BETTER_COUNTER, by=short)
    return PlayFinding(
        "counter_idle",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=sentence,
        remedy=remedy,
        source=source_of(voice, Basis.COMPUTED),
        phase=counter.from_phase,
        counter=counter.id,
    )
