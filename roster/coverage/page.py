"""Coverage as its page shows it: how much of the game each play can be run in, and what helps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from urllib.parse import urlencode

from django.utils.translation import gettext as _

from plays.core.play import ROLES, Need
from roster.bridge import player_values
from roster.cast.counted import Counted, counted
from roster.cast.loaded import TeamCast
from roster.core.cast import Lesson, PlayerId, PlayId
from roster.core.coverage.absence import AbsenceCost, Covered, absences, covered
from roster.core.coverage.squad import Squad
from roster.core.coverage.teach import Teaching, few_of_each, reps_to_learn, teach_next
from roster.core.coverage.teach_words import gain_in_words, lesson_in_words, reason_in_words
from roster.models import Lesson as Wish
from roster.models import PackagePlay, Player
from shared.core.numbers import hundredths

OFTEN, AT_TIMES = 0.50, 0.15  # of game time: our own choice
PAIRS_SHOWN = 5
LESSONS_SHOWN = 8
LESSONS_OF_A_PLAY = 2  # on the list


@dataclass(frozen=True, slots=True)
class CoverageStrip:
    """One play: ``percent`` of game time, and ``whole`` with nobody out but who is out anyway."""

    entry: PackagePlay
    call: str
    percent: int
    whole: int
    level: str
    word: str
    further: tuple[str, ...]  # the play's further calls, as the same five hears them

    @property
    def lost(self) -> int:
        return max(0, self.whole - self.percent)


@dataclass(frozen=True, slots=True)
class OutLine:
    """Somebody out: by how many hundredths coverage falls, and what nobody could run."""

    players: tuple[PlayerId, ...]
    names: str
    points: int
    broken: str


@dataclass(frozen=True, slots=True)
class TeachLine:
    """What to teach next, why, what it gains; ``wished`` when it is on the list already."""

    sentence: str
    reason: str
    gain: str
    reps: int
    lessons: tuple[str, ...]
    wished: bool


@dataclass(frozen=True)
class CoveragePage:
    known: TeamCast
    also_out: tuple[int, ...]
    only_ready: bool
    wishes: tuple[Wish, ...]
    fives: str = ""  # which fives are asked for, as the address says it

    @property
    def can_be_reckoned(self) -> bool:
        """Whether any five can be made up."""
        there = set(self.known.reckoned) - self.known.out - set(self.also_out)
        return len(there) >= len(ROLES) and bool(self.known.entries)

    @property
    def is_asked(self) -> bool:
        """Whether the page was asked for anything but what it shows by itself."""
        return bool(self.also_out or self.only_ready)

    @property
    def query(self) -> str:
        """Who is supposed out and what counts as knowing, as an address begins with it."""
        asked = [("out", str(pk)) for pk in self.also_out]
        asked += [("ready", "on")] if self.only_ready else []
        return f"{urlencode(asked)}&" if asked else ""

    @cached_property
    def whole(self) -> Squad:
        return self.known.squad(only_ready=self.only_ready, only=self.counted.fives)

    @cached_property
    def counted(self) -> Counted:
        return counted(self.known, self.fives, self.also_out)

    @cached_property
    def squad(self) -> Squad:
        return self.whole.without(self.also_out)

    @cached_property
    def now(self) -> Covered:
        return covered(self.squad)

    @cached_property
    def before(self) -> Covered:
        return covered(self.whole) if self.also_out else self.now

    @property
    def percent(self) -> int:
        return hundredths(self.now.package)

    @property
    def percent_before(self) -> int:
        return hundredths(self.before.package)

    @cached_property
    def strips(self) -> list[CoverageStrip]:
        return [self._strip(entry) for entry in self.known.entries]

    def _strip(self, entry: PackagePlay) -> CoverageStrip:
        share = self.now.share(entry.pk)
        nobody = entry.pk in self.now.nobody
        level, word = level_of(share, nobody=nobody)
        five = self.known.first_five(entry.pk, self.also_out)
        return CoverageStrip(
            entry,
            self.known.call(entry, five),
            hundredths(share),
            hundredths(self.before.share(entry.pk)),
            level,
            word,
            tuple(other.call for other in self.known.other_calls(entry, five)),
        )

    @cached_property
    def singles(self) -> list[OutLine]:
        """Every player who could be out next and would be missed, the costliest first."""
        return self._out_lines([a for a in self._single if a.is_felt])

    @property
    def unfelt(self) -> str:
        """Those who could be out without costing anything to speak of."""
        return self.known.names.all_players(a.out[0] for a in self._single if not a.is_felt)

    @cached_property
    def _single(self) -> list[AbsenceCost]:
        return [a for a in absences(self.squad) if not self._away(a)]

    @cached_property
    def pairs(self) -> list[OutLine]:
        found = [a for a in absences(self.squad, 2) if not self._away(a)]
        return self._out_lines(found[:PAIRS_SHOWN])

    def _away(self, absence: AbsenceCost) -> bool:
        gone = self.known.out | set(self.also_out)
        return bool(gone & set(absence.out))

    def _out_lines(self, found: Sequence[AbsenceCost]) -> list[OutLine]:
        names = self.known.names
        return [
            OutLine(a.out, names.all_players(a.out), round(100 * a.lost), names.all_plays(a.broken))
            for a in found
        ]

    @cached_property
    def teaching(self) -> list[TeachLine]:
        """What to teach next; who is only supposed to be out is not taught meanwhile."""
        gone: set[PlayerId] = set(self.known.out) | set(self.also_out)
        ranked = teach_next(self.squad, self._reps_to_learn())
        found = (t for t in ranked if not gone & {lesson.player for lesson in t.lessons})
        return [
            self._teach(t) for t in islice(few_of_each(found, LESSONS_OF_A_PLAY), LESSONS_SHOWN)
        ]

    def _reps_to_learn(self) -> dict[Lesson, float]:
        needs: dict[PlayId, Sequence[Need]] = {
            entry.pk: self.known.needs(entry) for entry in self.known.entries
        }
        return reps_to_learn(needs, player_values(self.known.players.values()), self.known.group)

    def _teach(self, teaching: Teaching) -> TeachLine:
        names = self.known.names
        wished = {(w.player_id, w.entry_id, w.role) for w in self.wishes}
        return TeachLine(
            lesson_in_words(self.squad, teaching, names),
            reason_in_words(self.squad, teaching, names),
            gain_in_words(teaching, names),
            round(teaching.reps),
            tuple(f"{le.player}.{le.play}.{le.role}" for le in teaching.lessons),
            all(tuple(lesson) in wished for lesson in teaching.lessons),
        )

    @property
    def minutes_missed(self) -> bool:
        """Whether the pairs kept apart leave no way to give everybody their minutes."""
        return self.whole.floor.off_by > 0.02

    @property
    def nobody_set(self) -> bool:
        return all(who.expected_minutes is None for who in self.known.players.values())

    @property
    def left_out(self) -> list[Player]:
        """Players beyond those whose fives can be reckoned with."""
        return [who for pk, who in self.known.players.items() if pk not in self.known.reckoned]


def level_of(share: float, *, nobody: bool) -> tuple[str, str]:
    """A severity and its word for a share of game time."""
    if nobody:
        return "bad", _("nobody can run it")
    if share >= OFTEN:
        return "good", _("often")
    if share >= AT_TIMES:
        return "warn", _("at times")
    return "bad", _("seldom")
