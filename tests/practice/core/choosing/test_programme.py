"""The chooser against every package there is: small libraries drawn by chance, tried whole."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from plays.core.defence.verdict import Tactic
from practice.core.choosing import programme
from practice.core.choosing.around import surroundings
from practice.core.choosing.programme import NoSuchPackageError, best_package
from practice.core.choosing.question import (
    Candidate,
    ChosenPackage,
    Occasion,
    PackageQuestion,
    PinnedTooMuchError,
    RuledOut,
)
from practice.core.choosing.quick import _steps, quick_package
from roster.core.cast import PlayId
from shared.core.milp import Solved
from tests.practice.core.choosing.cases import (
    best_by_trying,
    count_by_hand,
    library,
    minutes_by_hand,
    question,
)

MANY = range(80)


def told(package: ChosenPackage) -> tuple[int, int, float]:
    score = package.score
    return score.covered, score.held, score.worth


def same(one: tuple[int, int, float], other: tuple[int, int, float] | None) -> bool:
    return other is not None and one[:2] == other[:2] and abs(one[2] - other[2]) < 1e-6


@pytest.mark.parametrize("seed", MANY)
def test_the_programme_finds_what_trying_everything_finds(seed: int) -> None:
    asked = question(seed)
    best = best_package(asked)
    assert same(told(best), best_by_trying(asked))
    plays = [one for one in asked.candidates if one.id in best.picks]
    assert same(count_by_hand(asked, plays, set(best.turned)), told(best))  # type: ignore[arg-type]
    assert abs(minutes_by_hand(plays, set(best.turned)) - best.minutes) < 1e-6  # type: ignore[arg-type]
    assert best.minutes <= asked.minutes + 1e-6
    assert best.gap is not None
    assert best.gap < 1e-6


@pytest.mark.parametrize("seed", MANY)
def test_the_quick_package_keeps_the_rules_and_never_beats_the_best(seed: int) -> None:
    asked = question(seed)
    quick = quick_package(asked)
    plays = [one for one in asked.candidates if one.id in quick.picks]
    assert same(count_by_hand(asked, plays, set(quick.turned)), told(quick))  # type: ignore[arg-type]
    assert minutes_by_hand(plays, set(quick.turned)) <= asked.minutes + 1e-6  # type: ignore[arg-type]
    assert sum(one.begins for one in plays) <= asked.beginnings
    assert not asked.bans & set(quick.picks)
    best = best_by_trying(asked)
    assert best is not None
    assert told(quick)[:2] <= best[:2]
    if told(quick)[:2] == best[:2]:
        assert told(quick)[2] <= best[2] + 1e-9


def test_the_quick_package_is_mostly_the_best() -> None:
    """Counted over these libraries; an answer that waits for the better one may be off."""
    hits = [same(told(quick_package(q)), best_by_trying(q)) for q in map(question, MANY)]
    assert sum(hits) >= 0.8 * len(hits)


@pytest.mark.parametrize("seed", range(0, 80, 5))
def test_a_fixed_number_of_plays_is_the_best_of_that_number(seed: int) -> None:
    for count in range(5):
        asked = replace(question(seed, 6), count=count)
        by_hand = best_by_trying(asked)
        if by_hand is None:
            with pytest.raises(NoSuchPackageError):
                best_package(asked)
        else:
            found = best_package(asked)
            assert len(found.picks) == count
            assert same(told(found), by_hand)


@pytest.mark.parametrize("seed", range(0, 80, 4))
def test_more_minutes_are_never_worse_and_a_pin_or_a_ban_is_never_better(seed: int) -> None:
    asked = question(seed)
    best = best_package(asked).score
    for minutes in (asked.minutes + 1, asked.minutes + 10):
        more = best_package(replace(asked, minutes=minutes)).score
        assert (more.covered, more.held) >= (best.covered, best.held)
        if (more.covered, more.held) == (best.covered, best.held):
            assert more.worth >= best.worth - 1e-6
    for one in asked.open:
        for changed in ({"pins": frozenset({one.id})}, {"bans": asked.bans | {one.id}}):
            try:
                other = best_package(replace(asked, **changed)).score  # type: ignore[arg-type]
            except PinnedTooMuchError:
                continue
            assert (other.covered, other.held) <= (best.covered, best.held)
            if (other.covered, other.held) == (best.covered, best.held):
                assert other.worth <= best.worth + 1e-6


@pytest.mark.parametrize("seed", range(0, 80, 8))
def test_pins_are_in_and_the_best_with_them_is_found(seed: int) -> None:
    asked = question(seed, 6)
    pins = frozenset(one.id for one in asked.open[:2])
    pinned = replace(asked, pins=pins, minutes=60.0, beginnings=1000)
    best = best_package(pinned)
    assert pins <= set(best.picks)
    assert same(told(best), best_by_trying(pinned))


def test_pins_that_do_not_fit_are_refused_with_the_numbers() -> None:
    plays = tuple(replace(one, series="", saves={}, minutes=10.0) for one in library(1, 4))
    asked = PackageQuestion(plays, minutes=25.0, pins=frozenset({0, 1, 2}))
    for choose in (quick_package, best_package):
        with pytest.raises(PinnedTooMuchError) as caught:
            choose(asked)
        assert (caught.value.what, caught.value.needed, caught.value.room) == (
            "minutes",
            30.0,
            25.0,
        )
    with pytest.raises(PinnedTooMuchError) as caught:
        best_package(replace(asked, minutes=90.0, count=2))
    assert (caught.value.what, caught.value.needed) == ("plays", 3)
    begun = tuple(replace(one, begins=True) for one in plays)
    with pytest.raises(PinnedTooMuchError) as caught:
        quick_package(replace(asked, candidates=begun, minutes=90.0, beginnings=2))
    assert (caught.value.what, caught.value.needed) == ("beginnings", 3)


def test_a_bar_keeps_a_play_out_until_it_is_pinned_and_a_ban_beats_a_pin() -> None:
    (one,) = library(2, 1)
    barred = replace(one, bar=RuledOut.LEVEL, minutes=5.0)
    asked = PackageQuestion((barred,), occasions=tuple(barred.covers), minutes=20.0)
    assert best_package(asked).picks == quick_package(asked).picks == ()
    pinned = replace(asked, pins=frozenset({barred.id}))
    assert best_package(pinned).picks == quick_package(pinned).picks == (barred.id,)
    both = replace(pinned, bans=frozenset({barred.id}))
    assert best_package(both).picks == quick_package(both).picks == ()


def test_without_plays_or_minutes_the_package_is_empty() -> None:
    assert best_package(PackageQuestion(())).picks == ()
    assert quick_package(PackageQuestion(())).picks == ()
    assert best_package(PackageQuestion(library(3, 5), minutes=0.0)).picks == ()


def test_where_the_search_found_nothing_the_quick_package_is_the_answer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of so many plays as are asked for; where it has others, there is no answer."""
    out_of_time = Solved(status=1, x=None, fun=None, bound=None)
    monkeypatch.setattr(programme, "solved", lambda *_given, **_more: out_of_time)
    asked = replace(question(5, 30), minutes=40.0)
    quick = quick_package(asked)
    assert len(quick.picks) > 2
    assert best_package(asked) == quick
    assert len(best_package(replace(asked, count=2)).picks) == 2
    with pytest.raises(NoSuchPackageError):
        best_package(replace(asked, minutes=0.0, count=2))


