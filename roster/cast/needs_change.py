"""What a newer revision asks of the roles that an older one did not, and whom that concerns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django.utils.translation import gettext as _

from plays.core.play import Need
from plays.models import Revision
from plays.values import play_value
from roster.bridge import player_value
from roster.cast.loaded import TeamCast
from roster.core.fit import fit, needs_differ
from roster.models import PackagePlay


def cast_made_for(entry: PackagePlay, newest: Revision) -> Revision | None:
    """The revision that the cast was made for, where the newest one asks for other things."""
    made_for = entry.cast_for or entry.revision
    return made_for if needs_differ(play_value(made_for).needs, play_value(newest).needs) else None


def needs_changed(entry: PackagePlay, known: TeamCast) -> list[str]:
    """One sentence for each role that asks for other things than when the cast was made."""
    if entry.cast_for is None or entry.cast_for_id == entry.revision_id:
        return []
    old, new = play_value(entry.cast_for).needs, known.needs(entry)
    return list(_sentences(entry, known, old, new))


def _sentences(
    entry: PackagePlay, known: TeamCast, old: Sequence[Need], new: Sequence[Need]
) -> Iterator[str]:
    firsts = {c.role: c.player for c in entry.castings.all() if c.depth == 1}
    for role in needs_differ(old, new):
        player = firsts.get(role)
        if player is None:
            yield _("Role %(role)s asks for other things than before.") % {"role": role}
            continue
        who = player_value(player)
        yield _(
            "Role %(role)s asks for other things than before: %(name)s fits %(now)d of 100, "
            "and fitted %(before)d."
        ) % {
            "role": role,
            "name": known.names.player(player.pk),
            "now": round(100 * fit(new, who, role, known.group).value),
            "before": round(100 * fit(old, who, role, known.group).value),
        }
