"""Which sizes and faces of type the words of a page are set in, as the browser computes them."""

from __future__ import annotations

from typing import Any, Final

from playwright.sync_api import Page

# Our own choice (static/css/tokens.css): a title, a heading, what leads, the text, the small print.
SCALE: Final = {32, 22, 18, 16, 14}
FACES: Final = {"Coachbook Sans"}
# Read from the other end of the hall, it grows with the screen.
HALL_CLOCK: Final = ".now-left"
WIDTHS: Final = (360, 1280)

_SET = """([skipped]) => {
  const found = {};
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const seen = (e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const take = (e, said) => {
    const style = getComputedStyle(e);
    const face = style.fontFamily.split(",")[0].replaceAll('"', "");
    found[`${parseFloat(style.fontSize)} ${face}`] ??= said.trim().slice(0, 40);
  };
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    const away = e.closest(`svg, script, style, noscript, template, option, ${skipped}`);
    if (walk.currentNode.data.trim() && !away && seen(e)) take(e, walk.currentNode.data);
  }
  const wordless = "[type=hidden], [type=range], [type=checkbox], [type=radio]";
  for (const e of document.querySelectorAll(`input:not(${wordless}), select, textarea`))
    if (seen(e)) take(e, e.name);
  return found;
}"""


def set_in(page: Page) -> dict[str, str]:
    """Each "size face" of the words in sight, pixels first, with the first words set in it."""
    found: dict[str, Any] = page.evaluate(_SET, [HALL_CLOCK])
    return {key: str(said) for key, said in found.items()}


def off_scale(page: Page) -> dict[str, str]:
    """What is in no size of the scale, or in another face."""
    wrong = {}
    for key, said in set_in(page).items():
        size, _, face = key.partition(" ")
        if float(size) not in SCALE or face not in FACES:
            wrong[key] = said
    return wrong


def beside_scale(page: Page) -> list[str]:
    """The same on a phone and wide, each with where it stands."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        found += [f"{width} px: {key}, {said}" for key, said in off_scale(page).items()]
    return found
