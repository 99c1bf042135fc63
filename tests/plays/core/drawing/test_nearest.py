"""Whose name is whose: a name stands nearest its own person, and its leader line crosses nothing.

That what stands nearest is read as belonging together is the law of proximity (Wertheimer 1923,
from memory); that leader lines keep from crossing is common practice on maps, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import combinations
from math import dist

import pytest
from shapely.geometry import LineString, Point

from plays.core.drawing.options import Drawing, LabelKind
from plays.core.drawing.phase import diagram
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, Role
from shared.core.drawing.picture import Group, Path, Picture, Text
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.diagram_parts import circle_of, pictures, plate, texts
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, MILLWHEEL, NAMES
from tests.plays.core.drawing.test_lettering import FULL, PAPER, PHONE, cast_of
from tests.shared.core.drawing.shapes import groups, inked, parts, runs

STAFF = Drawing(defenders=True)
FORMS = {"phone": PHONE, "paper": PAPER, "staff": STAFF}
ALL = (*DEMO, GATEHOUSE, MILLWHEEL)

by_form = pytest.mark.parametrize("form", FORMS)


by_play = pytest.mark.parametrize("n", range(len(ALL)), ids=[play.key for play in ALL])


@cache
def drawn(n: int, form: str, label: LabelKind, *, full: bool) -> tuple[Picture, ...]:
    """Every phase of every call, plain and under every counter; drawn once for all tests here."""
    drawing = replace(FORMS[form], names=names_of(n, full=full), label=label)
    return tuple(each for run in all_calls(ALL[n]) for each in pictures(run, drawing))


def names_of(n: int, *, full: bool) -> Mapping[Role, str]:
    return cast_of(n) if full else NAMES


def named(picture: Picture, names: Mapping[Role, str]) -> Iterator[tuple[Role, Group]]:
    """Each name beside a circle, whole or in short, with whose it is."""
    written = {name: role for role, name in names.items()}
    for name, role in list(written.items()):
        words = name.split()
        written[f"{words[0]} {words[-1][0]}."] = role
    for group in parts(picture, "label"):
        words = [shape.text for shape in group.shapes if isinstance(shape, Text)]
        if (whose := written.get(" ".join(words))) is not None:
            yield whose, group


@by_play
@by_form
def test_a_name_stands_nearest_its_own_person(n: int, form: str) -> None:
    labels: tuple[tuple[LabelKind, bool], ...] = (("both", False), ("both", True), ("name", True))
    for label, full in labels:
        names = names_of(n, full=full)
        for picture in drawn(n, form, label, full=full):
            middles = {role: Point(circle_of(picture, role).center) for role in ROLES}
            for whose, group in named(picture, names):
                off = {role: plate(group).distance(at) for role, at in middles.items()}
                assert min(off, key=lambda role: off[role]) == whose, (picture.title, names[whose])


@by_play
@by_form
def test_a_leader_line_crosses_nothing(n: int, form: str) -> None:
    for picture in drawn(n, form, "both", full=True):
        labels = parts(picture, "label")
        leaders = [
            (group, LineString(runs(shape.steps)[0]))
            for group in labels
            for shape in group.shapes
            if isinstance(shape, Path)
        ]
        if not leaders:
            continue
        covered = [*groups(picture, "action"), *parts(picture, "defender")]
        taken = [inked(group) for group in (*covered, *parts(picture, "person"))]
        plates = [(group, plate(group)) for group in labels]
        for group, line in leaders:
            # A look's or a moment's line begins on its own stroke.
            free = line.difference(Point(line.coords[0]).buffer(HALF_ARROW))
            assert not any(free.intersects(each) for each in taken)
            assert not any(line.intersects(other) for own, other in plates if own is not group)
        assert not any(a.intersects(b) for (_, a), (_, b) in combinations(leaders, 2))


HALF_ARROW = 4.3
"""Points: half the width of the widest arrowhead, 0.42 of 10."""


@pytest.mark.parametrize("n", range(len(DEMO)), ids=[play.key for play in DEMO])
@by_form
def test_everybody_is_told_and_the_key_covers_nothing(n: int, form: str) -> None:
    """Beside the circle, or by the number in it and a key in a corner.

    A picture on paper is cropped to the action and may have no corner left.
    """
    names = names_of(n, full=True)
    for picture in drawn(n, form, "both", full=True):
        keys = parts(picture, "who")
        beside = {role for role, _ in named(picture, names)}
        told = {word for key in keys for word in words_of(key)}
        if form != "paper":
            assert beside | (told & set(ROLES)) == set(ROLES)
            assert "want of room" not in picture.description
        assert all(word in FULL or word in ROLES or "…" in word for word in told)
        covered = [*groups(picture, "action"), *parts(picture, "person")]
        covered += [*parts(picture, "defender"), *parts(picture, "label")]
        for key in keys:
            left, top, right, bottom = inked(key).bounds
            assert left >= 0 <= top
            assert right <= picture.width
            assert bottom <= picture.height
            assert all(inked(key).intersection(inked(each)).area < 1e-6 for each in covered)


def words_of(group: Group) -> list[str]:
    return [shape.text for shape in group.shapes if isinstance(shape, Text)]


def test_a_name_in_short_has_the_whole_one_in_the_key() -> None:
    """Four stand in a file under the basket: not everybody's long name fits beside it."""
    rack = next(play for play in DEMO if play.key == "oar-rack")
    picture = diagram(rack, rack.phases[0].id, replace(PHONE, names=cast_of(0), label="both"))
    (key,) = parts(picture, "who")
    told = words_of(key)
    short = [text for text in texts(picture) if text.endswith(".")]
    assert short
    for text in short:
        whole = next(name for name in FULL if name.startswith(text.split()[0]))
        assert told[told.index(whole) - 1] in ROLES
    assert told[::2] == sorted(told[::2])


def test_names_of_a_usual_length_stand_beside_their_circles() -> None:
    """Four of a hundred at most are told by the key: measured here, so that it gets no worse."""
    beside = keyed = 0
    for n in range(len(DEMO)):
        for picture in drawn(n, "phone", "both", full=False):
            beside += len(list(named(picture, NAMES)))
            keyed += sum(len(words_of(key)) // 2 for key in parts(picture, "who"))
    assert keyed <= 0.04 * beside


def test_people_who_stand_apart_have_their_names_close() -> None:
    """A leader line is for a crowd."""
    wide = replace(PHONE, names=NAMES, label="both")
    for picture in pictures(GATEHOUSE, wide):
        for whose, group in named(picture, NAMES):
            others = [circle_of(picture, role).center for role in ROLES if role != whose]
            mine = circle_of(picture, whose).center
            if min(dist(mine, other) for other in others) > 90:
                assert plate(group).distance(Point(mine)) < 30
