"""The install plan of a game: the question from the rows, the proposal, and what becomes of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import cast

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from plays.core.play import ROLES, Role
from practice.bridge import moment
from practice.core.install.question import (
    FIRSTS,
    FROM_GAMES,
    SECONDS,
    Ask,
    PlayToInstall,
    PracticeSlot,
    Schedule,
    ScheduleEntry,
    Unit,
    with_learners,
)
from practice.core.install.rework import instant
from practice.core.reps.rep import Id, Mode
from practice.models import Game, InstallPlan, Practice
from practice.parameters import in_force, settings_row
from practice.presence import away_by_practice
from practice.reps.sums import touches_of
from roster.bridge import names_of
from roster.cast.changes import package_with_cast
from roster.core.cast import IMPORTANCE
from roster.models import Availability, Lesson, PackagePlay, Player, Team


@dataclass(frozen=True, slots=True)
class Question:
    """The question as the core asks it, with the rows that it is about."""

    ask: Ask
    practices: tuple[Practice, ...]
    entries: tuple[PackagePlay, ...]
    names: dict[Id, str]


def practices_before(game: Game, now: datetime) -> list[Practice]:
    """The practices left before a game, in order."""
    starts = moment(game.date, game.start)
    rows = Practice.objects.filter(team=game.team_id, date__lte=game.date)
    return [
        p for p in rows.ahead(timezone.localdate(now)) if now < moment(p.date, p.start) < starts
    ]


def question(game: Game, now: datetime, fixed: Sequence[ScheduleEntry] = ()) -> Question:
    """Everything that the schedule is computed from: a constant number of queries."""
    team = game.team
    practices = practices_before(game, now)
    players = list(team.players.present())
    entries = list(package_with_cast(team))
    wished, from_games = _wished(team), _from_games(game)
    assumptions, offsets = in_force(settings_row())
    left = {p.pk for p in practices}
    ask = Ask(
        game=moment(game.date, game.start),
        slots=_slots(practices, players),
        plays=tuple(
            _carried(entry, wished[entry.pk], asked_for=entry.pk in from_games) for entry in entries
        ),
        players=tuple(p.pk for p in players),
        units=_units(game),
        history=touches_of(team),
        fixed=tuple(entry for entry in fixed if entry.practice in left),
        assumptions=assumptions,
        offsets=offsets,
    )
    names = dict(names_of(players).players)
    return Question(ask, tuple(practices), tuple(entries), names)


def _slots(practices: Sequence[Practice], players: Sequence[Player]) -> tuple[PracticeSlot, ...]:
    """The minutes of each practice, and who is missing there or only walks through."""
    away = away_by_practice(practices)
    out = {p.pk for p in players if p.availability == Availability.OUT}
    limited = frozenset(p.pk for p in players if p.availability == Availability.LIMITED)
    return tuple(
        PracticeSlot(
            p.pk,
            moment(p.date, p.start),
            float(p.install_minutes),
            frozenset(away[p.pk] | out),
            limited,
        )
        for p in practices
    )


def _wished(team: Team) -> Mapping[int, list[tuple[Role, int]]]:
    """The lessons on the team's list, as (role, player) by play of the package."""
    wished: dict[int, list[tuple[Role, int]]] = defaultdict(list)
    lessons = Lesson.objects.filter(team=team, done=False, player__left_on=None)
    for entry, role, player in lessons.values_list("entry_id", "role", "player_id"):
        wished[entry].append((cast("Role", role), player))
    return wished


def _from_games(game: Game) -> set[int]:
    """The plays that what a game showed speaks for; told twice it counts once."""
    return set(game.lessons_in_plan.values_list("entry_id", flat=True))


