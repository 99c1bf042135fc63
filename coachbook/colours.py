"""Write the table of colours into the style sheet that every page loads.

After a change in shared/core/drawing/colours.py or plays/core/drawing/inks.py::

    python3 -m coachbook.colours
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from plays.core.drawing.inks import stylesheet

SHEET: Final = Path(__file__).parents[1] / "static" / "css" / "colours.css"

if __name__ == "__main__":
    SHEET.write_text(stylesheet(), "utf-8", newline="\n")
