"""What a phone works out of a call sheet, answered by the server's code.

    python -m tests.practice.calls.five_cases

writes it to ``tests/data/calls.json``, which ``tests/js/calls_five.test.js`` holds the phone to.
The same squads every time: who knows what is drawn, so that plays can be run, barely, or not.
"""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from plays.core.calls import CallName, call_for
from plays.core.play import ROLES, Role
from practice.core.calls.looks import PlayLooks
from practice.core.calls.phone_words import PHONE_WORDS
from practice.core.calls.ready import (
    in_order,
    ready_text,
)
from roster.core.cast import Assignment, Cast, PlayerId, PlayId
from roster.core.coverage.floor_five import PlayFilling, moves, the_five
from roster.core.coverage.squad import Squad, squad
from roster.core.coverage.stand_in import first_five
from roster.core.coverage.why_not import in_words
from roster.core.names import Names
from shared.core.language import ENGLISH
from shared.core.numbers import hundredths

FILE: Final = Path(__file__).parents[2] / "data" / "calls.json"
BAR: Final = 0.8
NAMED: Final = ("Ida", "Noor", "Ada", "Mila", "Zoë", "ida", "Pia", "Eva", "Mo", "Ida")
CALLS: Final = ("Tide {3}", "{1} and {2}", "{ 5 }!", "Wall {x}", "Post {4} {4}", "Plain")


def cases() -> dict[str, Any]:
    """What goes in and what has to come out; JSON values only."""
    dice = random.Random(19)
    return {"words": PHONE_WORDS, "squads": [_squad(dice, logged=n % 4 > 0) for n in range(16)]}


def text() -> str:
    return json.dumps(cases(), ensure_ascii=False) + "\n"


def _squad(dice: random.Random, *, logged: bool) -> dict[str, Any]:
    """Eight to ten players, six plays, and three changes of the five after one another."""
    people: dict[PlayerId, CallName] = {
        n: CallName(NAMED[n], dice.choice(("4", "7", "7", ""))) for n in range(dice.randint(8, 10))
    }
    plays = list(range(100, 106))
    cast = Cast(tuple(a for play in plays for a in _cast(dice, play, list(people))))
    levels = {a.lesson: dice.choice((0.0, 0.5, 0.79, 0.8, 0.95)) for a in cast.assignments}
    chances = {play: dice.choice((None, 0.2, 0.5, 0.9)) for play in plays}
    looks: dict[PlayId, PlayLooks] = {play: PlayLooks(chance) for play, chance in chances.items()}
    throwers: dict[Any, Role] = {play: "1" for play in plays if dice.random() < 0.5}
    known = squad(list(people), plays, cast, throwers=throwers)
    names = Names.of(people, {}, ENGLISH)
    firsts = [PlayFilling(play, first_five(cast, play), 1.0) for play in plays]
    steps, before = [], firsts
    five = dice.sample(list(people), 5)
    for _ in range(4):
        after = the_five(known, five, before)
        readiness = levels if logged else None
        steps.append(
            {
                "five": five,
                "fillings": [_filling(each, known, names) for each in after],
                "calls": [[_heard(each, call, people) for call in CALLS] for each in after],
                "order": [
                    [line.play, ready_text(line.short, ENGLISH)]
                    for line in in_order(after, readiness, BAR, looks)
                ],
                "moves": [
                    [move.play, move.player, move.before or "", move.after]
                    for move in moves(before, after)
                    if move.after is not None
                ],
            }
        )
        off, bench = dice.choice(five), [pk for pk in people if pk not in five]
        five = [dice.choice(bench) if pk == off else pk for pk in five]
        before = list(after)
    return {
        "logged": logged,
        "players": [
            {"id": pk, "name": names.player(pk), "called": who.name, "number": who.number}
            for pk, who in people.items()
        ],
        "plays": [
            {
                "id": play,
                "name": f"Play {play}",
                "cast": [
                    [a.role, a.depth, a.player, *_level(levels[a.lesson])]
                    for a in cast.assignments
                    if a.play == play
                ],
                "first": [first.filling.get(role) for role in ROLES],
                "thrower": throwers.get(play),
                "chance": -1.0 if chances[play] is None else chances[play],
                "why": "",
            }
            for play, first in zip(plays, firsts, strict=True)
        ],
        "heard": CALLS,
        "steps": steps,
    }


def _cast(dice: random.Random, play: int, people: Sequence[PlayerId]) -> list[Assignment]:
    """Roles filled two or three deep, and now and then a role that nobody has."""
    found = []
    for role in ROLES:
        deep = 0 if dice.random() < 0.03 else dice.randint(2, 3)
        for depth, player in enumerate(dice.sample(people, deep), start=1):
            found.append(Assignment(play, role, depth, player))
    return found


def _level(value: float) -> tuple[int, int]:
    return int(value >= BAR), hundredths(value)


def _filling(found: PlayFilling, known: Squad, names: Names) -> dict[str, Any]:
    thrower = known.throwers.get(found.play)
    return {
        "play": found.play,
        "five": [found.filling.get(role) for role in ROLES],
        "why": "; ".join(in_words(each, names, thrower) for each in found.shortages),
    }


def _heard(found: PlayFilling, call: str, people: dict[PlayerId, CallName]) -> str:
    cast = {role: people[who] for role, who in found.filling.items()}
    return call_for(call, cast, ENGLISH)


if __name__ == "__main__":
    FILE.write_text(text(), "utf-8")
