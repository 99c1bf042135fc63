"""How long a diagram takes in each format, and how long a general converter takes for it.

Everything is measured in one run on the same demo diagrams, one after the other, so that the
load of the machine falls on all alike. Times are the median over diagrams of the best of some
repeats. The converter is cairosvg, which turns the same SVG into PDF and PNG; svglib with
reportlab joins in where it is installed. Both are development tools only.
"""

from __future__ import annotations

import gzip
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from importlib import import_module
from importlib.util import find_spec
from io import BytesIO, StringIO
from pathlib import Path
from statistics import median
from typing import Final, TextIO

from reportlab.pdfgen.canvas import Canvas

from coachbook.benchmarks.repeats import best
from plays.core.document.file import read_play
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import Play, Role
from shared.core.drawing.pdf import draw_on_canvas, write_pdf
from shared.core.drawing.picture import Picture
from shared.core.drawing.png import write_png
from shared.core.drawing.svg import svg_text

FOLDER: Final = Path(__file__).parents[1] / "demo" / "plays"
NAMES: Final[Mapping[Role, str]] = {
    "1": "Ida",
    "2": "Runa",
    "3": "Maximiliane",
    "4": "Zoë",
    "5": "Łucja",
}
REPEATS: Final = 5
PNG_SCALE: Final = 2

Work = Callable[[], object]


def run(out: TextIO) -> None:
    """Measures and writes a table: median milliseconds a diagram, and times against ours."""
    files = [file.read_bytes() for file in sorted(FOLDER.glob("*.json"))]
    plays = [read_play(data) for data in files]
    times = {"read a play": [best(partial(read_play, data), REPEATS) for data in files]}
    sizes, pictures = [], []
    for play, phase in _phases(plays):
        picture = _draw(play, phase)
        pictures.append(picture)
        text = svg_text(picture)
        sizes.append((len(text.encode()), len(gzip.compress(text.encode(), mtime=0))))
        for name, work in _works(play, phase, picture, text).items():
            times.setdefault(name, []).append(best(work, REPEATS))
    medians = {name: median(found) for name, found in times.items()}
    medians["PDF, all in one document"] = best(lambda: _booklet(pictures), REPEATS) / len(pictures)
    out.write(f"{len(files)} plays, {len(sizes)} diagrams, with names and one role emphasised\n")
    for name, value in medians.items():
        out.write(f"{name:36}{1000 * value:9.2f} ms{_against(name, medians)}\n")
    plain, packed = (max(size[k] for size in sizes) for k in (0, 1))
    out.write(f"largest SVG: {plain} bytes, {packed} gzipped\n")


def _phases(plays: list[Play]) -> Iterator[tuple[Play, str]]:
    for play in plays:
        for phase in play.phases:
            yield play, phase.id


def _draw(play: Play, phase: str) -> Picture:
    return diagram(play, phase, Drawing(emphasis="4", names=NAMES, label="both"))


def _works(play: Play, phase: str, picture: Picture, text: str) -> dict[str, Work]:
    works: dict[str, Work] = {
        "draw": lambda: _draw(play, phase),
        "plain draw and SVG": lambda: svg_text(diagram(play, phase)),
        "draw and SVG": lambda: svg_text(_draw(play, phase)),
        "PDF": lambda: write_pdf(picture, BytesIO()),
        "PNG": lambda: write_png(picture, BytesIO(), scale=PNG_SCALE),
    }
    if find_spec("cairosvg"):
        works["PDF by cairosvg"] = lambda: _by_cairosvg(text, pdf=True)
        works["PNG by cairosvg"] = lambda: _by_cairosvg(text, pdf=False)
    if find_spec("svglib"):
        works["PDF by svglib"] = lambda: _by_svglib(text)
    return works


def _against(name: str, medians: Mapping[str, float]) -> str:
    ours = name.split(" by ", maxsplit=1)[0]
    return f"{medians[name] / medians[ours]:9.1f} times ours" if ours != name else ""


def _booklet(pictures: list[Picture]) -> None:
    """All pictures, each on its page of one document."""
    canvas = Canvas(BytesIO(), invariant=1)
    for picture in pictures:
        draw_on_canvas(picture, canvas, 0, 0, picture.width)
        canvas.showPage()
    canvas.save()


def _by_cairosvg(text: str, *, pdf: bool) -> object:
    cairosvg = import_module("cairosvg")
    if pdf:
        return cairosvg.svg2pdf(bytestring=text.encode())
    return cairosvg.svg2png(bytestring=text.encode(), scale=PNG_SCALE)


def _by_svglib(text: str) -> object:
    drawing = import_module("svglib.svglib").svg2rlg(StringIO(text))
    return import_module("reportlab.graphics.renderPDF").drawToString(drawing)
