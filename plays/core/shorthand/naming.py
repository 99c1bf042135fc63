"""How the shorthand speaks of things that a document knows by ids: "4's second screen".

A reader of the shorthand never sees an id. ``canonical`` gives a play the ids that reading its
shorthand yields, so that text and document are each other's inverse.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter as Tally
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from plays.core.play import (
    Action,
    ActionKind,
    Counter,
    Cue,
    CueRule,
    Look,
    Phase,
    Play,
    Role,
)
from plays.core.shorthand.vocabulary import NOUNS, ordinal

# For these a person leaves the place where they stand.
LEAVERS: Final = (ActionKind.CUT, ActionKind.SCREEN, ActionKind.DRIBBLE, ActionKind.SHOT)
_QUOTED_ID: Final = re.compile("[“«]([^“”«»]+)[”»]")


@dataclass(frozen=True, slots=True)
class Reference:
    """An action by its role, its kind, and which of that role's actions of the kind it is."""

    role: Role
    kind: ActionKind
    number: int
    of_counter: bool = False


def references(actions: Iterable[Action], *, of_counter: bool = False) -> dict[str, Reference]:
    """How each action is spoken of, by its id, in the order in which they are written."""
    seen: Tally[tuple[Role, ActionKind]] = Tally()
    found: dict[str, Reference] = {}
    for action in actions:
        seen[action.role, action.kind] += 1
        number = seen[action.role, action.kind]
        found[action.id] = Reference(action.role, action.kind, number, of_counter)
    return found


def scope(play: Play, counter: Counter | None = None) -> dict[str, Reference]:
    """How every action is spoken of in the play, or inside one of its counters."""
    known = references(play.actions())
    if counter is not None:
        known |= references(counter.add, of_counter=True)
    return known


def reference_text(found: Reference, known: Iterable[Reference]) -> str:
    """ "4's screen", "4's second screen", "4's new screen": told by number only where needed."""
    alike = [
        each
        for each in known
        if (each.role, each.kind, each.of_counter) == (found.role, found.kind, found.of_counter)
    ]
    which = f"{ordinal(found.number)} " if len(alike) > 1 else ""
    return f"{found.role}'s {which}{'new ' if found.of_counter else ''}{NOUNS[found.kind]}"


def named(sentence: str, play: Play, say: Callable[[str], str] = str) -> str:
    """A sentence about a play with its actions named as the text names them, not by their ids."""
    known = scope(play)
    for counter in play.counters:
        known |= scope(play, counter)

    def one(found: re.Match[str]) -> str:
        if found[1] not in known:
            return found[0]
        return f"“{say(reference_text(known[found[1]], known.values()))}”"

    return _QUOTED_ID.sub(one, sentence)


def mover_text(found: Reference, known: Iterable[Reference]) -> str:
    """ "4" for the first thing for which the 4 leaves its place, else as ``reference_text``."""
    leaving = [each for each in known if each.role == found.role and each.kind in LEAVERS]
    return found.role if leaving[:1] == [found] else reference_text(found, known)


def action_id(reference: Reference, counter: str = "") -> str:
    """The id of an action that is written without one."""
    last = "" if reference.number == 1 else f"-{reference.number}"
    return f"{counter}{'-' if counter else ''}{reference.role}-{reference.kind.value}{last}"


