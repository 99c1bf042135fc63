"""Tuning in the background: asked for by a keeper, found by a worker, kept as a draft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db import transaction

from plays.core.document.file import content_hash
from plays.core.document.form import problems
from plays.core.motion.pace import Pace
from plays.core.play import Role
from plays.core.tune.calls import TunedCall
from plays.core.tune.changes import Plan
from plays.core.tune.gain import Compared, Effect
from plays.core.tune.tune import Tuned, TuningQuestion, plan_from_json, tune
from plays.library.changes import save_draft
from plays.models import Play, Revision, Tuning
from plays.values import play_value
from shared.core.language import N_
from shared.models import User
from shared.worker import Facts, Pulse, WorkError, launch, look_after

CHANGED = N_("The play was changed before the search began.")


@dataclass(frozen=True, slots=True)
class Answer:
    """What a tuning has found, as a page shows it."""

    plan: Plan
    effects: tuple[Effect, ...]
    compared: Compared


@transaction.atomic
def begin(
    revision: Revision,
    question: TuningQuestion,
    paces: tuple[Pace, dict[Role, Pace]],
    *,
    user: User,
    team: int | None,
) -> Tuning:
    """Start a search; one that is going is not begun twice, but answered with."""
    latest = latest_of(revision.play)
    if latest is not None and latest.is_running:
        return latest
    revision.play.tunings.all().delete()
    made = Tuning.objects.create(
        play=revision.play,
        revision=revision,
        content=revision.content_hash,
        asked_by=user,
        team=team,
        question=question.to_json(),
        pace=_paces_to_json(*paces),
    )
    launch(made)
    return made


def latest_of(play: Play) -> Tuning | None:
    """The search that a page tells of."""
    latest = play.tunings.select_related("revision").defer("revision__document").first()
    return latest and look_after(latest)


def tuned_call(run: Tuning) -> TunedCall:
    """The revision that is tuned, with the call that it is tuned for."""
    return TunedCall(play_value(run.revision), int(run.question.get("call", 0)))


def work(run: Tuning, pulse: Pulse) -> Facts:
    """Search, and leave what was found in the row; stopped, the best so far."""
    if run.revision.content_hash != run.content:
        raise WorkError(CHANGED)
    base, paces = _paces_from_json(run.pace)
    found = tune(
        play_value(run.revision),
        TuningQuestion.from_json(run.question),
        base,
        paces,
        tell=lambda share: pulse.report(share=share),
    )
    return {"share": 1.0, "found": found_to_json(found)}


def found_to_json(tuned: Tuned) -> dict[str, Any]:
    return {
        "plan": [change.to_json() for change in tuned.plan],
        "effects": [effect.to_json() for effect in tuned.effects],
        "compared": tuned.compared.to_json(),
    }


def answer_of(run: Tuning) -> Answer | None:
    """What was found; None as long as there is nothing, or where the play has changed since."""
    if not run.found or run.revision.content_hash != run.content:
        return None
    return Answer(
        plan_from_json(run.found["plan"]),
        tuple(Effect.from_json(each) for each in run.found["effects"]),
        Compared.from_json(run.found["compared"]),
    )


def keep(run: Tuning, answer: Answer, user: User, note: str) -> Revision:
    """The draft that holds the tuned play; asked twice, the one that is there.

    Raises ValueError where it would have faults of form, ChangedMeanwhileError where the play
    has another revision by now.
    """
    tuned = tuned_call(run).written(answer.plan)
    newest = run.play.revisions.defer("document").first()
    if newest is not None and newest.content_hash == content_hash(tuned):
        return newest
    if problems(tuned):
        raise ValueError("tuned, the play would have faults of form")
    return save_draft(run.play, tuned, user, note=note, seen=run.content)


def _paces_to_json(base: Pace, paces: dict[Role, Pace]) -> dict[str, Any]:
    return {
        "base": base.to_json(),
        "people": {role: pace.to_json() for role, pace in paces.items()},
    }


def _paces_from_json(data: dict[str, Any]) -> tuple[Pace, dict[Role, Pace]]:
    people = {role: Pace.from_json(pace) for role, pace in data["people"].items()}
    return Pace.from_json(data["base"]), people
