"""The face that a picture brings along in its own file, so that its letters are ours everywhere.

A picture within a page is lettered by the page. One that stands alone, or that a page shows as
an image, sees no style sheet: it carries the smallest of the WOFF2 files that has its letters.
Browsers use it (CSS Fonts 3, 4.3); a drawing program that does not takes Inter where it is
installed, else what is next in ``FALLBACK``. PDF and PNG always carry it.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Iterator
from functools import cache
from typing import Final

from shared.core.drawing.fonts import FOLDER, PAGE_FAMILY
from shared.core.drawing.letters import COMMON, MARKS, NAMES
from shared.core.drawing.picture import Group, Shape, Text

WHOLE: Final = ("latin", "more")  # where neither of the small ones is enough
WEIGHTS: Final = ((False, 400, "regular"), (True, 700, "bold"))


def face_style(shapes: Iterable[Shape]) -> str:
    """A ``style`` element with the faces of what these shapes write; empty where they write
    nothing."""
    said: dict[bool, set[str]] = {}
    for text in _texts(shapes):
        said.setdefault(text.bold, set()).update(text.text)
    rules = [
        _rule(weight, f"inter-{name}-{part}.woff2")
        for bold, weight, name in WEIGHTS
        if bold in said
        for part in parts(said[bold], bold=bold)
    ]
    return f"<style>{''.join(rules)}</style>" if rules else ""


def parts(letters: set[str], *, bold: bool) -> tuple[str, ...]:
    """Of which files a weight is made: the smallest that has all of the letters."""
    for part, known in (("marks", MARKS), ("phone", COMMON if bold else COMMON | NAMES)):
        if letters <= known:
            return (part,)
    return WHOLE


def _texts(shapes: Iterable[Shape]) -> Iterator[Text]:
    for shape in shapes:
        if isinstance(shape, Text):
            yield shape
        elif isinstance(shape, Group):
            yield from _texts(shape.shapes)


@cache
def _rule(weight: int, file: str) -> str:
    data = b64encode((FOLDER / file).read_bytes()).decode("ascii")
    source = f"src:url(data:font/woff2;base64,{data}) format('woff2')"
    return f"@font-face{{font-family:'{PAGE_FAMILY}';font-weight:{weight};{source}}}"