def slug(text: str, taken: Iterable[str], otherwise: str) -> str:
    """Small letters, digits and hyphens for a title, told apart by a number from those taken."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    base = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:40].rstrip("-") or otherwise
    return _apart(base, set(taken))


def phase_ids(titles: Iterable[str]) -> list[str]:
    """The ids of phases by their titles."""
    made: list[str] = []
    for title in titles:
        made.append(slug(title, made, "phase"))
    return made


def counter_ids(defences: Iterable[str]) -> list[str]:
    """The ids of counters by what the defence does."""
    made: list[str] = []
    for defence in defences:
        made.append(_apart(defence, set(made)))
    return made


def look_ids(looks: Iterable[Look], base: Iterable[Look] = (), counter: str = "") -> list[str]:
    """The ids of looks by their receivers; one of a counter that repeats a look keeps its id."""
    repeated = {(look.passer, look.receiver, look.action): look.id for look in base}
    made: list[str] = []
    for look in looks:
        same = repeated.get((look.passer, look.receiver, look.action))
        start = f"{counter}{'-' if counter else ''}to-{look.receiver}"
        made.append(same if same is not None and same not in made else _apart(start, set(made)))
    return made


def canonical(play: Play) -> Play:
    """The play with the ids that its shorthand reads as, and without rules that rule nothing.

    What it says in other languages stands language by language.
    """
    ids = {old: action_id(found) for old, found in references(play.actions()).items()}
    phases = phase_ids(phase.title for phase in play.phases)
    titled = dict(zip((phase.id for phase in play.phases), phases, strict=True))
    looks = _looks(play.looks, ids)
    of_looks = {old.id: new.id for old, new in zip(play.looks, looks, strict=True)}
    counters = counter_ids(counter.defence.value for counter in play.counters)
    renamed = [
        _counter(counter, id_, ids, titled, looks)
        for counter, id_ in zip(play.counters, counters, strict=True)
    ]
    return replace(
        play,
        phases=tuple(renamed_phase(phase, titled, ids, of_looks) for phase in play.phases),
        looks=looks,
        counters=tuple(renamed),
        translations=tuple(sorted(play.translations, key=lambda each: each.language)),
    )


def _counter(
    counter: Counter,
    id_: str,
    base: Mapping[str, str],
    titled: Mapping[str, str],
    looks: tuple[Look, ...],
) -> Counter:
    new = references(counter.add, of_counter=True)
    ids = {**base, **{old: action_id(found, id_) for old, found in new.items()}}
    return replace(
        counter,
        id=id_,
        from_phase=titled[counter.from_phase],
        remove=tuple(base[each] for each in counter.remove),
        replace=tuple(
            renamed_action(action, {**ids, action.id: base[action.id]})
            for action in counter.replace
        ),
        add=tuple(renamed_action(action, ids) for action in counter.add),
        looks=_looks(counter.looks, ids, looks, id_),
    )


def renamed_phase(
    phase: Phase, titled: Mapping[str, str], ids: Mapping[str, str], looks: Mapping[str, str]
) -> Phase:
    """The phase with other ids: its own from ``titled``, its actions' from ``ids``, and those of
    the looks that it is run after from ``looks``."""
    actions = tuple(renamed_action(action, ids) for action in phase.actions)
    after = tuple(looks[id_] for id_ in phase.after if id_ in looks)
    return replace(phase, id=titled[phase.id], actions=actions, after=after)


def renamed_action(action: Action, ids: Mapping[str, str]) -> Action:
    """The action with other ids, and without a rule where there are no two cues to rule."""
    cues = tuple(_cue(cue, ids) for cue in action.cues)
    rule = action.cue_rule if len(cues) > 1 else CueRule.ALL
    return replace(action, id=ids[action.id], cues=cues, cue_rule=rule)


def _cue(cue: Cue, ids: Mapping[str, str]) -> Cue:
    return cue if cue.action is None else replace(cue, action=ids[cue.action])


def _looks(
    looks: tuple[Look, ...],
    ids: Mapping[str, str],
    base: tuple[Look, ...] = (),
    counter: str = "",
) -> tuple[Look, ...]:
    moved = [replace(look, action=ids[look.action]) for look in looks]
    named = zip(moved, look_ids(moved, base, counter), strict=True)
    return tuple(replace(look, id=id_) for look, id_ in named)


def _apart(base: str, taken: set[str]) -> str:
    if base not in taken:
        return base
    number = 2
    while f"{base}-{number}" in taken:
        number += 1
    return f"{base}-{number}"
