"""Pictures and pages that somebody has looked at, kept beside their tests.

How a line is drawn has no source outside; what can be held is that it stays as it was approved.
A picture that changes fails its test. When it was meant to, run the test with
``COACHBOOK_KEEP=pictures``, open what `git diff` names in a browser, look, and commit it.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Final

from shared.core.drawing.picture import Picture
from shared.core.drawing.svg import svg_text

KEEPS: Final = os.environ.get("COACHBOOK_KEEP") == "pictures"
NEAR: Final = 0.021  # points: the last digit that is written, and its rounding on other machines
NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?")


def assert_kept(picture: Picture, test: str, name: str) -> None:
    """That a picture is drawn as the one kept beside a test file, but for the last digit."""
    assert_same(svg_text(picture).replace("><", ">\n<") + "\n", test, f"{name}.svg")


def assert_same(made: str, test: str, name: str) -> None:
    """That a text is the one in `kept` beside a test file: the same signs, and numbers as near.

    Raises FileNotFoundError where none is kept.
    """
    path = Path(test).with_name("kept") / name
    if KEEPS:
        path.parent.mkdir(exist_ok=True)
        path.write_text(made, "utf-8")
    kept = path.read_text("utf-8")
    assert NUMBER.sub("#", made) == NUMBER.sub("#", kept), f"{name} is made of other signs"
    for line, (new, old) in enumerate(zip(*map(str.splitlines, (made, kept)), strict=True), 1):
        pairs = zip(NUMBER.findall(new), NUMBER.findall(old), strict=True)
        far = [pair for pair in pairs if abs(float(pair[0]) - float(pair[1])) > NEAR]
        assert not far, f"{name}:{line}\n  kept  {old}\n  made  {new}"
