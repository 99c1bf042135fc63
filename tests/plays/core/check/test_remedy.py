"""A remedy as data, and what is done with it to the play."""

from __future__ import annotations

import pytest

from plays.core.check.remedy import Fix, apply_remedy
from plays.core.play import Cue, CueRule, Moment, Play
from tests.plays.core.samples import after, box, on_set, with_cues


def cues_of(play: Play, action: str) -> tuple[Cue, ...]:
    return next(each.cues for each in play.actions() if each.id == action)


def test_a_screen_is_waited_for_in_place_of_the_clock_and_beside_the_rest() -> None:
    play = with_cues(box(), "c3", Cue(Moment.SIGNAL, wait=2.0), after(Moment.END, "s4", 0.7))
    mended = apply_remedy(play, Fix(action="c3", later=0.5, until="s5"))
    assert cues_of(mended, "c3") == (after(Moment.END, "s4"), on_set("s5"))
    rule = next(each.cue_rule for each in mended.actions() if each.id == "c3")
    assert rule is CueRule.ALL


def test_a_cue_on_that_screen_gives_way_to_the_one_on_its_being_set() -> None:
    play = with_cues(box(), "c3", after(Moment.START, "s5", 1.0))
    assert cues_of(apply_remedy(play, Fix(action="c3", later=0.5, until="s5")), "c3") == (
        on_set("s5"),
    )


def test_where_that_would_make_a_circle_it_waits_longer_instead() -> None:
    play = with_cues(box(), "s5", after(Moment.END, "c2", 0.25))
    mended = apply_remedy(play, Fix(action="c2", later=0.5, until="s5"))
    assert cues_of(mended, "c2") == (on_set("s4", 0.5),)


@pytest.mark.parametrize(("later", "wait"), [(0.5, 0.75), (-0.1, 0.15), (-1.0, 0.0)])
def test_a_wait_is_never_less_than_nothing(later: float, wait: float) -> None:
    play = with_cues(box(), "c3", on_set("s5", 0.25))
    assert cues_of(apply_remedy(play, Fix(action="c3", later=later)), "c3") == (on_set("s5", wait),)


def test_looks_come_in_the_order_of_the_remedy() -> None:
    play = box()
    order = tuple(look.id for look in play.looks)[::-1]
    assert tuple(look.id for look in apply_remedy(play, Fix(looks=order)).looks) == order
    with pytest.raises(ValueError, match="orders other looks"):
        apply_remedy(play, Fix(looks=(*order, order[0])))


WHOLE = {"action": "c3", "later": 0.5, "looks": [], "until": "s5"}


def test_a_remedy_comes_back_from_what_is_stored() -> None:
    fix = Fix(action="c3", later=0.5, until="s5")
    assert fix.to_json() == WHOLE
    assert Fix.from_json(WHOLE) == fix
    without = {name: value for name, value in WHOLE.items() if name != "until"}
    assert Fix.from_json(without) == Fix(action="c3", later=0.5)


@pytest.mark.parametrize(
    "wrong",
    [
        {"action": 3},
        {"until": 3},
        {"later": "soon"},
        {"later": None},
        {"later": float("nan")},
        {"later": float("inf")},
        {"looks": "l1"},
        {"looks": ["l1", 2]},
        {"looks": None},
    ],
    ids=str,
)
def test_what_is_no_remedy_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="a remedy has action, later and looks"):
        Fix.from_json(WHOLE | wrong)


@pytest.mark.parametrize("missing", ["action", "later", "looks"])
def test_what_is_half_a_remedy_is_refused(missing: str) -> None:
    half = {name: value for name, value in WHOLE.items() if name != missing}
    with pytest.raises(ValueError, match="a remedy has action, later and looks"):
        Fix.from_json(half)
