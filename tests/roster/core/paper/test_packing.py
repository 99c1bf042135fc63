"""Entries on pages, against every way to put them, tried one by one."""

from __future__ import annotations

from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from roster.core.paper.packing import packed

HEIGHTS = st.lists(st.integers(1, 100), min_size=1, max_size=6)


def partings(count: int) -> Iterator[list[list[int]]]:
    """Every way to part so many things into groups."""
    if count == 0:
        yield []
        return
    for groups in partings(count - 1):
        for n in range(len(groups)):
            yield [[*group, count - 1] if n == m else group for m, group in enumerate(groups)]
        yield [*groups, [count - 1]]


@given(HEIGHTS)
def test_no_other_parting_takes_fewer_pages(heights: list[int]) -> None:
    pages = packed(heights, 100)
    fits = [
        groups
        for groups in partings(len(heights))
        if all(sum(heights[n] for n in group) <= 100 for group in groups)
    ]
    assert len(pages) == min(map(len, fits))
    assert all(sum(heights[n] for n in page) <= 100 for page in pages)


@given(st.lists(st.integers(1, 180), min_size=1, max_size=20))
def test_every_entry_stands_once_and_the_first_opens_the_first_page(heights: list[int]) -> None:
    pages = packed(heights, 100)
    assert sorted(n for page in pages for n in page) == list(range(len(heights)))
    assert pages[0][0] == 0
    assert [page[0] for page in pages] == sorted(page[0] for page in pages)
    assert all(page == sorted(page) for page in pages)


def test_what_fits_in_its_order_stays_in_it() -> None:
    assert packed([50, 50, 40, 60, 30], 100) == [[0, 1], [2, 3], [4]]
