"""Writing reps and called plays: each once, whatever is sent twice, late, or for what is gone.

A tap is answered for only when it is safe in the database: as what it is, as an undo, or held for
a decision. One that the database cannot take is refused by itself: it never costs the others.
"""

from __future__ import annotations

import json
import logging
import threading
import uuid
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Final

from django.db import OperationalError, connection, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from practice.core.reps.called import Take
from practice.core.reps.log import Run, Tap, merge, to_json
from practice.core.reps.rep import Rep, Undo
from practice.models import CalledPlay as CalledRow
from practice.models import HeldRep
from practice.models import Rep as RepRow
from practice.models import Undo as UndoRow
from practice.reps.rows import IDS, around, known_ids, sum_up, uuid_of, write
from practice.verbs import TOOK_BACK
from roster.models import Team
from shared.core.days import DaySpan
from shared.core.language import ENGLISH
from shared.models import User
from shared.record import note_change

LOG: Final = logging.getLogger(__name__)
_TURN: Final = threading.Lock()


@dataclass(frozen=True, slots=True)
class Stored:
    """The ids of the taps that are safe: counted or undoing, and held for a decision.

    ``refused`` says by id why a tap could not be stored; the phone keeps it.
    """

    kept: tuple[str, ...]
    held: tuple[str, ...]
    refused: Mapping[str, str] = field(default_factory=dict)


def store(taps: Iterable[Tap], team: Team, user: User) -> Stored:
    """Store a batch for a team; what is there already stays as it is.

    All at once, or where that fails one by one, so that a tap which spoils the batch is found
    and refused, and the rest is stored. Raises OperationalError where the database is away:
    then nothing is wrong with any tap, and the phone tries again.
    """
    batch = tuple(taps)
    try:
        return _store(batch, team, user)
    except OperationalError:
        raise
    except Exception:
        LOG.exception("a batch of %d taps is stored one by one", len(batch))
    return _one_by_one(batch, team, user)


def _one_by_one(batch: Sequence[Tap], team: Team, user: User) -> Stored:
    """Each id by itself, with all the taps that share it."""
    by_id: dict[str, list[Tap]] = {}
    for tap in batch:
        by_id.setdefault(tap.id, []).append(tap)
    kept: list[str] = []
    held: list[str] = []
    refused: dict[str, str] = {}
    for key, same in by_id.items():
        try:
            stored = _store(same, team, user)
        except OperationalError:
            raise
        except Exception:
            LOG.exception("a tap is refused")
            refused[key] = _("The server cannot store this rep. Hand it over as a file.")
        else:
            kept += stored.kept
            held += stored.held
    return Stored(tuple(kept), tuple(held), refused)


def _store(taps: Iterable[Tap], team: Team, user: User) -> Stored:
    """Store a batch in one transaction.

    Everything is read before the write begins, so that phones wait for each other's writes
    only. Two sends of one rep at one moment both write it, and the second changes nothing.
    """
    log = merge(taps)
    undos = [tap for tap in log.taps if isinstance(tap, Undo)]
    runs: tuple[Run, ...] = (*log.reps, *log.undone, *log.called)
    known = _known([run.id for run in runs])
    fresh = [run for run in runs if uuid_of(run.id) not in known]
    where = around(team, fresh)
    faulty = [run for run in fresh if where.against(run, ENGLISH)]
    others = [
        other for clash in log.clashes for other in clash.others if not isinstance(other, Undo)
    ]
    kept_apart = [(uuid_of(run.id), run) for run in faulty]
    kept_apart += [(_id_from_content(other), other) for other in others]
    with _my_turn(), transaction.atomic():
        _write_undos(undos, team, user, where.reps.days)
        sound = [run for run in fresh if run not in faulty]
        write(sound, where, user)
        _hold(kept_apart, team, user)
        sum_up(sound, undos)
    held = {run.id for run in faulty} | {run.id for run in runs if known.get(uuid_of(run.id))}
    sent = dict.fromkeys(tap.id for tap in log.taps)
    return Stored(
        tuple(each for each in sent if each not in held),
        tuple(each for each in sent if each in held),
    )


def save_rep(rep: Rep, user: User) -> bool:
    """Store a rep that the plain form has checked. False where it is there already."""
    if _known([rep.id]):
        return False
    team = Team.objects.get(practices=int(rep.practice))
    where = around(team, [rep])
    with _my_turn(), transaction.atomic():
        write([rep], where, user)
        sum_up([rep])
    return True


