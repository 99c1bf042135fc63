"""A cast proposed for the whole package: the question, and the answer as changes."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db import IntegrityError, transaction

from plays.core.play import as_role
from roster.bridge import player_values
from roster.cast.loaded import TeamCast, team_cast
from roster.core.cast import IMPORTANCE, Assignment, Cast, Lesson, Slot
from roster.core.casting.change_words import change_in_words, reasons_in_words
from roster.core.casting.changes import CastChange, beneath, change_sets
from roster.core.casting.conflict import conflict_in_words, locks_in_conflict
from roster.core.casting.question import Ban, CastingQuestion, CastPlay, Lock
from roster.core.casting.quick import quick_casting
from roster.models import CastBan, CastLock, CastProposal, Team, Unit
from shared.models import User
from shared.worker import launch, look_after

State = CastProposal.State
_WRITTEN = re.compile(
    r"(?P<entry>\d{1,18})\.(?P<role>[1-5])\.(?P<depth>[123]):(?P<before>\d{0,18})>(?P<after>\d{0,18})"
)


@dataclass(frozen=True, slots=True)
class Suggestion:
    """The fewest changes that can be accepted by themselves, how they read, and why each."""

    key: str
    changes: tuple[CastChange, ...]
    sentences: tuple[str, ...]
    reasons: tuple[str, ...]

    @property
    def told(self) -> list[tuple[str, str]]:
        return list(zip(self.sentences, self.reasons, strict=True))

    @property
    def written(self) -> tuple[str, ...]:
        return tuple(written(change) for change in self.changes)


def question_for(known: TeamCast, depth: int) -> CastingQuestion:
    """What a casting of this team has to answer: four more queries."""
    plays = {entry.pk for entry in known.entries}
    locks = CastLock.objects.filter(entry__in=plays).order_by("pk")
    bans = CastBan.objects.filter(player__team=known.team).order_by("pk")
    units = {
        unit.pk: tuple(member.pk for member in unit.members.all())
        for unit in Unit.objects.filter(team=known.team).prefetch_related("members")
    }
    return CastingQuestion(
        plays=tuple(
            CastPlay(
                entry.pk,
                known.needs(entry),
                IMPORTANCE[entry.priority],
                units.get(entry.unit_id or 0, ()),
            )
            for entry in known.entries
        ),
        players=tuple(player_values(known.players.values())),
        depth=depth,
        group=known.group,
        locks=tuple(lock_value(lock) for lock in locks),
        bans=tuple(ban_value(ban) for ban in bans if ban.entry_id in {None, *plays}),
        never_together=known.apart,
        present=known.cast,
        learnt=_learnt(known),
    )


def lock_value(lock: CastLock) -> Lock:
    return Lock(lock.player_id, lock.entry_id, as_role(lock.role), lock.depth or None)


def ban_value(ban: CastBan) -> Ban:
    return Ban(ban.player_id, ban.entry_id, as_role(ban.role) if ban.role else None)


def ask(team: Team, user: User, depth: int) -> CastProposal:
    """Propose a cast: play by play at once, the whole package in the background.

    A search that is running is not begun twice: it is answered with itself.
    """
    found = open_proposal(team)
    if found is not None and found.is_running:
        return found
    question = question_for(team_cast(team), depth)
    quick = quick_casting(question)
    proposal = CastProposal(
        team=team,
        asked_by=user,
        depth=depth,
        question_hash=fingerprint(question),
        answer=[list(a) for a in quick.cast.assignments],
        quick_value=quick.value,
        value=quick.value,
    )
    try:
        with transaction.atomic():
            team.proposals.exclude(state=State.CLOSED).update(state=State.CLOSED)
            proposal.save()
    except IntegrityError:  # two coaches asked in the same moment
        return team.proposals.get(state=State.RUNNING)
    launch(proposal)
    return proposal


def open_proposal(team: Team) -> CastProposal | None:
    """The proposal that the grid shows, running or ready; None when it is put away."""
    found = team.proposals.exclude(state=State.CLOSED).first()
    return found and look_after(found)


def fingerprint(question: CastingQuestion) -> str:
    """A digest of all that the answer depends on, apart from the present cast."""
    said = repr(
        (
            question.plays,
            [
                (p.id, sorted(p.ratings.items()), p.height_cm, p.availability, p.positions)
                for p in question.players
            ],
            question.depth,
            sorted(question.locks, key=repr),
            sorted(question.bans, key=repr),
            sorted(question.never_together),
        )
    )
    return hashlib.sha256(said.encode()).hexdigest()


def proposed_cast(proposal: CastProposal, known: TeamCast) -> Cast:
    """The answer, and beneath it what the cast holds at depths that were not asked about.

    Plays and players that have gone since are passed over.
    """
    answer = [Assignment(*row) for row in proposal.answer]
    answer = [a for a in answer if a.play in known.by_play and a.player in known.players]
    return beneath(Cast(tuple(answer)), known.cast, proposal.depth)


def suggestions(
    proposal: CastProposal, known: TeamCast, question: CastingQuestion
) -> tuple[Suggestion, ...]:
    """What would change from the cast as it is now, without what the coach has turned down."""
    sets = change_sets(known.cast, proposed_cast(proposal, known))
    found = [
        Suggestion(
            key_of(changes),
            changes,
            tuple(change_in_words(change, known.names) for change in changes),
            tuple(reasons_in_words(change, question, known.names) for change in changes),
        )
        for changes in sets
    ]
    return tuple(each for each in found if each.key not in proposal.declined)


def key_of(changes: Sequence[CastChange]) -> str:
    """Names a set of changes by all that it says, so that an old page cannot accept another."""
    said = "|".join(f"{'.'.join(map(str, c.slot))}:{c.before}>{c.after}" for c in changes)
    return hashlib.sha256(said.encode()).hexdigest()[:16]


def conflict_among_locks(question: CastingQuestion, known: TeamCast) -> str:
    """The sentence that names the smallest set of locks in conflict; empty when they all hold.

    Only the plays with locks are looked at: the others can always be left open.
    """
    if not question.locks:
        return ""
    locked = {lock.play for lock in question.locks}
    small = CastingQuestion(
        plays=tuple(play for play in question.plays if play.id in locked),
        players=question.players,
        depth=question.depth,
        group=question.group,
        locks=question.locks,
        bans=question.bans,
        never_together=question.never_together,
    )
    found = locks_in_conflict(small)
    return conflict_in_words(small, found, known.names) if found else ""


def conflict_of(proposal: CastProposal, question: CastingQuestion, known: TeamCast) -> str:
    """The conflict that ended a search, in words."""
    locks = [Lock(*row) for row in proposal.conflict]
    return conflict_in_words(question, locks, known.names) if locks else ""


def _learnt(known: TeamCast) -> Mapping[Lesson, float]:
    return known.readiness or {}


def written(change: CastChange) -> str:
    """A change as a form carries it: "12.3.1:7>9"."""
    slot = change.slot
    before, after = change.before or "", change.after or ""
    return f"{slot.play}.{slot.role}.{slot.depth}:{before}>{after}"


def read_change(text: str) -> CastChange | None:
    """The inverse of ``written``; None for what no form of ours says."""
    found = _WRITTEN.fullmatch(text)
    if found is None:
        return None
    slot = Slot(int(found["entry"]), as_role(found["role"]), int(found["depth"]))
    before, after = (int(found[key]) if found[key] else None for key in ("before", "after"))
    return CastChange(slot, before, after)
