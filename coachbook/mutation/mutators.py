"""Small wrong changes to a module, one at a time, as syntax trees in memory.

A test suite that stays green with such a change does not hold what the line says. A mutant is
named by its place in the walk over the tree, so that the same text gives the same mutants.
Left alone: texts, annotations, decorators, asserts, and what only the type checker reads.
"""

from __future__ import annotations

import ast
import copy
import difflib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, TypeGuard

SWAPPED: Final[dict[type[ast.AST], tuple[type[ast.AST], ...]]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Mult,),
    ast.Mod: (ast.Mult,),
    ast.Pow: (ast.Mult,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
}
# Their first two arguments may stand either way: the change would change nothing.
EITHER_WAY: Final = frozenset({"max", "min", "maximum", "minimum", "dist", "hypot"})
# Smaller numbers stand against the rounding of floats, and do it as well twice as large.
GUARD: Final = 1e-5
UNTOUCHED: Final = frozenset({"annotation", "returns", "decorator_list", "type_params", "bases"})

Step = tuple[str, int | None]  # a field of a node, and the place in its list


@dataclass(frozen=True)
class Mutant:
    """One wrong change: the steps from the module to the node, and what stands there instead.

    ``inside`` names the function, with its class, whose body it is in, and ``block`` the first
    line of the innermost run of statements; "" and 0 for what runs when the module is loaded.
    """

    path: str
    line: int
    inside: str
    block: int
    kind: str
    steps: tuple[Step, ...]
    instead: ast.AST

    def applied(self, tree: ast.Module) -> ast.Module:
        """A copy of the module's tree with the change in it, ready to compile."""
        changed = copy.deepcopy(tree)
        *way, (field, place) = self.steps
        parent: ast.AST = changed
        for step in way:
            parent = _at(parent, step)
        if place is None:
            setattr(parent, field, self.instead)
        else:
            getattr(parent, field)[place] = self.instead
        return ast.fix_missing_locations(changed)

    def difference(self, tree: ast.Module) -> list[str]:
        """The lines that change, as Python writes the tree."""
        before, after = (ast.unparse(each).splitlines() for each in (tree, self.applied(tree)))
        return list(difflib.unified_diff(before, after, lineterm="", n=0))[3:]


def mutants(path: str, tree: ast.Module) -> Iterator[Mutant]:
    """Every mutant of a module, in the order of its text."""
    for node, steps, line in _walk(tree, (), 1):
        inside, block = _place(tree, steps)
        for kind, instead in _changes(node):
            yield Mutant(path, line, inside, block, kind, steps, instead)


def is_block(found: object) -> TypeGuard[list[ast.stmt]]:
    """Whether a field of a node is a run of statements: all of them run, or none, or one throws."""
    return isinstance(found, list) and bool(found) and isinstance(found[0], ast.stmt)


def _place(tree: ast.Module, steps: tuple[Step, ...]) -> tuple[str, int]:
    """The outermost function on the way, as Python names it, and the innermost block in it.

    The default of an argument belongs to the function that it is for.
    """
    names: list[str] = []
    inside, block = "", 0
    node: ast.AST = tree
    for step in steps:
        found = getattr(node, step[0])
        if isinstance(node, ast.FunctionDef) and not inside:
            inside, block = ".".join([*names, node.name]), node.body[0].lineno
        if inside and is_block(found):
            block = found[0].lineno
        node = _at(node, step)
        if isinstance(node, ast.ClassDef):
            names.append(node.name)
    return inside, block


def _at(parent: ast.AST, step: Step) -> ast.AST:
    field, place = step
    found = getattr(parent, field)
    node = found if place is None else found[place]
    assert isinstance(node, ast.AST)
    return node


def _walk(
    node: ast.AST, steps: tuple[Step, ...], line: int
) -> Iterator[tuple[ast.AST, tuple[Step, ...], int]]:
    """The nodes that may be changed, each with the way to it and the line it stands on."""
    for step, child in _children(node):
        if _is_left_alone(child):
            continue
        here = getattr(child, "lineno", line)
        yield child, (*steps, step), here
        yield from _walk(child, (*steps, step), here)


def _children(node: ast.AST) -> Iterator[tuple[Step, ast.AST]]:
    for field, value in ast.iter_fields(node):
        if field in UNTOUCHED:
            continue
        if isinstance(value, ast.AST):
            yield (field, None), value
        elif isinstance(value, list):
            yield from (
                ((field, place), each)
                for place, each in enumerate(value)
                if isinstance(each, ast.AST)
            )


def _is_left_alone(node: ast.AST) -> bool:
    """Texts, what runs only under the type checker, and what no input is meant to reach."""
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    if isinstance(node, ast.If):
        return isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    if isinstance(node, ast.keyword):
        return node.arg == "strict"
    return isinstance(node, ast.Assert)


def _changes(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    for instead in SWAPPED.get(type(node), ()):
        yield "operator", instead()
    if isinstance(node, ast.Constant):
        yield from _constants(node)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield "not", node.operand
    elif isinstance(node, (ast.If, ast.IfExp)):
        yield "condition", _negated(node)
    elif isinstance(node, ast.Return):
        yield from _returns(node)
    elif isinstance(node, (ast.Expr, ast.AugAssign, ast.Raise, ast.Continue, ast.Break)):
        yield "statement", ast.copy_location(ast.Pass(), node)
    elif isinstance(node, ast.Call):
        yield from _arguments(node)


def _constants(node: ast.Constant) -> Iterator[tuple[str, ast.AST]]:
    """Whole numbers one more, other numbers twice as large, and truth turned round."""
    value = node.value
    if isinstance(value, bool):
        instead: bool | float = not value
    elif isinstance(value, int):
        instead = value + 1
    elif isinstance(value, float):
        if 0 < value < GUARD:
            return
        instead = 2 * value if value else 1.0
    else:
        return
    yield "constant", ast.copy_location(ast.Constant(instead), node)


def _negated(node: ast.If | ast.IfExp) -> ast.AST:
    turned = copy.copy(node)
    turned.test = ast.copy_location(ast.UnaryOp(ast.Not(), node.test), node.test)
    return turned


def _returns(node: ast.Return) -> Iterator[tuple[str, ast.AST]]:
    empty = node.value is None or (
        isinstance(node.value, ast.Constant) and node.value.value is None
    )
    if not empty:
        yield "return", ast.copy_location(ast.Return(ast.Constant(None)), node)


def _arguments(node: ast.Call) -> Iterator[tuple[str, ast.AST]]:
    """The first two arguments by place, each where the other belongs."""
    if len(node.args) < 2 or any(isinstance(each, ast.Starred) for each in node.args[:2]):
        return
    first, second, *rest = node.args
    called = node.func.attr if isinstance(node.func, ast.Attribute) else ast.unparse(node.func)
    if ast.dump(first) == ast.dump(second) or called in EITHER_WAY:
        return
    turned = copy.copy(node)
    turned.args = [second, first, *rest]
    yield "arguments", turned
