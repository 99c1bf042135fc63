"""The terms of a play by their enum: one table for each, and what is said with them alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from plays.core.play import Counter, Defence, Look, Need, PassKind, Quality, Role
from plays.core.words.speaker import label
from shared.core.language import N_, Language

QUALITIES: Final[Mapping[Quality, str]] = MappingProxyType(
    {
        Quality.PASSING: N_("Passing"),
        Quality.STRENGTH: N_("Strength"),
        Quality.SPEED: N_("Speed"),
        Quality.FINISHING: N_("Finishing"),
        Quality.SHOOTING: N_("Shooting"),
        Quality.SCREENING: N_("Screening"),
        Quality.READING: N_("Reading the play"),
        Quality.REACH: N_("Reach"),
    }
)
WEIGHTS: Final[Mapping[int, str]] = MappingProxyType(
    {
        1: N_("{quality} {level} of 5, helps"),
        2: N_("{quality} {level} of 5, matters"),
        3: N_("{quality} {level} of 5, matters most"),
    }
)
LOOKS: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("{passer} to {receiver}"),
        PassKind.BOUNCE: N_("{passer} to {receiver}, bounce pass"),
        PassKind.LOB: N_("{passer} to {receiver}, lob"),
        PassKind.OVERHEAD: N_("{passer} to {receiver}, overhead pass"),
    }
)
AND_SHOT: Final = N_("{look}, and the shot")
# What the defence does: as a heading, after "when", and within a sentence that says "when they".
THEY: Final[Mapping[Defence, str]] = MappingProxyType(
    {
        Defence.SWITCH: N_("They switch"),
        Defence.FRONT: N_("They front"),
        Defence.BEHIND: N_("They stay behind"),
        Defence.TRAP: N_("They trap"),
        Defence.SAG: N_("They sag off"),
        Defence.CHASE: N_("They chase"),
        Defence.DENY: N_("They deny the pass"),
        Defence.OVER: N_("They go over the screen"),
        Defence.UNDER: N_("They go under the screen"),
    }
)
ON: Final = N_("{what} (on {who})")
WHEN_THEY: Final[Mapping[Defence, str]] = MappingProxyType(
    {
        Defence.SWITCH: N_("When they switch"),
        Defence.FRONT: N_("When they front"),
        Defence.BEHIND: N_("When they stay behind"),
        Defence.TRAP: N_("When they trap"),
        Defence.SAG: N_("When they sag off"),
        Defence.CHASE: N_("When they chase"),
        Defence.DENY: N_("When they deny the pass"),
        Defence.OVER: N_("When they go over the screen"),
        Defence.UNDER: N_("When they go under the screen"),
    }
)
DEFENDS: Final[Mapping[Defence, str]] = MappingProxyType(
    {
        Defence.SWITCH: N_("switch"),
        Defence.FRONT: N_("front"),
        Defence.BEHIND: N_("stay behind"),
        Defence.TRAP: N_("trap"),
        Defence.SAG: N_("sag"),
        Defence.CHASE: N_("chase"),
        Defence.DENY: N_("deny"),
        Defence.OVER: N_("go over the screen"),
        Defence.UNDER: N_("go under the screen"),
    }
)


def they(defence: Defence, language: Language) -> str:
    """What the defence does, as a heading."""
    return language.say(THEY[defence])


def own_words(counter: Counter, language: Language) -> str:
    """What a coach says of a counter; empty while it is no more than what its heading says."""
    heading = {THEY[counter.defence], they(counter.defence, language)}
    return "" if counter.says.strip(" .") in heading else counter.says


def answered(counter: Counter, language: Language) -> str:
    """What a counter answers, as a heading; and on whom, where not all of them do it."""
    return on(they(counter.defence, language), counter.whose, language)


def on(what: str, whose: Sequence[Role], language: Language) -> str:
    """What they do, and on whom where not all of them do it: "They switch (on 4 and 5)"."""
    return language.say(ON, what=what, who=language.all_of(whose)) if whose else what


def look_words(look: Look, names: Mapping[Role, str], language: Language) -> str:
    """Who to whom, and how unless it is a plain pass."""
    passer, receiver = (label(role, names, language) for role in (look.passer, look.receiver))
    said = language.say(LOOKS[look.pass_kind], passer=passer, receiver=receiver)
    return language.say(AND_SHOT, look=said) if look.shot else said


def need_words(needs: Iterable[Need], role: Role, language: Language) -> tuple[str, ...]:
    """What a role asks of a person, the weightiest first."""
    own = sorted((need for need in needs if need.role == role), key=lambda need: -need.weight)
    return tuple(
        language.say(
            WEIGHTS[need.weight], quality=language.say(QUALITIES[need.quality]), level=need.level
        )
        for need in own
        if need.weight in WEIGHTS
    )
