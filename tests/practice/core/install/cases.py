"""Install questions for the schedule's tests, and an independent reading of a plan."""

from __future__ import annotations

import random
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from plays.core.play import ROLES
from practice.core.install.question import (
    FIRSTS,
    Ask,
    PlayToInstall,
    PracticeSlot,
    Rules,
    Schedule,
    Unit,
)
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import readiness
from practice.core.reps.rep import Id, Mode, Touch

GAME = datetime(2026, 4, 1, 12, 0, tzinfo=UTC)
SPEED = (Mode.WALK_THROUGH, Mode.HALF_SPEED, Mode.LIVE)


def slot(practice: str, days: float, minutes: float = 20.0) -> PracticeSlot:
    return PracticeSlot(practice, GAME - timedelta(days=days), minutes)


def big_ask(seed: int = 1, plays: int = 12, practices: int = 10) -> Ask:
    """15 players in three units, a cast three deep, two absent at every third practice."""
    chance = random.Random(seed)
    players: tuple[Id, ...] = tuple(f"p{number:02}" for number in range(15))
    fives = [players[5 * number : 5 * number + 5] for number in range(3)]
    carried = []
    for number in range(plays):
        depths = [chance.sample(five, 5) for five in fives]
        cast = {role: tuple(depth[i] for depth in depths) for i, role in enumerate(ROLES)}
        priority = chance.choice([0.5, 1.0, 1.0, 2.0])
        carried.append(PlayToInstall(f"k{number}", cast, priority))
    slots = tuple(
        PracticeSlot(
            f"t{number}",
            GAME - timedelta(days=2 * (practices - number) - 1, hours=-6),
            22.0,
            frozenset(chance.sample(players, 2)) if number % 3 == 0 else frozenset(),
        )
        for number in range(practices)
    )
    units = tuple(Unit(f"u{number}", five) for number, five in enumerate(fives))
    return Ask(GAME, slots, tuple(carried), players, units)


def small_ask(plays: int = 2, minutes: float = 5.0, **rules: float) -> Ask:
    """One unit, two practices, five players, and few minutes: every plan can be tried."""
    players: tuple[Id, ...] = ("ada", "bo", "cy", "di", "eva")
    cast: Mapping[str, tuple[Id, ...]] = dict(zip(ROLES, ((who,) for who in players), strict=True))
    carried = tuple(
        PlayToInstall(f"k{number}", {role: cast[role] for role in ROLES}, 1.0 + number)
        for number in range(plays)
    )
    slots = (slot("t0", 4.0, minutes), slot("t1", 1.0, minutes))
    usual = {"walk_first": 1, "half_first": 1, "expected_clean": 1.0, **rules}
    return Ask(GAME, slots, carried, players, (FIRSTS,), rules=Rules(**usual))  # type: ignore[arg-type]  # counts are whole numbers in the callers


def planned_touches(ask: Ask, schedule: Schedule, five: Mapping[str, Id]) -> list[Touch]:
    """The touches that a schedule of one unit would leave if every rep were clean."""
    starts = {one.practice: one.starts for one in ask.slots}
    return [
        Touch(
            five[role], entry.play, role, entry.practice, starts[entry.practice], entry.mode, True
        )
        for entry in schedule.entries
        for _ in range(entry.reps)
        for role in ROLES
    ]


def mean_readiness(history: list[Touch], play: Id, five: Mapping[str, Id]) -> float:
    """By the formula, cell by cell."""
    values = [
        readiness(history, (five[role], play, role), GAME, Assumptions()).value for role in ROLES
    ]
    return sum(values) / len(values)


def broken_rules(ask: Ask, schedule: Schedule) -> list[str]:
    """Read the entries one by one and list every rule that they break."""
    rules, said = ask.rules, []
    order = [one.practice for one in sorted(ask.slots, key=lambda one: one.starts)]
    room = {one.practice: one.minutes for one in ask.slots}
    begun: set[Id] = set()
    done: dict[tuple[Id, Id, Mode], int] = {}
    for practice in order:
        own = [entry for entry in schedule.entries if entry.practice == practice]
        fresh = {entry.play for entry in own} - begun
        begun |= fresh
        if len(fresh) > rules.most_new:
            said.append(f"{practice} begins {len(fresh)}")
        minutes = dict.fromkeys({entry.play for entry in own}, rules.setup_minutes)
        for entry in sorted(own, key=lambda entry: SPEED.index(entry.mode)):
            minutes[entry.play] += entry.reps * rules.minutes(entry.mode)
            key = entry.play, entry.unit
            walked = done.get((*key, Mode.WALK_THROUGH), 0)
            halved = done.get((*key, Mode.HALF_SPEED), 0)
            if entry.mode is not Mode.WALK_THROUGH and walked < rules.walk_first:
                said.append(f"{practice} {key} {entry.mode} after {walked} walk-throughs")
            if entry.mode is Mode.LIVE and halved < rules.half_first:
                said.append(f"{practice} {key} live after {halved} at half speed")
            done[*key, entry.mode] = done.get((*key, entry.mode), 0) + entry.reps
        visits: dict[tuple[Id, Id], int] = {}
        for entry in own:
            key = entry.play, entry.unit
            visits[key] = visits.get(key, 0) + entry.reps
        said += [f"{practice} {key} {n} reps" for key, n in visits.items() if n < rules.least_reps]
        if sum(minutes.values()) > room[practice] + 1e-9:
            said.append(f"{practice} takes {sum(minutes.values())} of {room[practice]}")
        said += [
            f"{practice} {play} takes {spent}"
            for play, spent in minutes.items()
            if spent > rules.longest_on_play + 1e-9
        ]
    return said
