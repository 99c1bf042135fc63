"""One role's part of a play in plain sentences: what a player's sheet says.

``part_of`` gives where to start, the numbered steps in order of time, where to end, the
role's place among the looks, and what changes when the defence does each thing. Every
sentence says one fact of ``facts``, so that text and diagram tell the same; step numbers are
those of the diagram. What a coach typed (conditions, teaching cues, what a counter says) is
passed on as typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from plays.core.play import Play, Role
from plays.core.words.counters import counter_part
from plays.core.words.plain import plain_part
from plays.core.words.role_part import RolePart
from plays.core.words.speaker import speaker
from plays.core.words.variants import own_calls
from shared.core.language import ENGLISH, Language


def part_of(
    play: Play,
    role: Role,
    names: Mapping[Role, str] | None = None,
    language: Language = ENGLISH,
) -> RolePart:
    """What the player in ``role`` has to know. Raises KeyError for a role without a start.

    ``names`` holds call names by role; whoever is missing is named by number.
    """
    voice = speaker(play, role, names or {}, language)
    plain = plain_part(play, voice)
    counters = tuple(counter_part(play, counter, plain, voice) for counter in play.counters)
    calls = tuple(own_calls(play, role, names or {}, language))
    return replace(plain, counters=counters, calls=calls)
