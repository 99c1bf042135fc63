"""The three formats against each other, drawn by programs that are not ours.

The SVG is drawn by Chromium and the PDF by poppler, at two pixels a point; both are compared
with the PNG. Edges are smoothed differently and Chromium kerns, so pictures are blurred by
1.5 pixels first; then the mean difference stays under 1 of 255 and no more than 5 in ten
thousand pixels differ by more than 48. A person ten points off breaks that bound.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageFilter

from plays.core.drawing.inks import Scheme
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from shared.core.drawing.fonts import font_file
from shared.core.drawing.pdf import write_pdf
from shared.core.drawing.picture import Picture, shifted
from shared.core.drawing.png import write_png
from shared.core.drawing.svg import svg_text, write_svg
from tests.machine import needs
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, MILLWHEEL, NAMES
from tests.shared.core.drawing.shapes import parts

SAMPLES = [
    (GATEHOUSE, "gate", "light"),
    (MILLWHEEL, "handoff", "dark"),
    (GATEHOUSE, "finish", "print"),
]
MEAN, FAR, FAR_SHARE = 1.1, 48, 0.0005


def sample(key: int) -> Picture:
    play, phase, scheme = SAMPLES[key]
    wished: Scheme = scheme  # type: ignore[assignment]  # the samples name schemes
    drawing = Drawing(emphasis="2", names=NAMES, label="both", defenders=True, scheme=wished)
    return diagram(play, phase, drawing)


def png(picture: Picture) -> Image.Image:
    out = BytesIO()
    write_png(picture, out, scale=2)
    return Image.open(BytesIO(out.getvalue())).convert("RGB")


def by_poppler(picture: Picture, folder: Path) -> Image.Image:
    out = BytesIO()
    write_pdf(picture, out)
    (folder / "page.pdf").write_bytes(out.getvalue())
    subprocess.run(
        ["pdftoppm", "-r", "144", "-png", "page.pdf", "page"], cwd=folder, check=True, timeout=60
    )
    return Image.open(next(folder.glob("page*.png"))).convert("RGB")


def by_chromium(picture: Picture, folder: Path) -> Image.Image:
    """Chromium's own drawing, in the product's typeface."""
    faces = "".join(
        f"@font-face {{ font-family: Inter; font-weight: {weight};"
        f' src: url("{font_file(bold=weight == 700).as_uri()}"); }}'
        for weight in (400, 700)
    )
    return photographed(f"<style>{faces}</style>{svg_text(picture)}", picture, folder)


def as_an_image(picture: Picture, folder: Path) -> Image.Image:
    """Chromium's drawing of the saved file, which knows no page's typeface but its own."""
    with (folder / "saved.svg").open("wb") as out:
        write_svg(picture, out)
    return photographed('<img src="saved.svg">', picture, folder)


def photographed(body: str, picture: Picture, folder: Path) -> Image.Image:
    style = "<style>body { margin: 0 } svg, img { display: block }</style>"
    page = f"<!doctype html><meta charset=utf-8>{style}{body}"
    (folder / "page.html").write_text(page, encoding="utf-8")
    width, height = int(picture.width), int(picture.height)
    subprocess.run(
        [
            "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
            "--disable-background-networking", "--hide-scrollbars", "--force-device-scale-factor=2",
            f"--user-data-dir={folder / 'profile'}", f"--window-size={width},{height + 200}",
            "--allow-file-access-from-files", "--virtual-time-budget=2000",
            f"--screenshot={folder / 'page.png'}", (folder / "page.html").as_uri(),
        ],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    shot = Image.open(folder / "page.png").convert("RGB")
    return shot.crop((0, 0, 2 * width, 2 * height))


def difference(one: Image.Image, other: Image.Image) -> tuple[float, float]:
    """Mean difference of the blurred pictures, and the share of pixels that differ much."""
    assert abs(one.width - other.width) <= 2
    assert abs(one.height - other.height) <= 2
    size = min(one.width, other.width), min(one.height, other.height)
    blurred = [
        image.crop((0, 0, *size)).convert("L").filter(ImageFilter.GaussianBlur(1.5))
        for image in (one, other)
    ]
    counts = ImageChops.difference(*blurred).histogram()
    total = sum(counts)
    mean = sum(value * count for value, count in enumerate(counts)) / total
    return mean, sum(counts[FAR:]) / total


Drawer = Callable[[Picture, Path], Image.Image]


@pytest.mark.parametrize("key", range(len(SAMPLES)))
@pytest.mark.parametrize(
    "drawer",
    [
        pytest.param(by_poppler, marks=needs("poppler")),
        pytest.param(by_chromium, marks=[pytest.mark.browser, needs("chromium")]),
        pytest.param(as_an_image, marks=[pytest.mark.browser, needs("chromium")]),
    ],
)
def test_other_programs_draw_the_same_picture(drawer: Drawer, key: int, tmp_path: Path) -> None:
    picture = sample(key)
    mean, far = difference(png(picture), drawer(picture, tmp_path))
    assert mean < MEAN
    assert far < FAR_SHARE


def test_the_measure_sees_a_person_who_stands_elsewhere() -> None:
    """One of five people ten points, half a metre, off is enough to fail."""
    picture = sample(0)
    person = parts(picture, "person")[2]
    others = tuple(shape for shape in picture.shapes if shape is not person)
    moved = replace(picture, shapes=(*others, shifted(person, 0, 10)))
    _, far = difference(png(picture), png(moved))
    assert far > 2 * FAR_SHARE
