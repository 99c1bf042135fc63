"""The search for a proposed cast, as a worker does it: all that it finds is in the row at once."""

from __future__ import annotations

import time
from typing import Any

from roster.cast.loaded import team_cast
from roster.cast.proposals import fingerprint, question_for
from roster.core.cast import Cast
from roster.core.casting.search import SearchProgress, casting
from roster.models import CastProposal
from shared.core.language import N_
from shared.worker import Facts, Pulse, WorkError

CHANGED = N_("Players, plays or wishes were changed before the search began.")


def search(proposal: CastProposal, pulse: Pulse) -> Facts:
    """Look for the best cast within the time that the row names."""
    question = question_for(team_cast(proposal.team), proposal.depth)
    if fingerprint(question) != proposal.question_hash:
        raise WorkError(CHANGED)
    found = casting(
        question,
        proposal.limit,
        time.monotonic,
        lambda progress: _tell(pulse, progress),
        lambda: pulse.stopped,
    )
    return {
        "answer": _rows(found.cast),
        "value": found.value,
        "bound": found.bound,
        "conflict": [list(lock) for lock in found.conflict],
        "ending": found.ending.value,
    }


def _tell(pulse: Pulse, progress: SearchProgress) -> None:
    pulse.report(
        stage=progress.stage.value,
        answer=_rows(progress.cast),
        value=progress.value,
        bound=progress.bound,
        seconds=progress.seconds,
    )


def _rows(cast: Cast) -> list[list[Any]]:
    return [list(assignment) for assignment in cast.assignments]