def _carried(
    entry: PackagePlay, wished: Iterable[tuple[Role, int]], *, asked_for: bool
) -> PlayToInstall:
    """A play with its cast, and who is to learn a role in it."""
    castings = sorted(entry.castings.all(), key=lambda casting: casting.depth)
    filled: dict[Role, tuple[Id, ...]] = {
        role: tuple(c.player_id for c in castings if c.role == role)
        for role in ROLES
        if any(c.role == role for c in castings)
    }
    return PlayToInstall(
        entry.pk,
        with_learners(filled, wished),
        IMPORTANCE[entry.priority] * (FROM_GAMES if asked_for else 1.0),
        deadline=moment(entry.ready_by, time.max) if entry.ready_by else None,
        setup_minutes=entry.setup_minutes,
    )


def _units(game: Game) -> tuple[Unit, ...]:
    """The team's own units; those cast first and second where it has none."""
    units = game.team.units.prefetch_related("members")
    own = tuple(Unit(u.pk, tuple(p.pk for p in u.members.all())) for u in units)
    return own or (FIRSTS, SECONDS)


# --- the proposal -------------------------------------------------------------------------


def plan_of(game: Game) -> InstallPlan:
    """The game's proposal; an empty one, not saved yet, where there is none."""
    return InstallPlan.objects.filter(game=game).first() or InstallPlan(game=game)


def held_plan_of(game: Game) -> InstallPlan:
    """The same, held until the transaction ends, so that its version stays what is looked at."""
    held = InstallPlan.objects.select_for_update().filter(game=game)
    return held.first() or InstallPlan(game=game)


def entries_of(plan: InstallPlan, *, locked: bool = False) -> tuple[ScheduleEntry, ...]:
    """The proposal's entries; with ``locked`` those that the coach keeps."""
    return tuple(
        ScheduleEntry(e["practice"], e["play"], e["unit"], Mode(e["mode"]), int(e["reps"]))
        for e in plan.entries
        if not locked or e.get("locked")
    )


def to_rows(
    entries: Iterable[ScheduleEntry], locked: Iterable[ScheduleEntry] = ()
) -> list[dict[str, object]]:
    """Entries as the row keeps them; those for which there is a locked one stay locked."""
    kept = {(e.practice, e.play, e.unit, e.mode) for e in locked}
    return [
        {
            "practice": e.practice,
            "play": e.play,
            "unit": e.unit,
            "mode": e.mode.value,
            "reps": e.reps,
            "locked": (e.practice, e.play, e.unit, e.mode) in kept,
        }
        for e in entries
    ]


def plan_around(practice: Practice, now: datetime) -> int:
    """Plan again every proposal that counted on this practice. How many there were."""
    plans = InstallPlan.objects.filter(game__team=practice.team_id).select_related("game__team")
    touched = [plan for plan in plans if practice.pk in {e.practice for e in entries_of(plan)}]
    for plan in touched:
        propose(plan.game, now)
    return len(touched)


def propose(game: Game, now: datetime) -> InstallPlan:
    """A plan at once, around what is locked and around what really happened."""
    plan = plan_of(game)
    locked = entries_of(plan, locked=True)
    made = instant(question(game, now, locked).ask)
    return keep(plan, made, locked)


@transaction.atomic
def keep(plan: InstallPlan, made: Schedule, locked: Sequence[ScheduleEntry] = ()) -> InstallPlan:
    """Save a schedule as the proposal; what was known of the old one's gap is forgotten."""
    plan.entries = to_rows(made.entries, locked)
    plan.worth, plan.gap = made.worth, None
    plan.made_at, plan.accepted_at = timezone.now(), None
    plan.version += 1
    plan.save()
    return plan


@transaction.atomic
def take_over(plan: InstallPlan, of_version: int, made: Schedule, gap: float | None) -> bool:
    """Put an improved schedule in the place of the one it was made from.

    False where the plan was changed meanwhile: the coach's change has the last word.
    """
    locked = entries_of(plan, locked=True)
    same = InstallPlan.objects.filter(pk=plan.pk, version=of_version)
    return bool(
        same.update(
            entries=to_rows(made.entries, locked),
            worth=made.worth,
            version=F("version") + 1,
            made_at=timezone.now(),
            gap=gap,
        )
    )
