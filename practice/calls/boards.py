"""The board of a time-out: one play in motion, and as it is drawn, for whoever is on the floor.

A board names nobody: the phone writes the names of the five beside their roles, and so one board
serves every five. Its address says what it shows, so that a phone keeps it and never asks again.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, Final

from django.urls import reverse

from plays.core.check.moments import moments
from plays.core.check.samples import sampled
from plays.core.check.setting import Setting, line_of
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.drawing.stage import stage
from plays.core.motion.team_pace import TeamPace
from plays.core.motion.thrown import shown
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, AgeGroup
from plays.core.play import Play as PlayValue
from plays.core.words.speaker import Voice
from plays.play.page import svg_of
from plays.values import play_value
from roster.bridge import team_pace
from roster.models import PackagePlay, Team
from shared.core.language import Language
from shared.pieces import code_state, kept

HZ: Final = 8.0  # as on a player's phone: straight lines in between show no corner


@dataclass(frozen=True, slots=True)
class Board:
    """One call of a carried play: 0 the first, n the n-th further one."""

    entry: PackagePlay
    call: int
    age: AgeGroup
    pace: TeamPace
    language: Language

    @property
    def facts(self) -> tuple[object, ...]:
        """All that it depends on, but the code."""
        content = self.entry.revision.content_hash
        return ("board", content, self.call, self.age.value, repr(self.pace), self.language.code)

    @property
    def tag(self) -> str:
        """Twelve digits that no other board of this play has."""
        return sha256(repr((code_state(), self.facts)).encode()).hexdigest()[:12]

    def address(self, game: int) -> str:
        return reverse("call-board", args=[game, self.entry.pk, self.call, self.tag])

    def data(self, team: int) -> bytes:
        """JSON: the floor, how metres become its points, where everybody is, and the phases."""
        return kept(team, self.facts, lambda: json.dumps(self._made()).encode())

    def _made(self) -> dict[str, Any]:
        play = all_calls(play_value(self.entry.revision))[self.call]
        line = shown(line_of(play, Setting(self.age, pace=self.pace)), "")
        named = {role: role for role in ROLES}  # a place for each name
        floor = stage(line, {}, names=named, scheme="page", language=self.language)
        found = sampled(line, HZ)
        told = moments(line, Voice(self.language, {}))
        return {
            "svg": svg_of(floor.picture, "board"),
            "scale": round(floor.frame.scale, 5),
            "motion": {
                **{key: found[key] for key in ("hz", "end", "roles", "ball")},
                "moments": [each.to_json() for each in told],
            },
            "phases": [_phase(play, n, self.language) for n in range(len(play.phases))],
        }


def board_of(entry: PackagePlay, call: int, team: Team, language: Language) -> Board:
    return Board(entry, call, AgeGroup(team.age_group), team_pace(team), language)


def _phase(play: PlayValue, n: int, language: Language) -> dict[str, str]:
    phase = play.phases[n]
    drawing = on_page(Drawing(), language)
    return {
        "title": phase.title,
        "svg": svg_of(diagram(play, phase.id, drawing), f"board-{n}"),
    }
