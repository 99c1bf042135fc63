"""A player's play in motion, with their own role brought out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.utils.safestring import SafeString

from plays.core.check.moments import moments
from plays.core.check.samples import sampled
from plays.core.check.setting import Setting, line_of
from plays.core.drawing.stage import stage
from plays.core.motion.thrown import shown
from plays.core.motion.timeline import Timeline
from plays.core.play import AgeGroup
from plays.core.sequence.after_look import way_to
from plays.core.words.speaker import Voice
from plays.core.words.terms import look_words
from plays.play.page import svg_of
from roster.bridge import team_pace
from roster.core.paper.sheet import SheetPart
from roster.models import Team
from shared.core.language import Language

HZ: Final = 8.0  # fewer than the check has: a phone loads it at the court


@dataclass(frozen=True, slots=True)
class Moving:
    """The floor at the beginning, and how metres become its points; never a decimal comma."""

    svg: SafeString
    scale: str
    looks: tuple[tuple[str, str], ...]  # id and words


def moving(part: SheetPart, team: Team, language: Language) -> Moving:
    """The floor of the play without defenders; one name only, because five would overlap."""
    me = {role: name for role, name in part.names.items() if role == part.role}
    floor = stage(_line(part, team), {}, names=me, scheme="page", language=language)
    looks = tuple(
        (look.id, f"{n}. {look_words(look, part.names, language)}")
        for n, look in enumerate(part.carried.play.looks, start=1)
    )
    return Moving(svg_of(floor.picture, "stage"), f"{floor.frame.scale:.5f}", looks)


def motion(part: SheetPart, team: Team, language: Language, look: str = "") -> dict[str, Any]:
    """Where everybody is eight times a second at the team's pace, and what happens in words; of the
    play as it is written, or as it goes when a look is thrown."""
    line = shown(_line(part, team, look), look)
    found = sampled(line, HZ)
    told = moments(line, Voice(language, part.names))
    return {
        **{key: found[key] for key in ("hz", "end", "roles", "ball")},
        "moments": [happening.to_json() for happening in told],
    }


def _line(part: SheetPart, team: Team, look: str = "") -> Timeline:
    setting = Setting(AgeGroup(team.age_group), pace=team_pace(team))
    play = part.carried.play
    return line_of(way_to(play, look) if look else play, setting)
