"""What the reps of a batch are held against: the team's practices, plays and people now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.utils import timezone
from django.utils.timezone import localtime

from plays.models import Revision
from practice.bridge import moment
from practice.core.reps.rep import Id, Rep, strays
from practice.core.reps.rep_rules import Present, check_rep
from practice.models import Practice
from practice.presence import away_by_practice, present_value
from roster.models import Team
from shared.core.days import DaySpan
from shared.core.finding import Finding, Severity, errors
from shared.core.language import N_, Language
from shared.fields import season
from shared.said import day_said

PRACTICE_GONE: Final = N_("The practice is not there any more.")
PLAY_GONE: Final = N_("The play is not in the package any more.")
ODD_TIME: Final = N_("The phone's clock was wrong: the rep says {year}. When was it?")
OTHER_DAY: Final = N_("The practice is on {day}, but this was logged on {other}. When was it?")
# A rep may be entered long after its practice, on whose day it counts: then it is logged about now.
# What is far from both was logged by a wrong clock. The bound is a choice of ours.
NEAR: Final = timedelta(days=60)
PLAYER_GONE: Final = N_("Role {role}: the player is not in the team any more.")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Loaded once for a batch: the number of queries does not grow with the reps.

    ``revisions`` are by carried play; ``known_revisions`` are those that reps name.
    """

    practices: dict[Id, Practice]
    revisions: dict[Id, int]
    units: frozenset[Id]
    squad: frozenset[Id]
    known_revisions: frozenset[Id]
    present: dict[Id, Present]
    days: DaySpan
    now: datetime

    def against(self, rep: Rep, language: Language) -> tuple[Finding, ...]:
        """Why a rep cannot count as it is; nothing for a sound one."""
        return (
            *self._gone(rep, language),
            *self._broken(rep, language),
            *self._at_odd_time(rep, language),
        )

    def _at_odd_time(self, rep: Rep, language: Language) -> list[Finding]:
        if rep.at.date() not in self.days:
            said = language.say(ODD_TIME, year=str(rep.at.year))
            return [Finding("odd_time", Severity.SERIOUS, "/at", said)]
        practice = self.practices.get(rep.practice)
        if practice is None or not is_far(rep, moment(practice.date, practice.start), self.now):
            return []
        day, other = (day_said(each, "j M Y") for each in (practice.date, localtime(rep.at)))
        said = language.say(OTHER_DAY, day=day, other=other)
        return [Finding("other_day", Severity.SERIOUS, "/at", said)]

    def _gone(self, rep: Rep, language: Language) -> list[Finding]:
        found = []
        for stray in strays(
            [rep], frozenset(self.practices), frozenset(self.revisions), self.squad
        ):
            if stray.practice_gone:
                found.append(_gone("practice", language.say(PRACTICE_GONE)))
            if stray.play_gone:
                found.append(_gone("play", language.say(PLAY_GONE)))
            found += [
                _gone(f"cast/{role}", language.say(PLAYER_GONE, role=role))
                for role, who in rep.cast
                if who in stray.players_gone
            ]
        return found

    def _broken(self, rep: Rep, language: Language) -> list[Finding]:
        present = self.present.get(rep.practice)
        if present is None:
            return []
        found = errors(check_rep(rep, present, language))
        return [finding for finding in found if finding.code != "not_here"]  # said as gone


def is_far(rep: Rep, start: datetime, now: datetime) -> bool:
    """Whether a rep was logged neither near the start of its practice nor lately."""
    return min(abs(rep.at - start), abs(rep.at - now)) > NEAR


def surroundings(team: Team, reps: Sequence[Rep]) -> Surroundings:
    """What these reps are held against."""
    named = {rep.practice for rep in reps if isinstance(rep.practice, int)}
    named_revisions = {rep.revision for rep in reps if isinstance(rep.revision, int)}
    practices = {practice.pk: practice for practice in team.practices.filter(pk__in=named)}
    away = away_by_practice(practices.values())
    squad = list(team.players.present())
    revisions = Revision.objects.filter(pk__in=named_revisions)
    return Surroundings(
        practices={pk: practice for pk, practice in practices.items()},  # noqa: C416 (wider keys)
        revisions={pk: revision for pk, revision in _package(team)},  # noqa: C416
        units=frozenset(team.units.values_list("pk", flat=True)),
        squad=frozenset(player.pk for player in squad),
        known_revisions=frozenset(revisions.values_list("pk", flat=True)),
        present={pk: present_value(squad, away[pk]) for pk in practices},
        days=season(),
        now=timezone.now(),
    )


def _package(team: Team) -> list[tuple[int, int]]:
    return list(team.package.all().carried().values_list("pk", "revision_id"))


def _gone(place: str, sentence: str) -> Finding:
    return Finding("gone", Severity.SERIOUS, f"/{place}", sentence)
