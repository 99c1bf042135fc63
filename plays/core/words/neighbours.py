"""Who stands beside whom at the start, in words."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.play import Role
from plays.core.words.facts import Edge, InLine, Keeps, StandsBeside, StandsBetween
from plays.core.words.speaker import Speaker
from shared.core.language import N_, sentence

IN_LINE: Final[Mapping[str, str]] = MappingProxyType(
    {
        "baseline": N_("You are number {rank} in the line, from the baseline up."),
        "left": N_("You are number {rank} in the line, from the left."),
        "near": N_("You are number {rank} in the line, from the ball side."),
    }
)
IN_LINE_BETWEEN: Final = N_("You are number {rank} in the line, between {both}.")
BESIDE: Final[Mapping[str, str]] = MappingProxyType(
    {
        "": N_("{who} stands right beside you."),
        "baseline": N_("{who} stands right beside you, on the baseline side."),
        "half": N_("{who} stands right beside you, on the half-court side."),
        "own": N_("{who} stands right beside you, on the side of our own baseline."),
        "left": N_("{who} stands right beside you, on your left."),
        "right": N_("{who} stands right beside you, on your right."),
        "near": N_("{who} stands right beside you, on the ball side."),
        "far": N_("{who} stands right beside you, on the far side."),
    }
)
BETWEEN: Final = N_("You stand between {both}.")
EDGES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "sideline": N_("the sideline"),
        "baseline": N_("the baseline"),
        "own": N_("our own baseline"),
    }
)

# Two sentences: "the 2" for a person and "2 m" never stand in one.
KEEP_FROM: Final = N_("Keep some room between you and {who}.")
KEEP: Final = N_("Anywhere {low} to {high} m will do.")


def in_line(speaker: Speaker, fact: InLine) -> str:
    """A line across the court is counted from the ball, where there is a ball side.

    Who stands next to one on both sides tells the place, and so from where it is counted.
    """
    side: str = fact.side
    rank = fact.rank
    if side == "left" and speaker.near is not None:
        rank = rank if speaker.near == "left" else fact.total + 1 - rank
        side = "near"
    said = speaker.language.count(rank)
    if fact.between is not None:
        return speaker.say(IN_LINE_BETWEEN, rank=said, both=_both(speaker, *fact.between))
    return speaker.say(IN_LINE[side], rank=said)


def beside(speaker: Speaker, fact: StandsBeside) -> str:
    who = speaker.person(fact.mate)
    return sentence(speaker.say(BESIDE[speaker.side_word(fact.toward)], who=who))


def between(speaker: Speaker, fact: StandsBetween) -> str:
    return speaker.say(BETWEEN, both=_both(speaker, fact.one, fact.other))


def keep(speaker: Speaker, fact: Keeps) -> tuple[str, str]:
    low, high = (speaker.language.number(metres) for metres in (fact.low, fact.high))
    whom = speaker.say(KEEP_FROM, who=speaker.person(fact.other))
    return whom, speaker.say(KEEP, low=low, high=high)


def _both(speaker: Speaker, one: Role, other: Role | Edge) -> str:
    match other:
        case "sideline" | "baseline" | "own":
            said = speaker.say(EDGES[other])
        case mate:
            said = speaker.person(mate)
    return speaker.language.all_of([speaker.person(one), said])
