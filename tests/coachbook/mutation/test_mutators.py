"""Each kind of wrong change is made where it belongs, and only there."""

from __future__ import annotations

import ast

import pytest

from coachbook.mutation.mutators import Mutant, mutants


def changes(text: str) -> set[str]:
    """The module as each mutant leaves it."""
    tree = ast.parse(text)
    return {ast.unparse(each.applied(tree)) for each in mutants("m.py", tree)}


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("a < b", {"a <= b", "a >= b"}),
        ("a >= b", {"a > b", "a < b"}),
        ("a == b", {"a != b"}),
        ("a is None", {"a is not None"}),
        ("a in b", {"a not in b"}),
        ("a + b", {"a - b"}),
        ("a * b", {"a / b"}),
        ("a and b", {"a or b"}),
        ("not a", {"a"}),
        ("f(a, b, c)", {"f(b, a, c)"}),
        ("f(a, a)", set()),
        ("f(*a, b)", set()),
        ("max(a, b)", set()),
        ("math.dist(a, b)", set()),
        ("max_of(a, b)", {"max_of(b, a)"}),
        ("1e-9", set()),
        ("1e-4", {"0.0002"}),
        ("3", {"4"}),
        ("0.25", {"0.5"}),
        ("0.0", {"1.0"}),
        ("True", {"False"}),
        ("-1", {"-2"}),
        ("'words'", set()),
        ("a if b else c", {"a if not b else c"}),
    ],
)
def test_an_expression_goes_wrong_in_each_way(text: str, wrong: set[str]) -> None:
    assert changes(f"x = {text}") == {f"x = {each}" for each in wrong}


def test_statements_go_and_answers_become_nothing() -> None:
    text = "def f(a):\n    a.clear()\n    a += b\n    return a"
    assert changes(text) == {
        "def f(a):\n    pass\n    a += b\n    return a",
        "def f(a):\n    a.clear()\n    pass\n    return a",
        "def f(a):\n    a.clear()\n    a -= b\n    return a",
        "def f(a):\n    a.clear()\n    a += b\n    return None",
    }


@pytest.mark.parametrize(
    "text",
    [
        '"""One sentence."""',
        "a: Literal[1, 2]",
        "def f(a: List[3]) -> None:\n    return None",
        "@once(3)\nclass A:\n    pass",
        "assert a < b",
        "if TYPE_CHECKING:\n    a = 1",
        "x = zip(a, strict=True)",
    ],
)
def test_what_no_test_can_hold_is_left_alone(text: str) -> None:
    assert changes(text) == set()


def test_a_mutant_says_where_it_is_and_leaves_the_tree_as_it_was() -> None:
    tree = ast.parse("a = 1\nb = a < 2")
    before = ast.dump(tree)
    found = list(mutants("m.py", tree))
    assert [(each.line, each.kind) for each in found] == [
        (1, "constant"),
        (2, "operator"),
        (2, "operator"),
        (2, "constant"),
    ]
    edge: Mutant = found[1]
    assert edge.difference(tree) == ["-b = a < 2", "+b = a <= 2"]
    assert ast.dump(tree) == before


def test_a_mutant_names_the_outermost_function_it_is_in() -> None:
    text = "x = 1\nclass A:\n    y = 2\n    def f(self):\n        def g():\n            return 3"
    found = [(each.line, each.inside) for each in mutants("m.py", ast.parse(text))]
    assert found == [(1, ""), (3, ""), (6, "A.f"), (6, "A.f")]
