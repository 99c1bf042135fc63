"""Words for any play whatever: no error, no hole, the same steps in both languages."""

from __future__ import annotations

import re
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    Counter,
    Cue,
    CueRule,
    Cut,
    Defence,
    Joint,
    JointShape,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    Role,
    RuleSet,
    ScreenStyle,
    Spot,
    Start,
)
from plays.core.words.part import part_of
from plays.core.words.role_part import RolePart
from tests.languages import language
from tests.plays.core.words.spoken_plays import everything

IDS = [f"a{number}" for number in range(12)]
points = st.builds(Point, st.floats(-8, 8), st.floats(-0.5, 28.5))
roles = st.sampled_from(ROLES)
names = st.dictionaries(roles, st.sampled_from(["Ida", "Ñandú", "Ida", "", " O'Neil {2} "]))
spots = st.none() | st.builds(
    Spot,
    st.sampled_from(["sideline", "baseline"]),
    st.sampled_from(["left", "right"]),
    st.floats(0, 20),
    st.booleans(),
)
cues = st.builds(
    Cue,
    st.sampled_from(Moment),
    st.none() | st.sampled_from([*IDS, "nobody"]),
    st.none() | st.integers(0, 4),
    st.floats(0, 5),
)
joints = st.none() | st.builds(
    Joint,
    st.sampled_from(["j", "k"]),
    st.sampled_from(JointShape),
    st.sampled_from(["open", "close"]),
)


def actions(id_: str) -> st.SearchStrategy[Action]:
    return st.builds(
        Action,
        id=st.just(id_),
        role=roles,
        kind=st.sampled_from(ActionKind),
        path=st.lists(points, max_size=4).map(tuple),
        cues=st.lists(cues, max_size=3).map(tuple),
        cue_rule=st.sampled_from(CueRule),
        cut=st.none() | st.sampled_from(Cut),
        screen=st.none() | st.sampled_from(ScreenStyle),
        cutter=st.none() | roles,
        joint=joints,
        to=roles,
        pass_kind=st.none() | st.sampled_from(PassKind),
        easy=st.booleans(),
        decoy=st.booleans(),
    )


@st.composite
def plays(draw: st.DrawFn) -> Play:
    written = [draw(actions(id_)) for id_ in IDS[: draw(st.integers(1, len(IDS)))]]
    split = draw(st.integers(0, len(written)))
    phases = (
        Phase("p0", "One", tuple(written[:split])),
        Phase("p1", "Two", tuple(written[split:]), draw(st.booleans())),
    )
    ids = st.sampled_from([action.id for action in written])
    looks = st.builds(
        Look,
        st.just("l"),
        roles,
        roles,
        ids,
        st.sampled_from(PassKind),
        st.sampled_from(["", "free", "free!"]),
        st.none() | points,
    )
    counters = st.builds(
        Counter,
        st.just("c"),
        st.sampled_from(Defence),
        st.sampled_from(["p0", "p1"]),
        st.just("They do."),
        st.lists(ids, max_size=3).map(tuple),
        st.lists(ids.flatmap(actions), max_size=2).map(tuple),
        st.lists(actions("new"), max_size=1).map(tuple),
    )
    return replace(
        everything(),
        court=draw(st.sampled_from(RuleSet)),
        starts=tuple(Start(role, draw(points)) for role in ROLES),
        ball=draw(roles),
        thrower=draw(st.none() | roles),
        spot=draw(spots),
        phases=phases,
        looks=tuple(draw(st.lists(looks, max_size=4))),
        counters=tuple(draw(st.lists(counters, max_size=2))),
    )


@given(plays(), names)
def test_any_play_can_be_told_to_anybody(play: Play, cast: dict[Role, str]) -> None:
    for role in ROLES:
        english = part_of(play, role, cast)
        spanish = part_of(play, role, cast, language("es"))
        assert [step.action for step in english.steps] == [
            action.id for action in play.actions() if action.role == role
        ]
        assert len(all_text(english)) == len(all_text(spanish))
        for said in all_text(english) + all_text(spanish):
            assert well_formed(said), said


def all_text(part: RolePart) -> list[str]:
    changes = [change.text for counter in part.counters for change in counter.changes]
    return [*part.sentences(), *changes]


def well_formed(said: str) -> bool:
    """Closed by a sign, without a gap where a slot stayed empty or was not filled."""
    plain = said.replace("O'Neil {2}", "O'Neil")
    gaps = re.search(r"\{|\}|  | [.,:;]|None|\(\)", plain)
    return gaps is None and said[-1] in ".:!" and said[0].isupper()
