"""What needs what, as a graph of names: in which order, and where it goes in a circle."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from heapq import heapify, heappop, heappush


def ancestors(edges: Mapping[str, Collection[str]], target: str) -> set[str]:
    """Everything that ``target`` waits for, directly or not; itself only if in a circle."""
    found: set[str] = set()
    left = list(edges.get(target, ()))
    while left:
        source = left.pop()
        if source not in found:
            found.add(source)
            left.extend(edges.get(source, ()))
    return found


def in_order(
    needed: Mapping[str, Collection[str]],
) -> tuple[tuple[str, ...], dict[str, set[str]]]:
    """(the sorted, what could not be sorted with its own needs among those left)."""
    place = {id_: index for index, id_ in enumerate(needed)}
    missing = {id_: len(set(sources)) for id_, sources in needed.items()}
    followers: dict[str, list[str]] = {id_: [] for id_ in needed}
    for id_, sources in needed.items():
        for source in set(sources):
            followers[source].append(id_)
    ready = [place[id_] for id_, count in missing.items() if count == 0]
    heapify(ready)
    names, found = list(needed), []
    while ready:
        done = names[heappop(ready)]
        found.append(done)
        for follower in followers[done]:
            missing[follower] -= 1
            if missing[follower] == 0:
                heappush(ready, place[follower])
    left = {id_ for id_, count in missing.items() if count > 0}
    return tuple(found), {id_: left & set(needed[id_]) for id_ in names if id_ in left}


def circle_in(left: Mapping[str, Collection[str]]) -> tuple[str, ...]:
    """Walk from need to need until one comes again: all that is left waits for something left."""
    place = {id_: index for index, id_ in enumerate(left)}
    walked: list[str] = []
    here = next(iter(left))
    while here not in walked:
        walked.append(here)
        here = min(left[here], key=lambda id_: place[id_])
    circle = walked[walked.index(here) :]
    first = min(range(len(circle)), key=lambda index: place[circle[index]])
    return tuple(circle[first:] + circle[:first])


def knot(left: Mapping[str, Collection[str]], member: str) -> set[str]:
    """All that wait for ``member`` and that it waits for."""
    return {id_ for id_ in ancestors(left, member) if member in ancestors(left, id_)}
