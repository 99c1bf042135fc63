"""What lies around a package: one play more or fewer, and what each play costs or brings.

Each answer is the best package of a question that is changed in one thing: so a price counts
everything that would change with it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from practice.core.choosing.programme import Clock, NoSuchPackageError, best_package
from practice.core.choosing.question import ChosenPackage, PackageQuestion, PinnedTooMuchError
from roster.core.cast import PlayId


@dataclass(frozen=True, slots=True)
class PackagesBeside:
    """The best package, and the best ones beside it; None where there is none.

    ``other`` holds for every play the best package that has it where ``best`` has it not, and
    the other way round.
    """

    best: ChosenPackage
    more: ChosenPackage | None
    fewer: ChosenPackage | None
    other: dict[PlayId, ChosenPackage | None]


def surroundings(
    question: PackageQuestion,
    seconds: float,
    clock: Clock,
    tell: Callable[[float, ChosenPackage], bool] = lambda _share, _best: True,
) -> PackagesBeside:
    """The best package and what is beside it, each within ``seconds`` by ``clock``.

    ``tell`` hears which part is done and the best so far; what follows is left out once it
    answers False.
    """
    best = best_package(question, seconds, clock)
    size = len(best.picks)
    asked: list[tuple[PlayId | str, PackageQuestion]] = [
        ("more", replace(question, count=size + 1)),
        ("fewer", replace(question, count=size - 1)),
    ]
    asked += [(one.id, _otherwise(question, best, one.id)) for one in question.candidates]
    found: dict[PlayId | str, ChosenPackage | None] = {}
    for number, (key, changed) in enumerate(asked):
        if not tell((number + 1) / (len(asked) + 1), best):
            break
        found[key] = _best_of(changed, seconds, clock)
    return PackagesBeside(best, found.pop("more", None), found.pop("fewer", None), found)


def _otherwise(question: PackageQuestion, best: ChosenPackage, play: PlayId) -> PackageQuestion:
    """The question with this play out where the package has it, and in where it has not."""
    if play in best.picks:
        return replace(question, bans=question.bans | {play}, pins=question.pins - {play})
    return replace(question, pins=question.pins | {play}, bans=question.bans - {play})


def _best_of(question: PackageQuestion, seconds: float, clock: Clock) -> ChosenPackage | None:
    if question.count is not None and question.count < 0:
        return None
    try:
        return best_package(question, seconds, clock)
    except (NoSuchPackageError, PinnedTooMuchError):
        return None
