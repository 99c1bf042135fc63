"""Places by name. The coordinates marked C follow from the rule books' numbers; what a wing,
slot or corner is called is common practice, no source."""

from math import cos, hypot, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.court.courts import COURTS, Court, court
from plays.core.court.spoken import describe, spot_name
from plays.core.court.spots import CLEAR_OF_LINE, STEP, Side, named_spots, nearest, out_spots
from plays.core.play import Point, RuleSet, Spot
from shared.core.language import ENGLISH
from tests.languages import language
from tests.plays.core.court.arcs import beyond_arc

FOOT = 0.3048
FIBA = court(RuleSet.FIBA)
ALL = tuple(COURTS.values())
courts = st.sampled_from(ALL)


@pytest.mark.parametrize(
    ("rule_set", "key", "x", "y"),
    [
        (RuleSet.FIBA, "right_elbow", 2.45, 5.80),  # 2.5.3 V
        (RuleSet.FIBA, "left_block", -2.45, 2.80),  # middle of 2.60 to 3.00, V secondary
        (RuleSet.FIBA, "nail", 0, 5.80),  # 2.5.3 V
        (RuleSet.FIBA, "basket", 0, 1.575),  # 2.5.4 V
        (RuleSet.FIBA, "right_short_corner", 4.525, 1.0),  # C; the depth is common practice
        (RuleSet.FIBA, "right_dunker", 3.05, 1.0),  # outside the lane line; common practice
        (RuleSet.NFHS, "right_elbow", 6 * FOOT, 19 * FOOT),  # 1-5 and 1-6, C
        (RuleSet.NFHS, "left_block", -6 * FOOT, 7.5 * FOOT),  # M
        (RuleSet.NBA, "left_elbow", -8 * FOOT, 19 * FOOT),  # Rule 10-VII and Rule 1, C
    ],
)
def test_place_by_the_book(rule_set: RuleSet, key: str, x: float, y: float) -> None:
    assert named_spots(court(rule_set))[key] == pytest.approx((x, y), abs=0.0006)


@pytest.mark.parametrize(
    ("rule_set", "wing_x", "slot_y"),
    # where the lane and free-throw lines, made longer, cross the arc: C
    [
        (RuleSet.FIBA, 5.264, 7.865),
        (RuleSet.NFHS, 14.177 * FOOT, 24.067 * FOOT),
        (RuleSet.NCAA, 17.360 * FOOT, 26.568 * FOOT),
        (RuleSet.NBA, 19.365 * FOOT, 27.612 * FOOT),
    ],
)
def test_wing_and_slot_stand_clear_of_the_arc(
    rule_set: RuleSet, wing_x: float, slot_y: float
) -> None:
    spots = named_spots(court(rule_set))
    assert wing_x + 0.3 < spots["right_wing"].x < wing_x + 0.7
    assert slot_y + 0.3 < spots["right_slot"].y < slot_y + 0.7


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_three_point_places_are_outside_by_a_foot_length(one: Court) -> None:
    spots = named_spots(one)
    for key in ("left_wing", "right_slot", "top"):
        distance = hypot(spots[key].x, spots[key].y - one.basket.y)
        assert distance - one.arc_radius >= 0.3
    assert spots["right_corner"].x - one.corner_x >= 0.3
    assert one.half_width - spots["right_corner"].x >= 0.3
    for key in ("left_block", "right_elbow", "nail", "left_short_corner", "left_mid_post"):
        assert not beyond_arc(one, spots[key])
    assert spots["right_dunker"].x > spots["right_elbow"].x  # beside the lane: common practice


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_places_lie_inside_and_left_mirrors_right(one: Court) -> None:
    spots = named_spots(one)
    for key, place in spots.items():
        assert one.contains(place)
        if key.startswith("left_"):
            other = spots["right_" + key.removeprefix("left_")]
            assert other == Point(-place.x, place.y)
            assert place.x < 0


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_a_named_place_is_called_by_its_name(one: Court) -> None:
    for key, place in named_spots(one).items():
        found = nearest(one, place)
        assert (found.key, found.steps) == (key, 0)
        assert describe(one, place, ENGLISH) == spot_name(key, ENGLISH)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_all_names_differ(one: Court) -> None:
    keys = [*named_spots(one), *out_spots(one)]
    assert len({spot_name(key, ENGLISH) for key in keys}) == len(keys)
    assert len({spot_name(key, ENGLISH, "left") for key in keys}) == len(keys)


