"""The cores with a mark in every block of statements, so that a test leaves its trace for little.

Python 3.11 tells a tracer of every call, which makes tests ten times slower; a mark is one store
into an array, and it tells blocks apart where a call tells only functions.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator, Mapping
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from types import CodeType, ModuleType
from typing import Final

from coachbook.mutation.mutators import is_block
from coachbook.mutation.reach import ROOT, modules

NAME: Final = "__marks__"

Block = tuple[str, int]  # path of the module, and the block's first line


class Marks(MetaPathFinder):
    """Finds the modules of the cores and loads them marked; knows which blocks have run."""

    def __init__(self, trees: Mapping[str, ast.Module] | None = None) -> None:
        if trees is None:
            trees = {path: ast.parse((ROOT / path).read_text("utf-8")) for path in modules()}
        self.blocks: list[Block] = []
        self.loaders = {}
        for path, tree in trees.items():
            code = compile(self._marked(path, tree), str(ROOT / path), "exec")
            self.loaders[path] = _Marked(self, path, code)
        self.ran = bytearray(len(self.blocks))

    def take(self) -> list[Block]:
        """The blocks that ran since this was last asked."""
        found = [block for block, ran in zip(self.blocks, self.ran, strict=True) if ran]
        self.ran[:] = bytes(len(self.ran))
        return found

    def find_spec(
        self,
        fullname: str,
        path: object,  # noqa: ARG002 - of the protocol of finders
        target: ModuleType | None = None,  # noqa: ARG002
    ) -> ModuleSpec | None:
        loader = self.loaders.get(fullname.replace(".", "/") + ".py")
        return spec_from_file_location(fullname, loader.path, loader=loader) if loader else None

    def _marked(self, path: str, tree: ast.Module) -> ast.Module:
        for body in list(_blocks(tree)):
            mark = ast.parse(f"{NAME}[{len(self.blocks)}] = 1").body
            self.blocks.append((path, body[0].lineno))
            says = isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant)
            for node in ast.walk(mark[0]):
                ast.copy_location(node, body[0])
            body[says:says] = mark
        return tree


class _Marked(SourceFileLoader):
    """Loads a module from marked code, which finds the marks by their name."""

    def __init__(self, marks: Marks, path: str, code: CodeType) -> None:
        super().__init__(path.removesuffix(".py").replace("/", "."), str(ROOT / path))
        self.marks = marks
        self.code = code

    def get_code(self, fullname: str) -> CodeType:  # noqa: ARG002 - asked for one module only
        return self.code

    def exec_module(self, module: ModuleType) -> None:
        vars(module)[NAME] = self.marks.ran
        super().exec_module(module)


def _blocks(tree: ast.AST, inside: bool = False) -> Iterator[list[ast.stmt]]:
    """Every run of statements inside a function."""
    inside = inside or isinstance(tree, ast.FunctionDef)
    for _, found in ast.iter_fields(tree):
        if inside and is_block(found):
            yield found
    for child in ast.iter_child_nodes(tree):
        yield from _blocks(child, inside)


def watch() -> Marks:
    """Load the cores marked from now on; none of them may have been loaded before."""
    marks = Marks()
    sys.meta_path.insert(0, marks)
    return marks
