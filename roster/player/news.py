"""What is new for a player since the revision of each play that they confirmed last."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import cast

from plays.core.moves.translated import told_in
from plays.core.play import Role
from plays.core.words.difference import role_changes
from plays.models import Revision
from plays.values import play_value, read_ahead
from roster.core.cast import PlayerId
from roster.models import GotIt, Player
from roster.sheets.load import TeamSheets
from shared.core.language import Language
from shared.pieces import kept

Place = tuple[PlayerId, Role]  # an entry of the package, and a role of it
News = Mapping[Place, tuple[str, ...]]


def last_said(player: Player) -> dict[Place, int]:
    """The revision of each play and role that a player confirmed last, by primary key."""
    rows = GotIt.objects.filter(player=player).order_by("pk")
    return {
        (entry, cast("Role", role)): revision
        for entry, role, revision in rows.values_list("entry_id", "role", "revision_id")
    }


def news(
    loaded: TeamSheets, places: Iterable[Place], said: Mapping[Place, int], language: Language
) -> News:
    """Sentences of each place where another revision is carried than the one confirmed.

    They may be none: then the revision changed nothing for that role.
    """
    carried = loaded.revisions
    older = {
        place: said[place] for place in places if said.get(place, 0) not in (0, carried[place[0]])
    }
    if not older:
        return {}
    found = Revision.objects.defer("document").in_bulk({*older.values()})
    read_ahead(found.values())
    plays = {each.id: each.play for each in loaded.package}
    contents = {each.id: made for each, made in zip(loaded.package, loaded.contents, strict=True)}

    def told(place: Place) -> tuple[str, ...]:
        entry, role = place
        row = found[older[place]]

        def make() -> bytes:
            before, now = (told_in(each, language.code) for each in (play_value(row), plays[entry]))
            return json.dumps(role_changes(before, now, role, language)).encode()

        facts = "news", language, role, row.content_hash, contents[entry]
        return tuple(json.loads(kept(loaded.team.pk, facts, make)))

    return {place: told(place) for place in older if older[place] in found}
