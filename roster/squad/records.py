"""Names in the record of changes: kept true when somebody is renamed, taken out with a person.

The record says who as people read it, so the name stands in text there. A name that two of a team
share is only replaced where the shirt number stands with it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from plays.core.calls import CallName, with_number
from roster.models import Player
from shared.models import Change
from shared.speech import language_now

Swap = Callable[[str], str]


def swap_of(player: Player, now: CallName, said: str) -> Swap:
    """A function that puts ``said`` where a text names the player as they are called ``now``."""
    whole = with_number(now, language_now())
    others = Player.objects.filter(team=player.team_id).exclude(pk=player.pk)
    shared = others.filter(name__iexact=now.name).exists()
    words = [whole] if shared else [whole, now.name]
    pattern = re.compile("|".join(rf"(?<!\w){re.escape(word)}(?!\w)" for word in words))
    return lambda text: pattern.sub(lambda _: said, text)


def follow_name(player: Player, before: CallName) -> None:
    """Somebody was renamed: the record goes on to name them, so that it can forget them, too."""
    if player.call_name != before:
        said = with_number(player.call_name, language_now())
        whole = with_number(before, language_now())
        swap_in_records(player.team_id, lambda text: text.replace(whole, said))


def swap_in_records(team: int, swap: Swap) -> None:
    """Replace a name in every line of the team's record."""
    changed = []
    for row in Change.objects.filter(team=team).iterator(500):
        new = swap(row.subject), swapped(row.before, swap), swapped(row.after, swap)
        if new != (row.subject, row.before, row.after):
            row.subject, row.before, row.after = new
            changed.append(row)
    Change.objects.bulk_update(changed, ["subject", "before", "after"], batch_size=500)


def swapped(value: Any, swap: Swap) -> Any:
    """A value of JSON with the name replaced in all its texts."""
    match value:
        case str():
            return swap(value)
        case list():
            return [swapped(each, swap) for each in value]
        case dict():
            return {swap(key): swapped(each, swap) for key, each in value.items()}
        case _:
            return value
