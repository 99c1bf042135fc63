"""Names in the record of changes: kept true when somebody is renamed, taken out with a person.

The record says who as people read it, so the name stands in text there. A name that two of a team
share is only replaced where the shirt number stands with it.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from plays.core.calls import CallName, with_number
from roster.models import Player
from shared.record import reword
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
        reword(player.team_id, lambda text: text.replace(whole, said))
