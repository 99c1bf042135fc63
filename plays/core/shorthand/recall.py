"""An edited play keeps the ids that it had, since sheets and logged looks point at them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from plays.core.play import Counter, Look, Play
from plays.core.shorthand.naming import canonical, renamed_action, renamed_phase

Ids = Mapping[str, str]


def recalled(read: Play, original: Play) -> Play:
    """The play as read from shorthand, with the original's ids where both name the same thing.

    What is new keeps the id that the shorthand gave it, told apart from every id of old.
    """
    plain = canonical(original)
    ids = _back(
        (each.id for each in plain.actions()),
        (each.id for each in original.actions()),
        (each.id for each in read.actions()),
    )
    phases = _back(*(([each.id for each in play.phases]) for play in (plain, original, read)))
    looks = _back(*(([each.id for each in play.looks]) for play in (plain, original, read)))
    counters = _back(*(([each.id for each in play.counters]) for play in (plain, original, read)))
    answers = {
        named.id: (named, old) for named, old in zip(plain.counters, original.counters, strict=True)
    }
    return replace(
        read,
        key=original.key,
        origin=original.origin,
        phases=tuple(renamed_phase(phase, phases, ids, looks) for phase in read.phases),
        looks=tuple(_look(look, looks, ids) for look in read.looks),
        counters=tuple(
            _counter(each, counters, phases, ids, answers.get(each.id)) for each in read.counters
        ),
    )


def _back(plain: Iterable[str], old: Iterable[str], now: Iterable[str]) -> Ids:
    """From the ids of the shorthand to those of old; new ones stay clear of all of these."""
    known = dict(zip(plain, old, strict=True))
    taken = set(known.values())
    found: dict[str, str] = {}
    for each in now:
        name = known.get(each)
        if name is None:
            name = each
            while name in taken:
                name += "-new"
            taken.add(name)
        found[each] = name
    return found


def _look(look: Look, looks: Ids, ids: Ids) -> Look:
    return replace(look, id=looks.get(look.id, look.id), action=ids[look.action])


def _counter(
    counter: Counter,
    counters: Ids,
    phases: Ids,
    base: Ids,
    known: tuple[Counter, Counter] | None,
) -> Counter:
    plain, old = known if known is not None else (counter, counter)
    added = _back(
        (each.id for each in plain.add),
        (each.id for each in old.add),
        (each.id for each in counter.add),
    )
    looks = _back(
        (each.id for each in plain.looks),
        (each.id for each in old.looks),
        (each.id for each in counter.looks),
    )
    ids = {**base, **added}
    return replace(
        counter,
        id=counters[counter.id],
        from_phase=phases[counter.from_phase],
        remove=tuple(base[each] for each in counter.remove),
        replace=tuple(
            renamed_action(each, {**ids, each.id: base[each.id]}) for each in counter.replace
        ),
        add=tuple(renamed_action(each, ids) for each in counter.add),
        looks=tuple(_look(each, looks, ids) for each in counter.looks),
    )
