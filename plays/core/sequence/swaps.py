"""A play in which roles do each other's jobs: who is meant changes, where and when does not."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from plays.core.play import Action, Counter, Look, Play, Role, Start, Swap

Who = Callable[[Role], Role]


def with_swaps(play: Play, swaps: Iterable[Swap]) -> Play:
    """The play with these jobs swapped, its free texts and its variants left as they are.

    Undone by the same swaps. No role may stand in two of them.
    """
    others = {one: other for swap in swaps for one, other in _both(swap)}
    staying = {role for swap in swaps if swap.stay for role, _ in _both(swap)}

    def who(role: Role) -> Role:
        return others.get(role, role)

    return replace(
        play,
        ball=who(play.ball),
        thrower=_maybe(play.thrower, who),
        starts=tuple(_start(start, who, staying) for start in play.starts),
        phases=tuple(
            replace(phase, actions=_each(phase.actions, _action, who)) for phase in play.phases
        ),
        looks=_each(play.looks, _look, who),
        counters=_each(play.counters, _counter, who),
        needs=tuple(replace(need, role=who(need.role)) for need in play.needs),
        spacing=tuple(
            replace(each, one=who(each.one), other=who(each.other)) for each in play.spacing
        ),
        defenders=tuple(replace(each, guards=who(each.guards)) for each in play.defenders),
    )


def _both(swap: Swap) -> tuple[tuple[Role, Role], tuple[Role, Role]]:
    return (swap.one, swap.other), (swap.other, swap.one)


def _start(start: Start, who: Who, staying: set[Role]) -> Start:
    return start if start.role in staying else replace(start, role=who(start.role))


def _action(action: Action, who: Who) -> Action:
    return replace(
        action,
        role=who(action.role),
        cutter=_maybe(action.cutter, who),
        to=_maybe(action.to, who),
    )


def _look(look: Look, who: Who) -> Look:
    read = look.read and replace(look.read, whose=_all(look.read.whose, who))
    return replace(look, passer=who(look.passer), receiver=who(look.receiver), read=read)


def _counter(counter: Counter, who: Who) -> Counter:
    return replace(
        counter,
        replace=_each(counter.replace, _action, who),
        add=_each(counter.add, _action, who),
        looks=_each(counter.looks, _look, who),
        whose=_all(counter.whose, who),
    )


def _each(parts: Iterable[Any], change: Callable[[Any, Who], Any], who: Who) -> tuple[Any, ...]:
    return tuple(change(part, who) for part in parts)


def _all(roles: Iterable[Role], who: Who) -> tuple[Role, ...]:
    return tuple(who(role) for role in roles)


def _maybe(role: Role | None, who: Who) -> Role | None:
    return None if role is None else who(role)
