"""Which fives count, held against a matching that networkx finds."""

from __future__ import annotations

from itertools import combinations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import ROLES
from roster.core.cast import Assignment, Cast
from roster.core.coverage.squad import squad
from roster.core.coverage.usual import named_fives, usual_fives


@given(st.lists(st.sets(st.sampled_from(ROLES)), min_size=5, max_size=9))
def test_a_five_counts_where_its_positions_can_be_matched(own: list[set[str]]) -> None:
    """Maximum matching in a bipartite graph by networkx (Hopcroft & Karp 1973)."""
    people = range(len(own))
    found = usual_fives(people, dict(enumerate(own)))  # type: ignore[arg-type]  # letters are roles
    for counts, five in zip(found, combinations(people, 5), strict=True):
        graph = nx.Graph()
        graph.add_nodes_from(five)
        graph.add_edges_from((who, role) for who in five for role in own[who] or set(ROLES))
        pairs = nx.bipartite.maximum_matching(graph, top_nodes=five) if graph.edges else {}
        assert bool(counts) is (len(pairs) == 10)


def test_units_count_alone_and_whole() -> None:
    found = named_fives("abcdef", ["abcde", "bcdef", "abcd", "abcdz"])
    assert [bool(each) for each in found] == [True, False, False, False, False, True]


def test_only_the_fives_that_count_have_weight_and_are_asked() -> None:
    """Of six, two fives count; "f" alone knows role 5, and is in one of the two."""
    pairs = [*zip("abcd", ROLES[:4], strict=True), ("f", "5"), ("b", "1"), ("c", "2")]
    more = [("d", "3"), ("e", "4")]
    depths: dict[tuple[str, str], int] = {}
    cast = []
    for who, role in [*pairs, *more]:
        depth = depths["p", role] = depths.get(("p", role), 0) + 1
        cast.append(Assignment("p", role, depth, who))  # type: ignore[arg-type]  # a role
    only = named_fives("abcdef", ["abcde", "bcdef"])
    made = squad("abcdef", ["p"], Cast(tuple(cast)), only=only)
    assert made.floor.weights[~only].sum() == 0
    shares = made.floor.weights @ made.runnable()
    assert abs(float(shares[0]) - 0.5) < 1e-6  # six alike: both fives count alike
