"""Findings about passes: too long for the age group, lobs that cannot be thrown."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.findings_base import Basis, Finding, Severity, Voice
from plays.core.motion_pace import Pace
from plays.core.motion_throw import throw
from plays.core.motion_values import Flight, Timeline, Window
from plays.core.play import PassKind, Point, Role
from shared.core.language import N_

BOUNCE_SHARE = 0.8  # share of the longest pass that a bounce pass may have; ours

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


def throw_findings(line: Timeline, voice: Voice) -> Iterator[Finding]:
    """Passes that this age group cannot be asked for."""
    for window in line.windows:
        if window.look.pass_kind is PassKind.LOB:
            yield from _lob(line, window, voice)
        else:
            yield from _long_look(line, window, voice)
    looks = {window.look.id for window in line.windows}
    for flight in line.flights:
        if flight.source not in looks:
            yield from _long_pass(line, flight, voice)


def longest(pace: Pace, kind: PassKind) -> float:
    """The longest pass of a kind that is safe to plan."""
    return pace.longest_pass * (BOUNCE_SHARE if kind is PassKind.BOUNCE else 1.0)


def _long_look(line: Timeline, window: Window, voice: Voice) -> Iterator[Finding]:
    look, length = window.look, window.throw.length
    most = longest(line.paces[look.passer], look.pass_kind)
    if length > most + 0.05:
        said = voice.say(
            LONG,
            look=voice.look(window),
            metres=voice.number(length),
            most=voice.number(most),
        )
        yield Finding(
            "pass_long",
            Severity.WARNING,
            Basis.HOUSE,
            said,
            _nearer(look.receiver, length - most, voice),
            voice.source(Basis.HOUSE),
            roles=(look.passer, look.receiver),
            when=window.earliest,
            where=Point(window.target.real, window.target.imag),
            action=look.action,
            look=look.id,
        )


def _long_pass(line: Timeline, flight: Flight, voice: Voice) -> Iterator[Finding]:
    length = flight.throw.length
    most = longest(line.paces[flight.passer], flight.throw.kind)
    if length > most + 0.05:
        said = voice.say(
            LONG_PASS,
            passer=voice.who(flight.passer),
            receiver=voice.who(flight.receiver),
            metres=voice.number(length),
            most=voice.number(most),
        )
        yield Finding(
            "pass_long",
            Severity.WARNING,
            Basis.HOUSE,
            said,
            _nearer(flight.receiver, length - most, voice),
            voice.source(Basis.HOUSE),
            roles=(flight.passer, flight.receiver),
            when=flight.release,
            where=Point(flight.target.real, flight.target.imag),
            action=flight.source,
        )


def _nearer(who: Role, metres: float, voice: Voice) -> str:
    return voice.say(SHORTER, who=voice.who(who), metres=voice.number(metres + 0.05))


def _lob(line: Timeline, window: Window, voice: Voice) -> Iterator[Finding]:
    """The lowest arc that clears a fronting defender may still be too hard to throw."""
    look, made = window.look, window.throw
    pace = line.paces[look.passer]
    if made.arc is None or made.clears is None or made.arc.speed <= pace.arm_speed:
        return
    less = made.length - longest_lob(pace, line.pace)
    said = voice.say(
        WEAK,
        look=voice.look(window),
        height=voice.number(made.clears[1]),
        speed=voice.number(made.arc.speed),
        most=voice.number(pace.arm_speed),
    )
    yield Finding(
        "lob_cannot_clear",
        Severity.SERIOUS,
        Basis.COMPUTED,
        said,
        voice.say(SHORTER_LOB, who=voice.who(look.receiver), metres=voice.number(less + 0.05)),
        voice.source(Basis.COMPUTED),
        roles=(look.passer, look.receiver),
        when=window.earliest,
        where=Point(window.target.real, window.target.imag),
        action=look.action,
        look=look.id,
    )


def longest_lob(passer: Pace, defender: Pace) -> float:
    """The longest lob that an arm can throw over a fronting defender, by halving."""
    low, high = 2.0, 25.0
    for _ in range(20):
        middle = (low + high) / 2.0
        arc = throw(PassKind.LOB, middle, passer, defender).arc
        fits = arc is None or arc.speed <= passer.arm_speed
        low, high = (middle, high) if fits else (low, middle)
    return low