@pytest.mark.parametrize(
    ("point", "ball_side", "words"),
    [
        (Point(2.45, 5.8), None, "the right elbow"),
        (Point(2.45, 5.8), "right", "the near elbow"),
        (Point(2.45, 5.8), "left", "the far elbow"),
        (Point(-2.45, 3.5), None, "a step above the left block"),
        (Point(4.525, 1.0), "right", "the near short corner"),
        (Point(4.525, 1.0), "left", "the far short corner"),
        (Point(-2.4, 6.4), None, "a step above the left elbow"),
        (Point(-3.4, 5.8), None, "a step outside the left elbow"),
        (Point(1.8, 5.8), "left", "a step inside the far elbow"),
        (Point(0.7, 8.7), None, "a step to the right of the top"),
        (Point(0.7, 8.7), "right", "a step to the ball side of the top"),
        (Point(0.7, 8.7), "left", "a step to the far side of the top"),
        (Point(0, 10.3), None, "two steps above the top"),
        (Point(0, 11.2), None, "halfway between the top and the centre circle"),
        (Point(6.4, 3.6), "right", "halfway between the near wing and the near corner"),
        (Point(4.05, 7.5), None, "halfway between the right slot and the right wing"),
        (Point(2.45, 7.35), None, "a step below the right slot"),
        (Point(3.6, 7.0), "right", "two steps above the near elbow and a step outside"),
        (
            Point(-0.9, 6.6),
            "left",
            "a step above the nail and a step to the ball side",
        ),
        (Point(2.45, 22.2), None, "our own right elbow"),
        (Point(2.45, 21.4), None, "a step ahead of our own right elbow"),
        (Point(7.8, 8.325), None, "the right sideline, at the throw-in mark"),
        (Point(-7.8, 5.6), None, "the left sideline, level with the free-throw line"),
        (
            Point(7.8, 7.1),
            None,
            "the right sideline, at the throw-in mark, two steps toward the baseline",
        ),
        (
            Point(9.2, 8.4),
            None,
            "the right sideline, at the throw-in mark, two steps behind the line",
        ),
        (
            Point(-7.8, 15.6),
            None,
            "the left sideline, at the centre line, two steps into the backcourt",
        ),
        (
            Point(-7.8, 18.0),
            "left",
            "the near sideline, at our own throw-in mark, two steps toward half court",
        ),
        (
            Point(-4.6, -0.3),
            "left",
            "the baseline, on the near side of the lane, two steps toward the corner",
        ),
        (Point(1.5, -0.3), "left", "the baseline, behind the basket, two steps to the far side"),
        (Point(-3.4, -0.3), None, "the baseline, left of the lane"),
        (Point(-3.4, -0.3), "left", "the baseline, on the near side of the lane"),
        (Point(0.2, -0.3), None, "the baseline, behind the basket"),
    ],
)
def test_words_for_a_place(point: Point, ball_side: Side | None, words: str) -> None:
    assert describe(FIBA, point, ENGLISH, ball_side=ball_side) == words


def test_words_for_someone_with_their_back_to_the_basket() -> None:
    elbow = Point(2.45, 5.8)
    assert describe(FIBA, elbow, ENGLISH, viewer="back to basket") == "the left elbow"
    assert describe(FIBA, Point(0.7, 8.7), ENGLISH, viewer="back to basket").endswith(
        "left of the top"
    )
    spoken = describe(FIBA, elbow, ENGLISH, ball_side="right", viewer="back to basket")
    assert spoken == "the near elbow"  # near and far are the ball's, whoever looks


