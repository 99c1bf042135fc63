"""The search for the best package in the background, and what a page shows meanwhile."""

from __future__ import annotations

import time
from typing import Any, Final

from django.db import IntegrityError, transaction
from django.utils import timezone

from plays.values import play_value
from practice.choosing import judging
from practice.choosing.asked import AskedPackage, asked_for
from practice.core.choosing.around import PackagesBeside, surroundings
from practice.core.choosing.question import ChosenPackage, PackageQuestion, PinnedTooMuchError
from practice.core.choosing.score import package_of
from practice.models import PackageSearch
from roster.models import Team
from shared.core.language import N_
from shared.models import User
from shared.worker import Facts, Pulse, WorkError, launch, look_after

State = PackageSearch.State
SECONDS: Final = 10.0  # for each of the packages that are looked for
FIRST: Final = 0.3  # the share of the work that judging the plays is, where that is needed
PINNED: Final = N_("What you want in does not fit into the minutes there are.")


def begin(asked: AskedPackage, user: User) -> PackageSearch | None:
    """Start a search, unless one for the same question is at it or has ended.

    One for another question is ended: its answer would be to what nobody asks any more.
    """
    latest = latest_of(asked.team)
    if latest is not None and latest.question_hash == asked.fingerprint:
        return latest
    try:
        with transaction.atomic():
            asked.team.package_searches.filter(state=State.RUNNING).update(state=State.CANCELLED)
            asked.team.package_searches.exclude(state=State.RUNNING).delete()
            made = PackageSearch.objects.create(
                team=asked.team, asked_by=user, question_hash=asked.fingerprint
            )
    except IntegrityError:  # two coaches asked in the same moment
        return latest_of(asked.team)
    launch(made)
    return made


def latest_of(team: Team) -> PackageSearch | None:
    """The team's last search, running or ended."""
    latest = team.package_searches.first()
    return latest and look_after(latest)


def work(row: PackageSearch, pulse: Pulse) -> Facts:
    """Judge the plays by the team's own settings, then look for the best package and beside it."""
    team, first = row.team, 0.0
    asked = asked_for(team, timezone.now())
    waiting = judging.unjudged(team, asked.wishes, asked.rows)
    if waiting:
        first, setting, fresh = FIRST, judging.setting_of(team), {}
        for number, each in enumerate(waiting):
            if not pulse.report(share=first * number / len(waiting)):
                return {}
            value = play_value(each.play.published())
            fresh[each.play.published().content_hash] = judging.judge(value, setting)
        shelf = [each.play.published().content_hash for each in asked.rows]
        judging.keep(team, fresh, shelf)
        asked = asked_for(team, timezone.now())
        row.update(question_hash=asked.fingerprint)  # at once: a page asks by the new one now

    def tell(share: float, best: ChosenPackage) -> bool:
        found = to_json(PackagesBeside(best, None, None, {}))
        return pulse.report(
            share=first + (1 - first) * share, found=found, question_hash=asked.fingerprint
        )

    try:
        found = surroundings(asked.question, SECONDS, time.monotonic, tell)
    except PinnedTooMuchError:
        raise WorkError(PINNED) from None
    return {"share": 1.0, "found": to_json(found), "question_hash": asked.fingerprint}


# --- kept and read ------------------------------------------------------------------------


def to_json(found: PackagesBeside) -> dict[str, Any]:
    """What a search has found as plain values: of each package its plays and its bound."""
    return {
        "best": _plain(found.best),
        "more": _plain(found.more),
        "fewer": _plain(found.fewer),
        "other": {str(play): _plain(package) for play, package in found.other.items()},
    }


def from_json(question: PackageQuestion, found: dict[str, Any]) -> PackagesBeside | None:
    """The inverse of ``to_json`` for the same question; None where nothing is found yet."""
    if not found:
        return None
    best = _read(question, found["best"])
    assert best is not None
    return PackagesBeside(
        best,
        _read(question, found["more"]),
        _read(question, found["fewer"]),
        {int(play): _read(question, package) for play, package in found["other"].items()},
    )


def _plain(package: ChosenPackage | None) -> dict[str, Any] | None:
    if package is None:
        return None
    return {
        "picks": list(package.picks),
        "turned": sorted(package.turned, key=str),
        "bound": package.bound,
    }


def _read(question: PackageQuestion, plain: dict[str, Any] | None) -> ChosenPackage | None:
    """The package again, scored by the question."""
    if plain is None:
        return None
    picks = frozenset(plain["picks"])
    return package_of(question, picks, frozenset(plain["turned"]), plain["bound"])