@transaction.atomic
def decide(held: HeldRep, run: Run | None, user: User) -> None:
    """Count a held one as it now reads, or set it aside with None; it stays on record."""
    if run is not None:
        write([run], around(held.team, [run]), user, key=held.pk)
        sum_up([run])
    held.counted, held.decided_by, held.decided_at = run is not None, user, timezone.now()
    held.save(update_fields=["counted", "decided_by", "decided_at"])
    verb = "set a held rep aside" if run is None else "counted a held rep"
    note_change(user, verb, held.team, team=held.team_id)


def tally_of(practice: int) -> dict[str, dict[str, int]]:
    """Counted reps of a practice by play: how many, and how many of them clean."""
    tally: dict[str, dict[str, int]] = {}
    reps = RepRow.objects.counted().filter(practice=practice)
    for entry, clean in reps.order_by().values_list("entry", "is_clean"):
        one = tally.setdefault(str(entry), {"total": 0, "clean": 0})
        one["total"] += 1
        one["clean"] += clean
    return tally


def tally_of_game(game: int) -> dict[str, dict[str, int]]:
    """The same of the plays called in a game; clean is one that did not break."""
    tally: dict[str, dict[str, int]] = {}
    called = CalledRow.objects.counted().filter(game=game)
    for entry, taken in called.order_by().values_list("entry", "taken"):
        one = tally.setdefault(str(entry), {"total": 0, "clean": 0})
        one["total"] += 1
        one["clean"] += taken != Take.BROKEN
    return tally


def open_held(team: Team) -> int:
    """How many reps of a team wait for a decision."""
    return len(waiting_for_decision(team))


def waiting_for_decision(team: Team) -> list[HeldRep]:
    """Held reps that nobody has decided on, without those that were taken back."""
    rows = team.held_reps.filter(counted=None).select_related("logged_by")
    undone = set(team.undos.values_list("rep_id", flat=True))
    done = undone | known_ids([row.pk for row in rows])
    return [row for row in rows if row.pk not in done]


@contextmanager
def _my_turn() -> Iterator[None]:
    """Take turns in this process: SQLite makes those who wait poll, and starves some of them."""
    if connection.vendor != "sqlite" or connection.in_atomic_block:
        yield
        return
    with _TURN:
        yield


def _known(ids: Sequence[str]) -> dict[uuid.UUID, bool]:
    """The ids that are in the database; True for those held for a decision."""
    keys = [uuid_of(each) for each in ids]
    if not keys:
        return {}
    held = HeldRep.objects.filter(pk__in=keys).values_list("pk", "counted")
    return {pk: counted is None for pk, counted in held} | dict.fromkeys(known_ids(keys), False)


def _id_from_content(rep: Run) -> uuid.UUID:
    return uuid.uuid5(IDS, json.dumps(to_json(rep), sort_keys=True))


def _hold(reps: Sequence[tuple[uuid.UUID, Run]], team: Team, user: User) -> None:
    HeldRep.objects.bulk_create(
        [HeldRep(id=key, team=team, tap=to_json(rep), logged_by=user) for key, rep in reps],
        ignore_conflicts=True,
    )


def _write_undos(undos: Sequence[Undo], team: Team, user: User, days: DaySpan) -> None:
    """Rows for undos, and a line of the record for those that are new.

    The time of a wrong clock gives way to the server's: an undo works whenever it came.
    """
    undos = _new(undos)
    if not undos:
        return
    UndoRow.objects.bulk_create(
        [
            UndoRow(
                id=uuid_of(undo.id),
                rep_id=uuid_of(undo.rep),
                team=team,
                at=undo.at if undo.at.date() in days else timezone.now(),
                logged_by=user,
            )
            for undo in undos
        ],
        ignore_conflicts=True,
    )
    note_change(user, TOOK_BACK, team, team=team.pk, after=_taken_back(undos, user))


def _new(undos: Sequence[Undo]) -> list[Undo]:
    """The undos that are not stored yet."""
    keys = [uuid_of(undo.id) for undo in undos]
    known = set(UndoRow.objects.filter(pk__in=keys).values_list("pk", flat=True)) if keys else set()
    return [undo for undo, key in zip(undos, keys, strict=True) if key not in known]


def _taken_back(undos: Sequence[Undo], user: User) -> dict[str, object]:
    """Which reps, and how many of them somebody else had logged."""
    reps = [uuid_of(undo.rep) for undo in undos]
    others = sum(
        model._default_manager.filter(pk__in=reps).exclude(logged_by=user).count()
        for model in (RepRow, CalledRow)
    )
    return {"reps": [str(rep) for rep in reps], "logged_by_others": others}
