"""The panel of a proposed cast: where the search stands, and what would change."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from roster.cast.loaded import TeamCast
from roster.cast.page import left_out, without_a_part
from roster.cast.proposals import (
    Suggestion,
    conflict_of,
    fingerprint,
    open_proposal,
    proposed_cast,
    question_for,
    suggestions,
)
from roster.core.casting.question import CastingQuestion, Ending
from roster.core.casting.search import STAGES, SearchStage
from roster.models import CastProposal
from shared.speech import language_now

State = CastProposal.State


@dataclass(frozen=True, slots=True)
class SearchLine:
    """What the search is at, and how far it is through its time at most."""

    stage: str
    percent: int
    seconds: int
    is_stopping: bool


@dataclass(frozen=True, slots=True)
class Panel:
    """``progress`` is there while the search runs; ``verdict`` says how good it came out."""

    proposal: CastProposal
    suggestions: tuple[Suggestion, ...]
    progress: SearchLine | None
    verdict: str
    conflict: str
    is_old: bool
    left_out: str
    without: tuple[int, ...]  # the same, whom the page has named

    @property
    def written(self) -> list[str]:
        return [text for each in self.suggestions for text in each.written]


def panel_of(known: TeamCast) -> Panel | None:
    """The open proposal of a team, or None."""
    proposal = open_proposal(known.team)
    if proposal is None:
        return None
    question = question_for(known, proposal.depth)
    whole = proposed_cast(proposal, known)
    return Panel(
        proposal,
        _suggested(proposal, known, question),
        progress_of(proposal) if proposal.is_running else None,
        verdict(proposal),
        conflict_of(proposal, question, known),
        fingerprint(question) != proposal.question_hash,
        left_out(known, whole),
        () if proposal.is_running else without_a_part(known, whole),
    )


def progress_of(proposal: CastProposal) -> SearchLine:
    """Where a running search stands by its last beat."""
    gone = max(0.0, (proposal.beat_at - proposal.asked_at).total_seconds())
    percent = min(100, round(100 * gone / max(1.0, proposal.limit)))
    stage = language_now().say(STAGES[SearchStage(proposal.stage)])
    return SearchLine(stage, percent, int(gone), proposal.stop_asked)


def verdict(proposal: CastProposal) -> str:
    """How near the answer is to the best there is."""
    if proposal.state == State.FAILED:
        return _(
            "The search ended early, perhaps with the server. What is shown is as far as it came."
        )
    if proposal.ending == Ending.CONFLICT:
        return ""
    if proposal.ending == Ending.PROVED:
        return _("Nothing better exists under your locks and limits.")
    if proposal.bound is None or proposal.bound <= 0:
        return _("Each play is cast by itself; loads are not shared over the package yet.")
    gap = max(0.0, proposal.bound - proposal.value) / proposal.bound
    if gap < 0.0005:
        return _("No cast can be better by more than one part in two thousand.")
    return _("No cast can be better by more than %(gap).1f %%.") % {"gap": 100 * gap}


def _suggested(
    proposal: CastProposal, known: TeamCast, question: CastingQuestion
) -> tuple[Suggestion, ...]:
    return () if proposal.ending == Ending.CONFLICT else suggestions(proposal, known, question)
