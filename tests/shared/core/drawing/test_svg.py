"""SVG read back by the standard library's parser."""

from __future__ import annotations

from io import BytesIO
from xml.etree import ElementTree as ET

from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Picture, Shape, Text, lines
from shared.core.drawing.svg import number, svg_text, write_svg

NS = "{http://www.w3.org/2000/svg}"
INKS = {"ink": "#1c1b19", "paper": "#faf8f3"}
LINE = Paint(stroke="ink", width=1.5, dash=(4, 3))


def picture(*shapes: Shape, by_class: bool = False) -> Picture:
    return Picture(90, 60, shapes, "Gate <1>", 'Ida & "Runa"', INKS, by_class, "es")


def parsed(drawn: Picture, prefix: str = "p") -> ET.Element:
    return ET.fromstring(svg_text(drawn, prefix=prefix))


def test_it_names_itself_for_a_screen_reader() -> None:
    root = parsed(picture(), prefix="gate-1")
    assert root.get("role") == "img"
    assert root.get("lang") == "es"
    assert root.get("aria-labelledby") == "gate-1-title gate-1-description"
    title, description = root[0], root[1]
    assert (title.tag, title.get("id"), title.text) == (f"{NS}title", "gate-1-title", "Gate <1>")
    assert (description.get("id"), description.text) == ("gate-1-description", 'Ida & "Runa"')


def test_every_id_begins_with_the_prefix() -> None:
    text = svg_text(picture(Group((Circle((1, 2), 3, LINE),), clip=(0, 0, 5, 5))), prefix="zz")
    ids = [element.get("id") for element in ET.fromstring(text).iter() if element.get("id")]
    assert ids == ["zz-title", "zz-description"]


def test_shapes_come_back_as_they_were() -> None:
    circle = Circle((10, 20), 3, Paint(stroke="ink", fill="paper", width=2))
    path = Path((*lines((0, 0), (5, 5)), ("C", (6, 6), (7, 5), (8, 4.256))), LINE)
    box = Box((1, 2), 30, 10, Paint(fill="paper"), corner=2)
    root = parsed(picture(circle, path, box))
    found = root.find(f"{NS}circle")
    assert found is not None
    assert [found.get(key) for key in ("cx", "cy", "r", "stroke-width")] == ["10", "20", "3", "2"]
    assert (found.get("stroke"), found.get("fill")) == ("#1c1b19", "#faf8f3")
    drawn = root.find(f"{NS}path")
    assert drawn is not None
    assert drawn.get("d") == "M0 0L5 5C6 6 7 5 8 4.26"
    assert drawn.get("stroke-dasharray") == "4 3"
    rect = root.find(f"{NS}rect")
    assert rect is not None
    assert (rect.get("width"), rect.get("rx"), rect.get("stroke")) == ("30", "2", None)


def test_text_stays_text_and_is_escaped() -> None:
    root = parsed(picture(Text((5, 6), "<Łucja & Zoë>", 10, "ink", bold=True, anchor="middle")))
    text = root.find(f"{NS}text")
    assert text is not None
    assert text.text == "<Łucja & Zoë>"
    assert (text.get("text-anchor"), text.get("font-weight")) == ("middle", "700")


def test_neighbours_of_one_paint_share_it() -> None:
    root = parsed(picture(*(Circle((x, 5), 2, LINE) for x in (1, 9, 17))))
    group = root.find(f"{NS}g")
    assert group is not None
    assert group.get("stroke") == "#1c1b19"
    assert [circle.get("cx") for circle in group] == ["1", "9", "17"]
    assert all(circle.get("stroke") is None for circle in group)


def test_classes_come_beside_colours_that_a_style_sheet_overrules() -> None:
    root = parsed(picture(Circle((1, 2), 3, LINE), Text((1, 1), "5", 9, "paper"), by_class=True))
    assert root.get("class") == "dg"
    circle, text = root.find(f"{NS}circle"), root.find(f"{NS}text")
    assert circle is not None
    assert (circle.get("class"), circle.get("stroke")) == ("dg-s-ink", "#1c1b19")
    assert text is not None
    assert text.get("class") == "dg-f-paper"


