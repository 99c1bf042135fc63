"""One out of each list at the least cost, held against trying everything."""

from __future__ import annotations

from itertools import combinations, product

from hypothesis import given
from hypothesis import strategies as st

from shared.core.drawing.choosing import bits, least


@st.composite
def questions(draw: st.DrawFn) -> tuple[list[list[float]], list[int]]:
    """Up to five lists of up to four entries and any clashes but with the last of a list."""
    sizes = draw(st.lists(st.integers(1, 4), min_size=1, max_size=5))
    costs = [
        sorted(draw(st.lists(st.integers(0, 9), min_size=n, max_size=n).map(lambda v: v)))
        for n in sizes
    ]
    owner = [n for n, size in enumerate(sizes) for _ in range(size)]
    last = {sum(sizes[: n + 1]) - 1 for n in range(len(sizes))}
    pairs = [
        (a, b)
        for a, b in combinations(range(len(owner)), 2)
        if owner[a] != owner[b] and not {a, b} & last
    ]
    clashes = [0] * len(owner)
    for a, b in draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else ():
        clashes[a] |= 1 << b
        clashes[b] |= 1 << a
    return [[float(cost) for cost in each] for each in costs], clashes


def entries(costs: list[list[float]], places: tuple[int, ...]) -> list[int]:
    return [sum(map(len, costs[:n])) + place for n, place in enumerate(places)]


def agree(costs: list[list[float]], clashes: list[int], places: tuple[int, ...]) -> bool:
    found = entries(costs, places)
    return not any(clashes[a] >> b & 1 for a, b in combinations(found, 2))


def total(costs: list[list[float]], places: tuple[int, ...]) -> float:
    return sum(each[place] for each, place in zip(costs, places, strict=True))


@given(questions())
def test_nothing_is_cheaper_among_all_that_agree(
    question: tuple[list[list[float]], list[int]],
) -> None:
    costs, clashes = question
    found = least(costs, clashes)
    every = [p for p in product(*(range(len(c)) for c in costs)) if agree(costs, clashes, p)]
    assert agree(costs, clashes, found)
    assert total(costs, found) == min(total(costs, places) for places in every)


@given(questions())
def test_however_short_the_search_its_answer_agrees(
    question: tuple[list[list[float]], list[int]],
) -> None:
    costs, clashes = question
    assert agree(costs, clashes, least(costs, clashes, nodes=1))


def test_a_costly_choice_makes_room_for_two() -> None:
    """The first list gives way: 3 is less than twice 10."""
    costs = [[0.0, 3.0], [0.0, 10.0], [0.0, 10.0]]
    clashes = [0b010100, 0, 0b000001, 0, 0b000001, 0]
    assert least(costs, clashes) == (1, 0, 0)


def test_bits_come_from_the_lowest() -> None:
    assert list(bits(0b10110)) == [1, 2, 4]
