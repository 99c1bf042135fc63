"""Writing reps: each once, whatever is sent twice."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from practice.core.reps import Rep
from practice.models import Rep as RepRow
from practice.models import RepRole
from roster.models import PackagePlay
from shared.models import User


@transaction.atomic
def save_rep(rep: Rep, user: User) -> bool:
    """Store a rep. False where it is there already: the first one counts."""
    revision = PackagePlay.objects.values_list("revision_id", flat=True).get(pk=rep.play)
    row, is_new = RepRow.objects.get_or_create(
        pk=rep.id,
        defaults={
            "practice_id": rep.practice,
            "entry_id": rep.play,
            "revision_id": rep.revision or revision,
            "unit_id": rep.unit,
            "mode": rep.mode.value,
            "is_clean": rep.clean,
            "erred": rep.erred or "",
            "slip": rep.slip.value if rep.slip else "",
            "at": rep.at,
            "logged_by": user,
        },
    )
    if is_new:
        RepRole.objects.bulk_create(_roles(row, rep))
    return is_new


def _roles(row: RepRow, rep: Rep) -> Iterable[RepRole]:
    return [RepRole(rep=row, role=role, player_id=player) for role, player in rep.cast]
