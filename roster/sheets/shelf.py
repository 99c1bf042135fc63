"""A playbook of plays of the library, made in the background for whoever of the staff asked."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from datetime import date
from typing import Final

from django.db import transaction
from django.utils import timezone

from plays.core.calls import call_for
from plays.core.words.variants import other_calls
from plays.models import Play
from plays.values import play_value, read_ahead
from roster.core.paper.leaf import Edge
from roster.core.paper.playbook_pdf import write_playbook
from roster.core.paper.sheet import CarriedPlay
from roster.core.paper.team_pdf import PlayHandout
from roster.models import ShelfPrinting
from roster.sheets.papers import club_name
from shared.core.language import N_, Language
from shared.models import User
from shared.pieces import LIBRARY, is_kept, kept
from shared.speech import language_of
from shared.worker import Facts, Pulse, WorkError, launch, look_after

MOST: Final = 300  # plays of one playbook, as of one file
NOTHING: Final = N_("No play is chosen, or none of them is on the shelf any more.")
NOT_KEPT: Final = N_("The file could not be kept: the disk may be full. Try again.")


class _OtherWantedError(Exception):
    """Somebody asked for another one."""


@transaction.atomic
def begin(user: User, plays: Sequence[int], paper: str, language: str) -> ShelfPrinting:
    """Start to make a playbook; one that is being made is not begun twice, another one ends."""
    User.objects.select_for_update().get(pk=user.pk)
    wanted = {"plays": list(plays), "paper": paper, "language": language}
    mine = ShelfPrinting.objects.filter(made_for=user)
    going = mine.filter(state=ShelfPrinting.State.RUNNING).first()
    if going is not None and all(getattr(going, name) == it for name, it in wanted.items()):
        return going
    mine.delete()
    made = ShelfPrinting.objects.create(made_for=user, **wanted)
    launch(made)
    return made


def latest_for(user: User) -> ShelfPrinting | None:
    """The playbook that the page tells of."""
    latest = ShelfPrinting.objects.filter(made_for=user).first()
    return latest and look_after(latest)


def is_ready(row: ShelfPrinting) -> bool:
    """Whether the file is there, of what is on the shelf now."""
    return row.state == ShelfPrinting.State.DONE and is_kept(LIBRARY, _facts(row, _plays(row)))


def file_of(row: ShelfPrinting) -> bytes:
    """The file, which was made before: see ``is_ready``."""
    return _file(row, lambda _: None)


def work(row: ShelfPrinting, pulse: Pulse) -> Facts:
    """Make the file, which is then kept for whoever opens it."""
    total = max(1, len(row.plays))

    def tell(done: int) -> None:
        if not pulse.report(share=min(0.99, done / total)):
            raise _OtherWantedError

    try:
        _file(row, tell)
    except _OtherWantedError:
        return {}
    if not is_kept(LIBRARY, _facts(row, _plays(row))):
        raise WorkError(NOT_KEPT)
    return {"share": 1.0}


def _plays(row: ShelfPrinting) -> list[Play]:
    shelf = Play.objects.on_shelf().with_current()
    return list(shelf.filter(pk__in=row.plays).order_by("name", "pk"))


def _facts(row: ShelfPrinting, plays: Sequence[Play]) -> tuple[object, ...]:
    shown = [(each.pk, each.published().content_hash, each.published().at) for each in plays]
    return ("playbook", club_name(), timezone.localdate(), row.paper, row.language, shown)


def _file(row: ShelfPrinting, tell: Callable[[int], object]) -> bytes:
    plays = _plays(row)
    if not plays:
        raise WorkError(NOTHING)
    made_on = timezone.localdate()
    return kept(LIBRARY, _facts(row, plays), lambda: _made(row, plays, made_on, tell))


def _made(
    row: ShelfPrinting, plays: Sequence[Play], made_on: date, tell: Callable[[int], object]
) -> bytes:
    language, club, out = language_of(row.language), club_name(), io.BytesIO()
    read_ahead(play.published() for play in plays)
    handouts = [_handout(play, language) for play in plays]
    edge = Edge(club, made_on, club)
    write_playbook(handouts, out, edge, paper=row.paper, language=language, tell=tell)
    return out.getvalue()


def _handout(play: Play, language: Language) -> PlayHandout:
    """A play as it stands on the shelf: roles without people."""
    revision = play.published()
    value = play_value(revision)
    carried = CarriedPlay(play.pk, value, revision.at, value.call or value.name)
    carried = carried.told_in(language)
    call = call_for(carried.play.call or carried.play.name, {}, language)
    return PlayHandout(carried, call, {}, {}, other_calls(carried.play, {}, language))
