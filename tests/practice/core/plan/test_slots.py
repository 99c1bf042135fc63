"""Where an install plan's blocks go in a practice: the open blocks of a pattern first.

That new things come after the warm-up and before anything live is common practice of coaches.
"""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from practice.core.plan.plan import INSTALLING, TEMPLATES, Block, BlockKind
from practice.core.plan.slots import PlacedBlock, with_installs


def install(key: str, minutes: int) -> Block:
    return Block(key, BlockKind.INSTALL, minutes, play=key)


def told(placed: Sequence[PlacedBlock]) -> list[tuple[object, float]]:
    return [(each.block.id, each.block.minutes) for each in placed]


def test_plays_go_into_the_open_blocks_in_order_and_take_their_minutes() -> None:
    placed = with_installs(TEMPLATES["standard"], [install("one", 6), install("two", 7)])
    assert told(placed) == [
        *(("a", 12), ("b", 10)),
        *(("one", 6), ("c", 4), ("d", 8)),
        *(("two", 7), ("e", 3)),
        *(("f", 10), ("g", 5)),
    ]
    assert [each.slot for each in placed if each.is_new] == ["c", "e"]


def test_two_that_fit_share_a_block_and_a_block_used_up_is_gone() -> None:
    placed = with_installs(TEMPLATES["standard"], [install("one", 6), install("two", 4)])
    assert [key for key, _ in told(placed)] == ["a", "b", "one", "two", "d", "e", "f", "g"]


def test_what_finds_no_room_stands_behind_what_did() -> None:
    placed = with_installs(TEMPLATES["young_players"], [install("one", 7), install("two", 5)])
    assert [key for key, _ in told(placed)] == ["a", "b", "c", "one", "two", "e", "f", "g"]
    assert [each.slot for each in placed if each.is_new] == ["d", None]


def test_without_an_open_block_plays_stand_right_after_the_warm_up() -> None:
    warm, skill, live = (
        Block("w", BlockKind.WARM_UP, 10),
        Block("s", BlockKind.SKILL, 10),
        Block("l", BlockKind.LIVE, 10),
    )
    placed = with_installs([warm, skill, live], [install("one", 5)])
    assert [key for key, _ in told(placed)] == ["w", "one", "s", "l"]


def test_without_a_warm_up_before_the_cool_down_or_at_the_end() -> None:
    skill, cool = Block("s", BlockKind.SKILL, 10), Block("c", BlockKind.COOL_DOWN, 5)
    assert [key for key, _ in told(with_installs([skill, cool], [install("x", 5)]))] == list("sxc")
    assert [key for key, _ in told(with_installs([skill], [install("x", 5)]))] == list("sx")
    assert [key for key, _ in told(with_installs([], [install("x", 5)]))] == ["x"]


def test_a_block_with_a_play_or_a_title_of_the_coach_is_no_open_one() -> None:
    own = Block("p", BlockKind.INSTALL, 10, play="gangway")
    named = Block("t", BlockKind.INSTALL, 10, title="Press break")
    assert not own.is_open
    assert not named.is_open
    assert Block("o", BlockKind.WALK_THROUGH, 10).is_open
    assert told(with_installs([own, named], [install("x", 5)])) == [("p", 10), ("t", 10), ("x", 5)]


BLOCKS = st.lists(
    st.builds(
        Block,
        st.uuids().map(str),
        st.sampled_from(BlockKind),
        st.integers(1, 30),
        title=st.sampled_from(["", "Own"]),
    ),
    max_size=8,
)


@given(BLOCKS, st.lists(st.integers(1, 12), max_size=6))
def test_nothing_is_lost_and_no_minute_is_taken_but_from_open_blocks(
    blocks: list[Block], minutes: list[int]
) -> None:
    installs = [install(f"new-{index}", size) for index, size in enumerate(minutes)]
    placed = with_installs(blocks, installs)
    new = [each.block for each in placed if each.is_new]
    assert sorted(block.id for block in new) == sorted(block.id for block in installs)
    before = {block.id: block for block in blocks}
    for key, block in before.items():
        taken = sum(each.taken for each in placed if each.slot == key)
        left = sum(e.block.minutes for e in placed if not e.is_new and e.block.id == key)
        assert left + taken == block.minutes
        assert not taken or (block.kind in INSTALLING and not block.title)
        assert not left or all(
            each.taken == each.block.minutes for each in placed if each.slot == key
        )
    used = {each.slot for each in placed if each.is_new}
    unused = [e for e in placed if not e.is_new and e.block.is_open and e.block.id not in used]
    assert None not in used or not unused
    order = [each.block.id for each in placed if not each.is_new]
    assert order == [key for key in before if key in order]


def test_behind_the_last_of_several_warm_ups_and_before_the_first_cool_down() -> None:
    warm, skill = Block("w", BlockKind.WARM_UP, 10), Block("s", BlockKind.SKILL, 10)
    twice = [warm, Block("v", BlockKind.WARM_UP, 5), skill]
    assert [key for key, _ in told(with_installs(twice, [install("x", 5)]))] == list("wvxs")
    split = [warm, skill, Block("v", BlockKind.WARM_UP, 5), skill]
    assert [key for key, _ in told(with_installs(split, [install("x", 5)]))] == list("wsvxs")
    cool = [skill, Block("c", BlockKind.COOL_DOWN, 5), Block("d", BlockKind.COOL_DOWN, 5)]
    assert [key for key, _ in told(with_installs(cool, [install("x", 5)]))] == list("sxcd")


def test_a_slot_that_just_has_the_minutes_is_used_and_a_minute_less_is_not() -> None:
    slots = [Block("o", BlockKind.INSTALL, 10), Block("p", BlockKind.INSTALL, 11)]
    assert told(with_installs(slots, [install("x", 10)])) == [("x", 10), ("p", 11)]
    assert told(with_installs(slots, [install("x", 11)])) == [("o", 10), ("x", 11)]
    assert told(with_installs(slots, [install("x", 9)])) == [("x", 9), ("o", 1), ("p", 11)]


def test_what_is_too_long_for_every_slot_makes_the_first_empty_one_longer() -> None:
    placed = with_installs(TEMPLATES["young_players"], [install("one", 10), install("two", 10)])
    assert [key for key, _ in told(placed)] == ["a", "b", "c", "one", "two", "e", "f", "g"]
    assert [(each.slot, each.taken) for each in placed if each.is_new] == [("d", 7), (None, 0)]
    placed = with_installs(TEMPLATES["young_players"], [install("long", 10), install("fits", 5)])
    assert [key for key, _ in told(placed)] == ["a", "b", "c", "fits", "long", "d", "e", "f", "g"]
