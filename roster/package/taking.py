"""Taking plays of the library into a team's package, several at once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from plays.models import Play
from plays.values import play_value, read_ahead
from roster.models import PackagePlay, Team
from shared.models import User
from shared.record import note_change

ROOM: Final = 60  # letters that a call may have


@transaction.atomic
def take_up_all(team: Team, user: User, plays: Iterable[Play]) -> list[PackagePlay]:
    """Take plays into the package in their current revision; what is carried stays as it is.

    A play that was dropped comes back with its call, its cast and its reps. The team is held
    until the transaction ends, so that two who take at once give no call twice.
    """
    Team.objects.select_for_update().get(pk=team.pk)
    entries = {entry.play_id: entry for entry in team.package.all()}
    calls = {entry.call.casefold() for entry in entries.values() if entry.dropped_on is None}
    fresh = []
    wanted = [p for p in plays if p.pk not in entries or entries[p.pk].dropped_on is not None]
    read_ahead(play.published() for play in wanted)
    for play in wanted:
        entry = entries.get(play.pk) or PackagePlay(team=team, play=play)
        entry.revision, entry.dropped_on = play.published(), None
        entry.call = _free_call(entry, play, calls)
        calls.add(entry.call.casefold())
        entry.save()
        note_change(user, "took up", entry, team=team.pk, after=play.key)
        fresh.append(entry)
    return fresh


def tell_taken(request: HttpRequest, count: int) -> None:
    """What a page says after plays were taken up."""
    if not count:
        messages.info(request, _("The team carries all of them already."))
        return
    said = ngettext(
        "%(n)s play is in the package. Cast it next.",
        "%(n)s plays are in the package. Cast them next.",
        count,
    )
    messages.success(request, said % {"n": count})


def _free_call(entry: PackagePlay, play: Play, taken: set[str]) -> str:
    """The team's old call, the play's own, or its name: whichever no carried play has."""
    value = play_value(entry.revision)
    numbered = (f"{play.name[: ROOM - 4]} {number}" for number in range(2, 1000))
    for call in (entry.call, value.call, play.name, *numbered):
        if call and call.casefold() not in taken:
            return call
    raise AssertionError(play.name)
