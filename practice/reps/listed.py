"""The reps of a practice one by one, to find the one that was logged wrong and take it back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Prefetch
from django.utils import timezone

from practice.core.reps.rep import Undo
from practice.models import Practice, Rep, RepRole
from practice.reps.store import store
from roster.models import PackagePlay
from shared.models import User


@dataclass(frozen=True, slots=True)
class RepLine:
    """One run as it was logged. ``erred`` is who erred by role and name, ``five`` who ran it."""

    id: str
    at: datetime
    mode: str
    is_clean: bool
    erred: str
    slip: str
    five: str


@dataclass(frozen=True, slots=True)
class RepsOfPlay:
    """A play that was run, with its runs, the last first."""

    entry: PackagePlay
    lines: tuple[RepLine, ...]


def reps_by_play(practice: Practice) -> tuple[RepsOfPlay, ...]:
    """The reps of a practice that count, by play: five queries, however many there are."""
    people = Prefetch("roles", RepRole.objects.select_related("player").order_by("role"))
    reps = Rep.objects.counted().filter(practice=practice).prefetch_related(people)
    by_entry: dict[int, list[RepLine]] = {}
    for rep in reps.order_by("-at", "pk"):
        by_entry.setdefault(rep.entry_id, []).append(_line(rep))
    plays = PackagePlay.objects.filter(pk__in=by_entry).select_related("play")
    entries = {entry.pk: entry for entry in plays.prefetch_related("castings__player")}
    return tuple(RepsOfPlay(entries[key], tuple(lines)) for key, lines in by_entry.items())


def take_rep_back(rep: Rep, user: User) -> None:
    """Take a rep back, as the log's undo does; pressed twice it is one undo."""
    undo = Undo(f"by hand {rep.pk}", str(rep.pk), timezone.now())
    store([undo], rep.practice.team, user)


def _line(rep: Rep) -> RepLine:
    told = dict(_told(rep))
    return RepLine(
        id=str(rep.pk),
        at=rep.at,
        mode=rep.get_mode_display(),
        is_clean=rep.is_clean,
        erred=told.get(rep.erred, ""),
        slip=rep.get_slip_display() if rep.slip else "",
        five=", ".join(told.values()),
    )


def _told(rep: Rep) -> Iterator[tuple[str, str]]:
    """Each role with who was in it, as "3 Pia"."""
    for each in rep.roles.all():
        yield each.role, f"{each.role} {each.player.name}"
