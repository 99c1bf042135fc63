"""Findings about passes: too long for the age group, lobs too hard, hands that do not meet.

Metres and metres per second. The longest pass and the fastest arm are those of the age group in
``motion_pace``; a lob is the lowest arc of ``motion_flight`` over a fronting hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.motion.pace import Pace
from plays.core.motion.throw import Throw, throw
from plays.core.motion.timeline import Flight, Timeline, Window
from plays.core.play import ActionKind, PassKind, Point, Role
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_, Slot

BOUNCE_SHARE = 0.8  # share of the longest pass that a bounce pass may have; ours
HANDS_MEET = (
    1.6  # metres between two middles: an arm's length of each; common practice, the number ours
)

LONG: Final = N_("{look} is {metres} m long; this age group plans such passes up to {most} m.")
LONG_PASS: Final = N_(
    "The pass from {passer} to {receiver} is {metres} m long; this age group plans such passes up"
    " to {most} m."
)
SHORTER: Final = N_("Bring {who} {metres} m nearer to the ball.")
WEAK: Final = N_(
    "{look}: a lob over a hand at {height} m needs {speed} m/s; this age group aims up to {most}"
    " m/s."
)
SHORTER_LOB: Final = N_("Bring {who} {metres} m nearer to the ball, or use another pass.")
APART: Final = N_(
    "{giver} and {taker} are {metres} m apart at their hand-off: their hands do not meet."
)
MEET: Final = N_("Bring {who} {metres} m nearer to {giver}, or make it a pass.")


@dataclass(frozen=True, slots=True)
class _Pass:
    """One pass that the play plans: a look, or one that is drawn."""

    passer: Role
    receiver: Role
    throw: Throw
    release: float
    target: complex
    action: str
    look: str | None = None

    def told(
        self, code: str, severity: Severity, basis: Basis, words: tuple[str, str], voice: Voice
    ) -> PlayFinding:
        """A finding about this pass; ``words`` are the sentence and the remedy."""
        return PlayFinding(
            code,
            severity,
            basis=basis,
            sentence=words[0],
            remedy=words[1],
            source=source_of(voice, basis),
            roles=(self.passer, self.receiver),
            when=self.release,
            where=Point(self.target.real, self.target.imag),
            action=self.action,
            look=self.look,
        )


def throw_findings(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """Passes that this age group cannot be asked for."""
    for window in line.windows:
        made = _of_look(window)
        if made.throw.kind is PassKind.LOB:
            yield from _lob(line, made, voice.look(window), voice)
        else:
            yield from _too_long(line, made, voice, LONG, look=voice.look(window))
    looks = {window.look.id for window in line.windows}
    for flight in line.flights:
        if flight.source not in looks:
            names = {"passer": voice.who(flight.passer), "receiver": voice.who(flight.receiver)}
            yield from _too_long(line, _of_flight(flight), voice, LONG_PASS, **names)
    yield from _apart(line, voice)


def longest(pace: Pace, kind: PassKind) -> float:
    """The longest pass of a kind that is safe to plan."""
    return pace.longest_pass * (BOUNCE_SHARE if kind is PassKind.BOUNCE else 1.0)


def _of_look(window: Window) -> _Pass:
    look, made = window.look, window.throw
    places = (window.earliest, window.target)
    return _Pass(look.passer, look.receiver, made, *places, look.action, look.id)


def _of_flight(flight: Flight) -> _Pass:
    places = (flight.release, flight.target)
    return _Pass(flight.passer, flight.receiver, flight.throw, *places, flight.source)


def _too_long(
    line: Timeline, made: _Pass, voice: Voice, template: str, **slots: Slot
) -> Iterator[PlayFinding]:
    length, kind = made.throw.length, made.throw.kind
    most = longest(line.paces[made.passer], kind)
    if length > most + 0.05:
        said = voice.say(template, metres=voice.number(length), most=voice.number(most), **slots)
        words = (said, _nearer(SHORTER, made, length - most, voice))
        yield made.told("pass_long", Severity.WARNING, Basis.HOUSE, words, voice)


def _apart(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """A ball that is handed over between two who stand further apart than their arms reach."""
    kinds = {action.id: action.kind for action in line.play.actions()}
    for flight in line.flights:
        if kinds.get(flight.source) is not ActionKind.HANDOFF:
            continue
        made, metres = _of_flight(flight), abs(flight.target - flight.origin)
        if metres <= HANDS_MEET:
            continue
        giver, taker = voice.who(flight.passer), voice.who(flight.receiver)
        less = voice.number(metres - HANDS_MEET + 0.05)
        words = (
            voice.say(APART, giver=giver, taker=taker, metres=voice.number(metres)),
            voice.say(MEET, who=taker, metres=less, giver=giver),
        )
        yield made.told("hands_apart", Severity.WARNING, Basis.HOUSE, words, voice)


def _nearer(template: str, made: _Pass, metres: float, voice: Voice) -> str:
    return voice.say(template, who=voice.who(made.receiver), metres=voice.number(metres + 0.05))


def _lob(line: Timeline, made: _Pass, look: str, voice: Voice) -> Iterator[PlayFinding]:
    """The lowest arc that clears a fronting defender may still be too hard to throw."""
    pace, arc, clears = line.paces[made.passer], made.throw.arc, made.throw.clears
    if arc is None or clears is None or arc.speed <= pace.arm_speed:
        return
    said = voice.say(
        WEAK,
        look=look,
        height=voice.number(clears[1]),
        speed=voice.number(arc.speed),
        most=voice.number(pace.arm_speed),
    )
    less = made.throw.length - longest_lob(pace, line.pace)
    words = (said, _nearer(SHORTER_LOB, made, less, voice))
    yield made.told("lob_cannot_clear", Severity.SERIOUS, Basis.COMPUTED, words, voice)


def longest_lob(passer: Pace, defender: Pace) -> float:
    """The longest lob that an arm can throw over a fronting defender, by halving."""
    low, high = 2.0, 25.0
    for _ in range(20):
        middle = (low + high) / 2.0
        arc = throw(PassKind.LOB, middle, passer, defender).arc
        fits = arc is None or arc.speed <= passer.arm_speed
        low, high = (middle, high) if fits else (low, middle)
    return low
