"""Random plays on the millimetre for property tests: every place and text that a play can hold.

They need not make sense as basketball; what moves and maps promise holds for any values.
"""

from __future__ import annotations

from hypothesis import strategies as st

from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    Counter,
    Defence,
    Defender,
    Formation,
    Look,
    Phase,
    Play,
    Point,
    RuleSet,
    Situation,
    Spot,
    Start,
)
from tests.strategies import millimetres

WORDS = ("left", "right", "Left", "RIGHT", "now", "away", "elbow", "all", "seconds", "derecha")

texts = st.lists(st.sampled_from(WORDS), max_size=5).map(" ".join)
lines = st.lists(texts, max_size=2).map(tuple)
roles = st.sampled_from(ROLES)
points = st.builds(Point, millimetres(-8, 8), millimetres(-1, 15))
sides = st.sampled_from(["left", "right"])
sideline_spots = st.builds(Spot, st.just("sideline"), sides, millimetres(0, 20))
baseline_spots = st.builds(Spot, st.just("baseline"), sides, millimetres(0, 7.5))
own_baseline_spots = st.builds(Spot, st.just("baseline"), sides, millimetres(0, 7.5), st.just(True))
turnable_spots = sideline_spots | baseline_spots
spots = turnable_spots | own_baseline_spots
actions = st.builds(
    Action,
    id=st.text("abcdef", min_size=1, max_size=4),
    role=roles,
    kind=st.sampled_from([ActionKind.CUT, ActionKind.SCREEN]),
    path=st.lists(points, max_size=3).map(tuple),
    teach=lines,
)
looks = st.builds(
    Look,
    id=st.just("l"),
    passer=roles,
    receiver=roles,
    action=st.just("a"),
    condition=texts,
    at=st.none() | points,
)
counters = st.builds(
    Counter,
    id=st.just("c"),
    defence=st.sampled_from(list(Defence)),
    from_phase=st.just("p"),
    says=texts,
    replace=st.lists(actions, max_size=2).map(tuple),
    add=st.lists(actions, max_size=2).map(tuple),
    looks=st.lists(looks, max_size=2).map(tuple),
)
phases = st.builds(
    Phase, id=st.just("p"), title=texts, actions=st.lists(actions, max_size=3).map(tuple)
)
starts = st.lists(points, min_size=5, max_size=5).map(
    lambda places: tuple(map(Start, ROLES, places))
)


def plays(spot: st.SearchStrategy[Spot | None]) -> st.SearchStrategy[Play]:
    """Plays thrown in from such a spot."""
    return st.builds(
        Play,
        key=st.just("k"),
        name=st.just("Lantern left"),
        situation=st.sampled_from(list(Situation)),
        formation=st.sampled_from(list(Formation)),
        court=st.sampled_from(list(RuleSet)),
        ball=st.just("1"),
        starts=starts,
        phases=st.lists(phases, min_size=1, max_size=2).map(tuple),
        spot=spot,
        thrower=st.just("1"),
        call=st.just("Right {5}"),
        looks=st.lists(looks, max_size=2).map(tuple),
        counters=st.lists(counters, max_size=2).map(tuple),
        defenders=st.lists(
            st.builds(Defender, guards=roles, at=st.none() | points), max_size=2
        ).map(tuple),
        use=texts,
        teach=lines,
        errors=lines,
        cautions=lines,
    )
