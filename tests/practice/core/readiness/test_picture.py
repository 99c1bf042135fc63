"""The curve of readiness as a picture: where each thing stands, read off the shapes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from practice.core.readiness.picture import NARROW, WIDE, CurvePlot, curve_picture
from shared.core.drawing.curves import XY
from shared.core.drawing.picture import Box, Circle, Path, Picture, Text
from shared.core.language import ENGLISH
from tests.kept import assert_kept

FIRST = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
MIDDLE, LAST = FIRST + timedelta(days=5), FIRST + timedelta(days=10)
PLOT = CurvePlot(
    points=((FIRST, 0.0), (MIDDLE, 1.0), (LAST, 0.5)),
    practices=(FIRST, MIDDLE),
    games=((MIDDLE, "Herons"), (MIDDLE, "Otters")),
    now=MIDDLE,
    value=1.0,
    ready=0.75,
    player="Ida",
    play="Lantern",
    role="2",
)


def picture(plot: CurvePlot = PLOT) -> Picture:
    return curve_picture(plot, "print", ENGLISH)


def words(made: Picture) -> dict[str, Text]:
    return {shape.text: shape for shape in made.shapes if isinstance(shape, Text)}


def paths(made: Picture, dash: tuple[float, float] | None = None) -> list[Path]:
    found = [shape for shape in made.shapes if isinstance(shape, Path)]
    return [path for path in found if dash is None or path.paint.dash == dash]


def points(path: Path) -> list[XY]:
    return [point for step in path.steps for point in step[1:]]


def uprights(made: Picture, at: float) -> list[tuple[float, float]]:
    """Top and foot of each line that stands upright at one place."""
    ends = [points(path) for path in paths(made) if len(path.steps) == 2]
    return [(a[1], b[1]) for a, b in ends if a[0] == b[0] == pytest.approx(at)]


def test_no_word_leaves_the_picture_and_none_stands_on_the_curves_ground() -> None:
    made = picture()
    said = words(made)
    top, foot = said["100 %"].at[1] - 4, said["0 %"].at[1] - 4
    for text, shape in said.items():
        assert 0 < shape.at[0] < made.width, text
        assert shape.size <= shape.at[1] < made.height, text
    assert said["Herons"].at[1] < top
    # The dates and "today" have two rows of their own right under the axis.
    assert foot + shape_size(said) < said["3 March"].at[1] == said["13 March"].at[1]
    assert said["3 March"].at[1] + shape_size(said) <= said["today"].at[1]
    assert made.height - foot < 4 * shape_size(said), "the curve has the room, not its margin"


def shape_size(said: dict[str, Text]) -> float:
    return said["today"].size


def test_the_point_of_now_stands_on_the_curve_at_its_share() -> None:
    made = picture()
    said = words(made)
    (now,) = [shape for shape in made.shapes if isinstance(shape, Circle)]
    assert now.center[1] == pytest.approx(said["100 %"].at[1] - 4)
    assert now.center[0] == pytest.approx((said["3 March"].at[0] + said["13 March"].at[0]) / 2)
    assert said["today"].at[0] == pytest.approx(now.center[0])
    assert said["ready"].at[1] == pytest.approx(said["75 %"].at[1])


def test_today_and_ready_are_dashed_each_in_its_own_way() -> None:
    made = picture()
    (today,) = paths(made, (2, 3))
    (ready,) = paths(made, (5, 4))
    (x, top), (same, foot) = points(today)
    assert x == same == pytest.approx(words(made)["today"].at[0])
    assert top < foot == pytest.approx(words(made)["0 %"].at[1] - 4)
    assert {y for _, y in points(ready)} == {words(made)["ready"].at[1] - 4}


def test_each_game_has_its_upright_and_its_name_in_a_row_of_its_own() -> None:
    made = picture(replace(PLOT, now=LAST, value=0.5, practices=()))
    said = words(made)
    assert said["Herons"].at[1] - said["Otters"].at[1] >= said["Otters"].size
    assert len(uprights(made, (said["3 March"].at[0] + said["13 March"].at[0]) / 2)) == 2
    order = [s for s in made.shapes if isinstance(s, Box | Text | Path)]
    grounds = [k for k, s in enumerate(order) if isinstance(s, Box)]
    lines = [k for k, s in enumerate(order) if isinstance(s, Path) and s.paint.width == 1.2]
    assert len(grounds) == 2
    assert max(lines) < min(grounds), "a name is drawn over every upright"


def test_many_games_in_a_row_make_the_picture_higher_and_no_name_meets_another() -> None:
    names = (
        "Saltmoor Swallows",
        "Quillford Quails",
        "Millbrook Magpies",
        "Ostergate Owls",
        "Otters",
    )
    games = tuple((MIDDLE + timedelta(hours=n), name) for n, name in enumerate(names))
    few = picture(replace(PLOT, games=games[:2]))
    made = curve_picture(replace(PLOT, games=games), "print", ENGLISH, width=NARROW)
    rows = [words(made)[name].at[1] for name in names]
    assert len(set(rows)) == len(names)  # each too wide to stand beside another
    assert min(rows) >= shape_size(words(made)), "none is cut off above"
    assert max(rows) < words(made)["100 %"].at[1]
    assert made.height > few.height
    assert words(made)["today"].at[1] < made.height


def test_a_practice_is_a_tick_below_the_axis() -> None:
    made = picture(replace(PLOT, games=(), now=LAST, value=0.5))
    foot = words(made)["0 %"].at[1] - 4
    (tick,) = uprights(made, (words(made)["3 March"].at[0] + words(made)["13 March"].at[0]) / 2)
    assert tick[0] == pytest.approx(foot)
    assert tick[1] > foot


def test_a_curve_of_one_point_is_refused() -> None:
    with pytest.raises(ValueError, match="two points"):
        picture(replace(PLOT, points=PLOT.points[:1]))


@pytest.mark.parametrize("name", ["curve", "curve-on-a-phone"])
def test_a_curve_is_drawn_as_it_was_approved(name: str) -> None:
    """No source says how a curve of ours is drawn: this one was approved by eye."""
    width = NARROW if name.endswith("phone") else WIDE
    made = curve_picture(PLOT, "light", ENGLISH, width=width)
    assert_kept(made, __file__, name)
