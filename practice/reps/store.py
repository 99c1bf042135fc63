"""Writing reps: each once, whatever is sent twice, out of order, or for what is gone.

A tap is answered for only when it is safe in the database: as a rep, as an undo, or held for
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

from practice.core.reps.rep import Id, Rep, Tap, Undo, merge, to_json
from practice.models import HeldRep, RepRole
from practice.models import Rep as RepRow
from practice.models import Undo as UndoRow
from practice.reps.sums import remake
from practice.reps.surroundings import Surroundings, surroundings
from roster.models import Team
from shared.core.days import DaySpan
from shared.core.language import ENGLISH
from shared.models import User
from shared.record import note_change
from shared.verbs import TOOK_BACK

LOG: Final = logging.getLogger(__name__)
_TURN: Final = threading.Lock()
# Our own name space, for ids that are no UUID and for a second rep under a taken id.
IDS: Final = uuid.UUID("5f2b7a52-0c1e-4d29-8a35-6f4f4b6a9f10")


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
    reps = (*log.reps, *log.undone)
    known = _known([rep.id for rep in reps])
    fresh = [rep for rep in reps if uuid_of(rep.id) not in known]
    around = surroundings(team, fresh)
    faulty = [rep for rep in fresh if around.against(rep, ENGLISH)]
    others = [other for clash in log.clashes for other in clash.others if isinstance(other, Rep)]
    kept_apart = [(uuid_of(rep.id), rep) for rep in faulty]
    kept_apart += [(_id_from_content(other), other) for other in others]
    with _my_turn(), transaction.atomic():
        _write_undos(undos, team, user, around.days)
        sound = [rep for rep in fresh if rep not in faulty]
        _write_reps(sound, around, user)
        _hold(kept_apart, team, user)
        _sum_up(sound, undos)
    held = {rep.id for rep in faulty} | {rep.id for rep in reps if known.get(uuid_of(rep.id))}
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
    around = surroundings(team, [rep])
    with _my_turn(), transaction.atomic():
        _write_reps([rep], around, user)
        _sum_up([rep])
    return True


@transaction.atomic
def decide(held: HeldRep, rep: Rep | None, user: User) -> None:
    """Count a held rep as it now reads, or set it aside with None; it stays on record."""
    if rep is not None:
        _write_reps([rep], surroundings(held.team, [rep]), user, key=held.pk)
        _sum_up([rep])
    held.counted, held.decided_by, held.decided_at = rep is not None, user, timezone.now()
    held.save(update_fields=["counted", "decided_by", "decided_at"])
    verb = "set a held rep aside" if rep is None else "counted a held rep"
    note_change(user, verb, held.team, team=held.team_id)


def uuid_of(tap_id: str) -> uuid.UUID:
    """The id as the database keeps it; for one that is no UUID always the same other one."""
    try:
        return uuid.UUID(tap_id)
    except ValueError:
        return uuid.uuid5(IDS, tap_id)


def tally_of(practice: int) -> dict[str, dict[str, int]]:
    """Counted reps of a practice by play: how many, and how many of them clean."""
    tally: dict[str, dict[str, int]] = {}
    reps = RepRow.objects.counted().filter(practice=practice)
    for entry, clean in reps.order_by().values_list("entry", "is_clean"):
        one = tally.setdefault(str(entry), {"total": 0, "clean": 0})
        one["total"] += 1
        one["clean"] += clean
    return tally


def open_held(team: Team) -> int:
    """How many reps of a team wait for a decision."""
    return len(waiting_for_decision(team))


def waiting_for_decision(team: Team) -> list[HeldRep]:
    """Held reps that nobody has decided on, without those that were taken back."""
    rows = team.held_reps.filter(counted=None).select_related("logged_by")
    undone = set(team.undos.values_list("rep_id", flat=True))
    done = undone | set(
        RepRow.objects.filter(pk__in=rows.values("pk")).values_list("pk", flat=True)
    )
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
    reps = RepRow.objects.filter(pk__in=keys).values_list("pk", flat=True)
    return {pk: counted is None for pk, counted in held} | dict.fromkeys(reps, False)


def _id_from_content(rep: Rep) -> uuid.UUID:
    return uuid.uuid5(IDS, json.dumps(to_json(rep), sort_keys=True))


def _write_reps(
    reps: Sequence[Rep], around: Surroundings, user: User, key: uuid.UUID | None = None
) -> None:
    """Rows for sound reps. A conflict is the same rep, sent twice at one moment."""
    rows = [_row(rep, around, user, key or uuid_of(rep.id)) for rep in reps]
    RepRow.objects.bulk_create(rows, ignore_conflicts=True)
    RepRole.objects.bulk_create(
        [
            RepRole(rep_id=row.pk, role=role, player_id=int(who))
            for row, rep in zip(rows, reps, strict=True)
            for role, who in rep.cast
        ],
        ignore_conflicts=True,
    )


def _sum_up(reps: Sequence[Rep], undos: Sequence[Undo] = ()) -> None:
    """Bring the sums of every practice and play up to date that these reps and undos are of."""
    touched = {(int(rep.practice), int(rep.play)) for rep in reps}
    if undos:
        named = RepRow.objects.filter(pk__in=[uuid_of(undo.rep) for undo in undos]).order_by()
        touched |= set(named.values_list("practice_id", "entry_id"))
    if touched:
        remake({practice for practice, _ in touched}, {play for _, play in touched})


def _row(rep: Rep, around: Surroundings, user: User, key: uuid.UUID) -> RepRow:
    named = rep.revision if rep.revision in around.known_revisions else None
    return RepRow(
        id=key,
        practice_id=int(rep.practice),
        entry_id=int(rep.play),
        revision_id=int(named or around.revisions[rep.play]),
        unit_id=_int_or_none(rep.unit, around.units),
        mode=rep.mode.value,
        is_clean=rep.clean,
        erred=rep.erred or "",
        slip=rep.slip.value if rep.slip else "",
        call=rep.call,
        at=rep.at,
        logged_by_id=user.pk,  # who is signed in, whatever the tap says
    )


def _int_or_none(value: Id | None, among: frozenset[Id]) -> int | None:
    return int(value) if value is not None and value in among else None


def _hold(reps: Sequence[tuple[uuid.UUID, Rep]], team: Team, user: User) -> None:
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
    others = RepRow.objects.filter(pk__in=reps).exclude(logged_by=user).count()
    return {"reps": [str(rep) for rep in reps], "logged_by_others": others}