def test_lean_it_shows_the_same_and_leaves_to_the_page_what_the_page_knows() -> None:
    circle = Circle((10.26, 20), 3, Paint(stroke="ink", fill="paper"))
    text = Text((5, 6), "5", 10, "ink")
    kept = Group((circle,), (("role", "5"),), clip=(0, 0, 5, 5))
    drawn = picture(Group((circle, text), (("role", "5"),)), kept, by_class=True)
    lean = svg_text(drawn, prefix="p", lean=True)
    assert "data-" not in lean
    assert "#" not in lean
    assert "font-family" not in lean
    root = ET.fromstring(lean)
    shapes = [each.tag.removeprefix(NS) for each in root]
    assert shapes == ["title", "desc", "circle", "text", "svg"]
    assert (root[2].get("class"), root[2].get("cx")) == ("dg-s-ink dg-f-paper", "10.3")
    assert len(root[4]) == 1
    coloured = svg_text(picture(circle), prefix="p", lean=True)
    assert 'fill="#faf8f3"' in coloured  # without classes nothing else would say it


def test_it_stands_under_a_strict_content_security_policy() -> None:
    shapes = (Circle((1, 2), 3, LINE), Text((1, 1), "5", 9, "ink"), Box((0, 0), 1, 1, LINE))
    for element in parsed(picture(*shapes, by_class=True)).iter():
        assert element.tag not in (f"{NS}style", f"{NS}script")
        assert not any(name == "style" or name.startswith("on") for name in element.attrib)


def test_a_clipped_group_is_an_inner_window() -> None:
    root = parsed(picture(Group((Circle((1, 2), 3, LINE),), (("role", "5"),), (5, 6, 20, 10))))
    inner = root.find(f"{NS}svg")
    assert inner is not None
    assert inner.get("viewBox") == "5 6 20 10"
    assert inner.get("data-role") == "5"


def test_numbers_are_short() -> None:
    assert [number(value) for value in (1.0, 0.125, -0.001, 10.10, 100.0)] == [
        "1", "0.12", "0", "10.1", "100",
    ]  # fmt: skip


def test_a_file_is_utf8_with_a_header() -> None:
    out = BytesIO()
    write_svg(picture(Text((1, 1), "Ł", 9, "ink")), out)
    assert out.getvalue().startswith(b'<?xml version="1.0" encoding="UTF-8"?>\n<svg')
    assert "Ł".encode() in out.getvalue()


def test_a_bar_ends_square_and_a_run_ends_round() -> None:
    """SVG 2, 13.5.4: the cap is inherited; only what is not round says another."""
    bar = Path(lines((0, 0), (5, 0)), Paint(stroke="ink", round=False))
    run = Path(lines((0, 5), (5, 5)), Paint(stroke="ink", round=True))
    square, rounded = parsed(picture(bar, run)).iter(f"{NS}path")
    assert (square.get("stroke-linecap"), square.get("stroke-linejoin")) == ("butt", "miter")
    assert (rounded.get("stroke-linecap"), rounded.get("stroke-linejoin")) == (None, None)


def test_a_file_stands_alone_and_its_ids_begin_as_asked() -> None:
    out = BytesIO()
    write_svg(picture(Circle((1, 2), 3, LINE)), out, prefix="gate")
    data = out.getvalue()
    assert data.startswith(b'<?xml version="1.0" encoding="UTF-8"?>\n<svg ')
    assert data.endswith(b"</svg>\n")
    plain = BytesIO()
    write_svg(picture(), plain)
    assert ET.fromstring(plain.getvalue())[0].get("id") == "picture-title"
    assert ET.fromstring(data)[0].get("id") == "gate-title"


def test_a_lean_drawing_has_no_groups_but_those_that_cut_off_and_keeps_its_order() -> None:
    dots = [Circle((n + 0.04, 5), 2, LINE) for n in range(5)]
    inner = Group((dots[1], Group((dots[2],), (("role", "1"),))), (("part", "a"),))
    window = Group((Group((dots[3],)),), (("part", "b"),), (0.25, 0, 9, 9))
    lean = ET.fromstring(svg_text(picture(dots[0], inner, window, dots[4]), prefix="p", lean=True))
    assert [each.get("cx") for each in lean.iter(f"{NS}circle")] == ["0", "1", "2", "3", "4"]
    assert "data-" not in svg_text(picture(dots[0], inner, window), lean=True)
    full = ET.fromstring(svg_text(picture(dots[0], inner, window, dots[4]), prefix="p"))
    assert [each.get("data-role") for each in full.iter() if each.get("data-role")] == ["1"]
    assert next(each.get("cx") for each in full.iter(f"{NS}circle")) == "0.04"


def test_a_lean_drawing_with_classes_leaves_the_colours_to_the_style_sheet() -> None:
    by_class = picture(Circle((1, 2), 3, LINE), by_class=True)
    assert "#1c1b19" not in svg_text(by_class, lean=True)
    assert "#1c1b19" in svg_text(by_class)
    assert "#1c1b19" in svg_text(picture(Circle((1, 2), 3, LINE)), lean=True)