def test_words_for_the_throw_in_spot() -> None:
    mark = FIBA.spot_place(Spot("sideline", "left", 8.325))
    assert describe(FIBA, mark, ENGLISH) == "the left sideline, at the throw-in mark"
    nfhs = court(RuleSet.NFHS)
    beside = nfhs.spot_place(Spot("baseline", "right", 2.743))
    assert describe(nfhs, beside, ENGLISH) == "the baseline, right of the lane"


@pytest.mark.parametrize(
    ("spot", "words"),
    [
        (Spot("baseline", "left", 3.4, far=True), "our own baseline, left of the lane"),
        (Spot("baseline", "right", 0.4, far=True), "our own baseline, behind the basket"),
        (Spot("baseline", "right", 6.0, far=True), "our own baseline, by the right corner"),
    ],
)
def test_words_for_a_throw_in_from_the_own_baseline(spot: Spot, words: str) -> None:
    for one in (FIBA, court(RuleSet.NFHS)):
        assert describe(one, one.spot_place(spot), ENGLISH).startswith(words)


def test_the_same_place_by_name_on_two_courts() -> None:
    fiba_wing = named_spots(FIBA)["left_wing"]
    nba_wing = named_spots(court(RuleSet.NBA))["left_wing"]
    assert describe(court(RuleSet.NBA), nba_wing, ENGLISH) == "the left wing"
    assert describe(court(RuleSet.NBA), fiba_wing, ENGLISH) != "the left wing"


@pytest.mark.parametrize(
    ("code", "template", "said"),
    [
        ("en", "Start at {place}.", "Start a step above the left elbow."),
        ("en", "Pass to the 2 at {place}.", "Pass to the 2, a step above the left elbow."),
        ("en", "Pass to Ida (5) at {place}.", "Pass to Ida (5), a step above the left elbow."),
        ("es", "Empieza en {place}.", "Empieza un paso por encima del codo izquierdo."),
        ("es", "Pasa a Ida (5) en {place}.", "Pasa a Ida (5), un paso por encima"),
        ("es", "corra hacia {place}.", "corra hacia un punto a un paso por encima"),
    ],
)
def test_a_place_told_in_steps_changes_the_words_before_it(
    code: str, template: str, said: str
) -> None:
    fiba, speech = court(RuleSet.FIBA), language(code)
    elbow = named_spots(fiba)["left_elbow"]
    place = describe(fiba, Point(elbow.x, elbow.y + STEP), speech)
    assert speech.say(template, place=place).startswith(said)


@pytest.mark.parametrize(
    ("code", "before", "behind"),
    [
        ("en", "a step in front of the basket", "a step behind the basket"),
        ("es", "un paso por delante del aro", "un paso por detrás del aro"),
    ],
)
def test_a_step_from_the_rim_is_on_the_floor_and_not_in_the_air(
    code: str, before: str, behind: str
) -> None:
    fiba, speech = court(RuleSet.FIBA), language(code)
    basket = named_spots(fiba)["basket"]
    above, below = (Point(0, basket.y + step) for step in (STEP, -STEP))
    assert describe(fiba, above, speech) == before
    assert describe(fiba, below, speech) == behind


@pytest.mark.parametrize(
    ("key", "template", "said"),
    [
        ("basket", "Empieza en {place}.", "Empieza bajo el aro."),
        ("back_basket", "Empieza en {place}.", "Empieza bajo nuestro aro."),
        ("basket", "Tira desde {place}.", "Tira desde debajo del aro."),
        ("basket", "Corta hasta {place}.", "Corta hasta el aro."),
        ("left_elbow", "Tira desde {place}.", "Tira desde el codo izquierdo."),
    ],
)
def test_one_stands_under_the_rim_in_spanish_and_not_in_it(
    key: str, template: str, said: str
) -> None:
    speech = language("es")
    assert speech.say(template, place=spot_name(key, speech)) == said


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ("Empieza en {place}.", "Empieza a medio camino entre el slot derecho y"),
        ("Pasa al número 2 en {place}.", "Pasa al número 2, a medio camino entre"),
        ("Corta hasta {place}.", "Corta hasta un punto a medio camino entre"),
        ("llegue a {place}", "llegue a un punto a medio camino entre"),
        ("salga de {place}", "salga de un punto a medio camino entre"),
    ],
)
def test_halfway_in_spanish_is_a_point_only_where_one_goes(template: str, said: str) -> None:
    speech = language("es")
    place = describe(FIBA, Point(4.05, 7.5), speech)
    assert speech.say(template, place=place).startswith(said)


