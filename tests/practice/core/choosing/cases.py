"""Small libraries drawn by chance, and the best package of each found by trying all of them."""

from __future__ import annotations

import random
from itertools import combinations

from practice.core.choosing.question import Candidate, Occasion, PackageQuestion
from practice.core.learning.coming import KINDS

OCCASIONS = (Occasion.LEFT, Occasion.RIGHT, Occasion.BASELINE, Occasion.PRESSURE)


def candidate(
    number: int, draw: random.Random, series: tuple[str, ...] = ("", "A", "B")
) -> Candidate:
    occasion = draw.choice(OCCASIONS)
    other = {Occasion.LEFT: Occasion.RIGHT, Occasion.RIGHT: Occasion.LEFT}.get(occasion)
    faced = {tactic: round(draw.random(), 3) for tactic in KINDS}
    return Candidate(
        id=number,
        covers=frozenset({occasion}),
        turned=frozenset({other} if other and draw.random() < 0.8 else ()),
        series=draw.choice(("", "A", "B")),
        minutes=draw.randint(4, 24) / 2,
        turning=draw.choice((0.0, 1.5, 3.0)),
        worth=faced,
        holds=frozenset(tactic for tactic, worth in faced.items() if worth > 0.45),
        begins=draw.random() < 0.7,
    )


def library(seed: int, size: int) -> tuple[Candidate, ...]:
    """So many plays; those of one series save a part of each other's minutes."""
    draw = random.Random(seed)
    plays = [candidate(number, draw) for number in range(size)]
    return tuple(
        Candidate(
            **{
                **{name: getattr(one, name) for name in Candidate.__slots__},
                "saves": {
                    other.id: draw.choice((0.0, 0.6, 1.2, 2.4, 3.0))
                    for other in plays
                    if other.series and other.series == one.series and other.id != one.id
                },
            }
        )
        for one in plays
    )


def question(seed: int, size: int = 7) -> PackageQuestion:
    """A question of chance about such a library."""
    draw = random.Random(seed + 10_000)
    plays = library(seed, size)
    shares = {tactic: draw.randint(0, 4) for tactic in KINDS} if draw.random() < 0.7 else {}
    return PackageQuestion(
        candidates=plays,
        occasions=OCCASIONS[: draw.randint(2, 4)],
        minutes=draw.randint(6, 40),
        beginnings=draw.choice((2, 3, 1000)),
        shares={tactic: float(share) for tactic, share in shares.items()},
        bans=frozenset({draw.randrange(size)} if draw.random() < 0.3 else ()),
    )


# --- the same count once more, from the definitions alone ----------------------------------------


def minutes_by_hand(plays: list[Candidate], turned: set[int]) -> float:
    """All minutes; in each series whoever is learnt first is tried, and the cheapest way counts."""
    total = sum(p.minutes + (p.turning if p.id in turned else 0.0) for p in plays)
    for name in {p.series for p in plays} - {""}:
        same = [p for p in plays if p.series == name]
        total -= max(sum(p.saves.get(lead.id, 0.0) for p in same) for lead in same)
    return total


def count_by_hand(
    asked: PackageQuestion, plays: list[Candidate], turned: set[int]
) -> tuple[int, int, float]:
    """Occasions covered, defences held (two an occasion at most), and the worth."""
    given = {tactic: share for tactic, share in asked.shares.items() if share > 0}
    parts = {t: s / sum(given.values()) for t, s in given.items()} or dict.fromkeys(KINDS, 1 / 6)
    covered, held, worth = 0, 0, 0.0
    for occasion in asked.occasions:
        here = [
            p for p in plays if occasion in p.covers or (p.id in turned and occasion in p.turned)
        ]
        covered += 1 if here else 0
        held += min(2, sum(any(t in p.holds for p in here) for t in parts))
        for tactic, share in parts.items():
            values = sorted((p.worth[tactic] for p in here), reverse=True)
            best, second, *_ = *values, 0.0, 0.0
            worth += share * (best + 0.3 * second)
    return covered, held, worth / len(asked.occasions) - 0.001 * len(plays)


def best_by_trying(asked: PackageQuestion) -> tuple[int, int, float] | None:
    """The greatest count over every set of plays and of other sides; None where none fits."""
    may = [
        p
        for p in asked.candidates
        if p.id not in asked.bans and (p.bar is None or p.id in asked.pins)
    ]
    found = None
    for size in range(len(may) + 1):
        if asked.count is not None and size != asked.count:
            continue
        for plays in map(list, combinations(may, size)):
            ids = {p.id for p in plays}
            if not (asked.pins & {p.id for p in may}) <= ids:
                continue
            if sum(p.begins for p in plays) > asked.beginnings:
                continue
            sides = [p.id for p in plays if p.turned & set(asked.occasions)]
            for many in range(len(sides) + 1):
                for turned in map(set, combinations(sides, many)):
                    if minutes_by_hand(plays, turned) > asked.minutes + 1e-6:  # type: ignore[arg-type]
                        continue
                    count = count_by_hand(asked, plays, turned)  # type: ignore[arg-type]
                    if found is None or _beats(count, found):
                        found = count
    return found


def _beats(one: tuple[int, int, float], other: tuple[int, int, float]) -> bool:
    return one[:2] > other[:2] or (one[:2] == other[:2] and one[2] > other[2])