@pytest.mark.parametrize("seed", range(10))
def test_a_step_adds_a_play_or_turns_one_that_is_in(seed: int) -> None:
    asked = question(seed, 12)
    turning = [one.id for one in asked.open if one.turned]
    picks = frozenset(one.id for one in asked.open[::2])
    for turned in (frozenset(), picks & frozenset(turning[:2])):
        steps = list(_steps(asked, (picks, turned)))
        assert all(more <= now for now, more in steps)
        sides = {more - turned for now, more in steps if now == picks}
        assert sides == {frozenset({play}) for play in turning if play in picks - turned}
        added = {now - picks for now, _ in steps if now != picks}
        assert added == {frozenset({one.id}) for one in asked.open if one.id not in picks}


def test_the_same_question_has_the_same_answer() -> None:
    asked = replace(question(5, 30), minutes=70.0, beginnings=12)
    assert best_package(asked) == best_package(asked)
    assert quick_package(asked) == quick_package(asked)


@pytest.mark.alone
def test_a_large_library_is_chosen_from_in_seconds() -> None:
    """40 plays, five occasions, six defences: the processor's time for the best and the quick."""
    asked = replace(question(5, 40), minutes=90.0, beginnings=20)
    began = time.process_time()
    quick = quick_package(asked)
    between = time.process_time()
    best = best_package(asked)
    assert between - began < 4
    assert time.process_time() - between < 20
    assert told(quick)[:2] <= told(best)[:2]
    assert best.gap == pytest.approx(0.0, abs=1e-6)