@pytest.mark.parametrize(
    ("rule_set", "point", "words"),
    [
        # Nearest is our own wing at 3.1 m, with a way up and one across; the hash is at 3.3 m.
        (RuleSet.NFHS, Point(-3.8, 17.0), "four steps inside our own left hash"),
        (RuleSet.NFHS, Point(-4.4, 17.5), "three steps ahead of our own left wing and"),
        (RuleSet.FIBA, Point(2.2, 17.6), "three steps to the right of our own top and two"),
    ],
)
def test_far_from_all_places_one_way_is_plainer_than_two(
    rule_set: RuleSet, point: Point, words: str
) -> None:
    assert describe(court(rule_set), point, ENGLISH).startswith(words)


def test_an_unknown_key_is_refused() -> None:
    for key in ("left_moon", "moon", "near_elbow"):
        with pytest.raises(KeyError):
            spot_name(key, ENGLISH)


@given(courts, st.floats(-9, 9), st.floats(-2, 31), st.sampled_from([None, "left", "right"]))
def test_every_place_has_words(one: Court, x: float, y: float, side: Side | None) -> None:
    words = describe(one, Point(x, y), ENGLISH, ball_side=side)
    assert "the " in words or "our own " in words
    assert "{" not in words


@given(
    courts,
    st.tuples(st.floats(-9, 9), st.floats(-2, 30)),
    st.tuples(st.floats(0, 6.3), st.floats(1.2, 4)),
    st.sampled_from([None, "left", "right"]),
)
def test_places_a_long_step_apart_have_two_names(
    one: Court, here: tuple[float, float], way: tuple[float, float], side: Side | None
) -> None:
    angle, apart = way
    there = Point(here[0] + apart * cos(angle), here[1] + apart * sin(angle))
    names = {describe(one, point, ENGLISH, ball_side=side) for point in (Point(*here), there)}
    assert len(names) == 2


@given(courts, st.floats(0.5, 7.4), st.floats(0.1, 25))
def test_mirrored_places_have_mirrored_words(one: Court, x: float, y: float) -> None:
    swap = {"left": "right", "right": "left"}
    here = describe(one, Point(x, y), ENGLISH).replace(",", " ,").split()
    there = describe(one, Point(-x, y), ENGLISH).replace(",", " ,").split()
    assert there == [swap.get(word, word) for word in here]
    near = describe(one, Point(x, y), ENGLISH, ball_side="right")
    assert near == describe(one, Point(-x, y), ENGLISH, ball_side="left")


@pytest.mark.parametrize("floor", ALL, ids=lambda floor: floor.rule_set)
@pytest.mark.parametrize("name", ["wing", "slot"])
def test_a_shooter_at_a_wing_or_slot_has_both_feet_behind_the_arc(name: str, floor: Court) -> None:
    """As far from the basket as the arc, and clear of its line; common practice, no source."""
    at = named_spots(floor)[f"right_{name}"]
    away = hypot(at.x - floor.basket.x, at.y - floor.basket.y)
    assert away == pytest.approx(floor.arc_radius + CLEAR_OF_LINE, abs=0.001)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_a_named_place_is_one_that_can_be_written_in_millimetres(one: Court) -> None:
    """A foot is 304.8 mm: places by American books fall between two millimetres by themselves."""
    for place in (*named_spots(one).values(), *out_spots(one).values()):
        assert (round(place.x, 3), round(place.y, 3)) == (place.x, place.y)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.rule_set)
def test_whoever_throws_in_stands_at_a_line(one: Court) -> None:
    """A throw-in is taken from behind the line it went over: FIBA 17.2.3, NFHS 7-5, from memory."""
    for spot, place in out_spots(one).items():
        at_side = abs(abs(place.x) - one.half_width) < 0.001
        assert at_side or place.y in (0.0, round(one.length, 3)), spot
