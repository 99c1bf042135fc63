"""A practice that has been, as its pages tell it: what was run, who erred, who missed what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from django.db.models import Count, Q

from practice.core.reps.happened import (
    Day,
    Errors,
    PlayRuns,
    Week,
    by_week,
    errors_over,
    errors_told,
    missed,
    missed_lately,
    missed_lately_told,
    missed_told,
    runs_by_play,
    runs_told,
)
from practice.models import ModeChoice, Practice, Rep, RepSum
from practice.presence import away_from
from practice.reps.sums import values_of
from roster.bridge import names_of
from roster.core.names import Names
from roster.models import Casting, PackagePlay, Player, Team
from shared.core.language import Language

WEEKS_SHOWN: Final = 8


@dataclass(frozen=True, slots=True)
class PlayTold:
    """One play of a practice in words. ``modes`` are pairs of a mode's name and its runs."""

    entry: PackagePlay
    runs: str
    modes: tuple[tuple[str, int], ...]
    errors: tuple[str, ...]
    calls: tuple[tuple[str, int], ...]  # as they are heard, where somebody said which was run


@dataclass(frozen=True, slots=True)
class Happened:
    """What a practice was; ``runs`` and ``errors`` are the sums over its plays in words."""

    runs: str
    plays: tuple[PlayTold, ...]
    errors: tuple[str, ...]
    missed: tuple[str, ...]


def happened(practice: Practice, language: Language) -> Happened | None:
    """What was logged in a practice, or None where nothing was: seven queries at most."""
    runs = runs_by_play(values_of(Rep.objects.counted().filter(practice=practice).order_by("at")))
    if not runs:
        return None
    people = list(Player.objects.filter(team=practice.team_id))
    plays = PackagePlay.objects.filter(pk__in=[each.play for each in runs])
    entries = {entry.pk: entry for entry in plays.prefetch_related("castings__player")}
    names = names_of(people)
    total, clean = sum(each.runs for each in runs), sum(each.clean for each in runs)
    return Happened(
        runs_told(total, clean, language),
        tuple(_play_told(entries[int(each.play)], each, names, language) for each in runs),
        _errors_told(errors_over(runs), names, language),
        _missed_told(practice, runs, people, entries, language),
    )


def last_practice(team: Team, before: date) -> Practice | None:
    """The last practice with reps that nobody took back, on an earlier day."""
    logged = Rep.objects.counted().filter(practice__team=team, practice__date__lt=before)
    last = logged.order_by("-practice__date", "-practice__start").values("practice")[:1]
    return Practice.objects.select_related("team").filter(pk__in=last).first()


def missed_of(
    team: Team, squad: Iterable[Player], until: date, language: Language
) -> tuple[str, ...]:
    """Who of these has missed the last times that a play of theirs was run: four queries.

    Theirs are the plays in which they are the first of a role.
    """
    since = until - timedelta(weeks=WEEKS_SHOWN)
    ran = RepSum.objects.filter(practice__team=team, practice__date__range=(since, until))
    rows = ran.order_by("-practice__date", "-practice__start", "practice").distinct()
    entries = {entry.pk: entry for entry in team.package.carried().with_cast()}
    people = {who.pk: str(who) for who in squad}
    parts = [
        (casting.player_id, entry.pk)
        for entry in entries.values()
        for casting in entry.castings.all()
        if casting.depth == 1 and casting.player_id in people
    ]
    triples = rows.values_list("practice", "entry", "player")
    return tuple(
        missed_lately_told(
            each, people[int(each.player)], entries[int(each.play)].spoken(), language
        )
        for each in missed_lately(list(triples), parts)
    )


def weeks_of(team: Team, until: date) -> tuple[Week, ...]:
    """The last weeks with practices that have been, the first one first: one query."""
    since = until - timedelta(weeks=WEEKS_SHOWN - 1, days=until.weekday())
    rows = (
        Rep.objects.counted()
        .filter(practice__team=team, practice__date__range=(since, until))
        .order_by()
        .values_list("practice__date", "practice")
        .annotate(runs=Count("pk"), right=Count("pk", filter=Q(is_clean=True)))
    )
    return by_week(Day(on, runs, right) for on, _practice, runs, right in rows)


def _play_told(entry: PackagePlay, runs: PlayRuns, names: Names, language: Language) -> PlayTold:
    return PlayTold(
        entry,
        runs_told(runs.runs, runs.clean, language),
        tuple((str(ModeChoice(mode.value).label), n) for mode, n in runs.modes),
        _errors_told(runs.errors, names, language),
        tuple((entry.heard(call), n) for call, n in runs.calls),
    )


def _errors_told(errors: Iterable[Errors], names: Names, language: Language) -> tuple[str, ...]:
    return tuple(errors_told(each, names.player(each.player), language) for each in errors)


def _missed_told(
    practice: Practice,
    runs: Sequence[PlayRuns],
    people: Sequence[Player],
    entries: dict[int, PackagePlay],
    language: Language,
) -> tuple[str, ...]:
    away = away_from(practice)
    absent = [who.pk for who in people if who.pk in away and who.left_on is None]
    parts = Casting.objects.filter(entry__in=entries).values_list("player", "entry")
    told = {who.pk: str(who) for who in people}
    return tuple(
        missed_told(
            [told[int(each)] for each in who],
            [entries[int(play)].spoken() for play in plays],
            language,
        )
        for who, plays in missed(absent, parts, runs)
    )
