"""A judgement is about one change that can still be made."""

from __future__ import annotations

import ast

import pytest

from coachbook.mutation.judged import Judgement, judged
from coachbook.mutation.mutators import mutants
from coachbook.mutation.reach import ROOT

TEXT = "def f(a):\n    return a < 3\n\ndef g(a):\n    return a < 3\n"


@pytest.mark.parametrize("each", judged(), ids=lambda each: f"{each.path}:{each.inside}")
def test_a_judgement_names_one_mutant_and_gives_a_reason(each: Judgement) -> None:
    tree = ast.parse((ROOT / each.path).read_text("utf-8"))
    assert any(each.is_of(mutant, tree) for mutant in mutants(each.path, tree))
    assert len(each.why.split()) > 4


def test_the_same_change_elsewhere_is_not_judged() -> None:
    tree = ast.parse(TEXT)
    one = Judgement("m.py", "f", "return a < 3", "return a <= 3", "whole numbers never get there")
    found = [mutant for mutant in mutants("m.py", tree) if one.is_of(mutant, tree)]
    assert [(mutant.line, mutant.inside) for mutant in found] == [(2, "f")]
    assert not any(one.is_of(mutant, tree) for mutant in mutants("n.py", tree))