def test_what_is_beside_a_package_is_the_best_of_each_changed_question() -> None:
    asked = question(12, 6)
    heard: list[float] = []

    def hear(share: float, _best: ChosenPackage) -> bool:
        heard.append(share)
        return True

    found = surroundings(asked, 60.0, time.monotonic, hear)
    size = len(found.best.picks)
    for package, count in ((found.more, size + 1), (found.fewer, size - 1)):
        by_hand = best_by_trying(replace(asked, count=count))
        assert (package is None) == (by_hand is None)
        if package is not None:
            assert same(told(package), by_hand)
    for play, package in found.other.items():
        if package is None:
            continue
        assert (play in package.picks) != (play in found.best.picks)
        assert same(told(package), best_by_trying(_with(asked, play, play in package.picks)))
    assert set(found.other) == {one.id for one in asked.candidates}
    assert heard == sorted(heard)
    assert 0 < heard[-1] <= 1


def test_what_is_told_to_stop_leaves_the_rest_out() -> None:
    found = surroundings(question(12, 6), 60.0, time.monotonic, lambda share, _: share < 0.3)
    assert found.best.picks
    assert len(found.other) < 6


def _with(asked: PackageQuestion, play: PlayId, taken: bool) -> PackageQuestion:
    ids = frozenset({play})
    if taken:
        return replace(asked, pins=asked.pins | ids, bans=asked.bans - ids)
    return replace(asked, pins=asked.pins - ids, bans=asked.bans | ids)


def test_one_play_taught_from_both_sides_serves_both_sidelines() -> None:
    one = replace(
        library(4, 1)[0],
        covers=frozenset({Occasion.LEFT}),
        turned=frozenset({Occasion.RIGHT}),
        minutes=10.0,
        turning=3.0,
    )
    sides = (Occasion.LEFT, Occasion.RIGHT)
    for minutes, turned, covered in ((12.9, frozenset(), 1), (13.0, frozenset({one.id}), 2)):
        asked = PackageQuestion((one,), occasions=sides, minutes=minutes)
        for found in (best_package(asked), quick_package(asked)):
            assert (found.turned, found.score.covered) == (turned, covered)


def test_a_search_that_has_no_time_answers_with_the_quick_package() -> None:
    asked = replace(question(5, 40), minutes=90.0, beginnings=20)
    ticks = iter(range(0, 10_000, 100))
    assert best_package(asked, 0.0, lambda: float(next(ticks))).score.covered >= 1


def held(name: str, minutes: float, *tactics: Tactic, on: str) -> Candidate:
    """A play for these occasions that holds against these defences and is worth nothing more."""
    covers = frozenset(map(Occasion, on.split()))
    return Candidate(name, covers, minutes=minutes, holds=frozenset(tactics))


@pytest.mark.parametrize(
    ("minutes", "plays", "best"),
    [
        # Four places held in twenty minutes by two plays, three by one.
        (
            20.0,
            (
                held("both", 20.0, Tactic.CHASE, on="left right baseline"),
                held("left", 10.0, Tactic.CHASE, Tactic.SWITCH, on="left"),
                held("right", 10.0, Tactic.CHASE, Tactic.SWITCH, on="right"),
            ),
            {"left", "right"},
        ),
        # Two places in ten minutes by two plays, three by one.
        (
            10.0,
            (
                held("left", 5.0, Tactic.CHASE, on="left"),
                held("right", 5.0, Tactic.CHASE, on="right"),
                held("both", 10.0, Tactic.SWITCH, on="left right baseline"),
            ),
            {"both"},
        ),
    ],
)
def test_the_quick_package_takes_first_what_holds_most_for_its_minutes(
    minutes: float, plays: tuple[Candidate, ...], best: set[str]
) -> None:
    """Where all occasions are covered, and no swap of one play for one mends a wrong beginning."""
    carried = (
        held("carried", 0.0, on="left right baseline"),
        held("press", 0.0, Tactic.CHASE, Tactic.SWITCH, on="press_break last_shot"),
    )
    asked = PackageQuestion(
        candidates=(*carried, *plays),
        minutes=minutes,
        shares={Tactic.CHASE: 1.0, Tactic.SWITCH: 1.0},
        pins=frozenset(one.id for one in carried),
    )
    assert set(quick_package(asked).picks) - asked.pins == best
    assert set(best_package(asked).picks) - asked.pins == best
