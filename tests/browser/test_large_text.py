"""Text at twice its size on a phone, and colours that the system forces on a page.

WCAG 2.2, 1.4.4 Resize Text (200 %) and 1.4.10 Reflow (no scrolling in two directions); forced
colours as CSS Color Adjustment Level 1 defines them (backgrounds and shadows go, borders stay).
"""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, Opener
from tests.browser.test_pages import PAGES
from tests.cast import Cast
from tests.coachbook.test_access import address
from tests.phone import path, press_open

# A browser's text zoom is a larger size of the root's font.
DOUBLE = "document.documentElement.style.fontSize = '32px'"

# What sticks out of the screen, or holds text that its box cuts off sideways.
CUT = """() => {
  const wide = document.documentElement.clientWidth, found = [];
  if (document.documentElement.scrollWidth > wide) {
    found.push(`page ${document.documentElement.scrollWidth} > ${wide}`);
  }
  const scrolls = (each) => {
    for (let up = each; up; up = up.parentElement) {
      if (["auto", "scroll"].includes(getComputedStyle(up).overflowX)) return true;
    }
    return false;
  };
  for (const each of document.querySelectorAll("body *:not(svg *, script, option)")) {
    const box = each.getBoundingClientRect(), own = getComputedStyle(each);
    if (!box.width || box.right <= 0 || own.clipPath !== "none" || scrolls(each)) continue;
    const says = `${each.tagName} ${each.className} ${each.textContent.trim().slice(0, 30)}`;
    if (box.right > wide + 1) found.push(`out: ${says} ${box.right}`);
    const clips = own.overflowX === "hidden" || each.matches("button, a");
    if (clips && own.display !== "inline" && each.scrollWidth > each.clientWidth + 1) {
      found.push(`cut: ${says} ${each.scrollWidth} > ${each.clientWidth}`);
    }
  }
  return found;
}"""

# Words set in three lines or more, letter under letter, and text that lies over other text.
CROWDED = """() => {
  const found = [], boxes = [], range = document.createRange();
  const apart = (each) => {
    for (let up = each; up; up = up.parentElement) {
      const own = getComputedStyle(up);
      if (["fixed", "sticky"].includes(own.position) || own.clipPath !== "none") return true;
      if (["auto", "scroll"].includes(own.overflowY)) return true;
    }
    return false;
  };
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode, own = text.parentElement;
    if (!text.data.trim() || own.closest("svg, script, option, code, textarea, noscript")) continue;
    if (own.closest("[aria-hidden=true]")) continue;
    if (!own.checkVisibility({ visibilityProperty: true }) || apart(own)) continue;
    for (const word of text.data.matchAll(/[^\\s·/-]{3,20}/g)) {
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const tops = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
      if (tops.size > 2) found.push(`letter under letter: ${word[0]}`);
    }
    range.selectNodeContents(text);
    boxes.push(...[...range.getClientRects()].map((box) => [box, text.data.trim()]));
  }
  const shared = (a, b) => [
    Math.min(a.right, b.right) - Math.max(a.left, b.left),
    Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top),
  ];
  boxes.forEach(([one, said], at) => {
    for (const [other, told] of boxes.slice(at + 1)) {
      const [across, down] = shared(one, other);
      if (across > 3 && down > 0.45 * Math.min(one.height, other.height)) {
        found.push(`one over the other: ${said.slice(0, 20)}, ${told.slice(0, 20)}`);
      }
    }
  });
  return found;
}"""

OWN = ("my-plays", "my-play", "my-moving", "my-reading", "my-quiz")
CHUNKS = 4
STAFF = ("team", "log", "the-five", "understood", "print", "player-data")


def shown(name: str, opened: Opener, cast: Cast, **more: object) -> Page:
    """A page by its route's name, to a player or to the head coach, on a phone."""
    if name in OWN:
        first = path(cast.players[4])
        page = press_open(opened(first, size=PHONE, **more))
        part = f"{first}{cast.entry.pk}/5/"
        ways = {"my-moving": f"{part}moving/", "my-quiz": f"{part}quiz/"}
        ways |= {"my-plays": first, "my-play": part, "my-reading": f"{first}reading/"}
        page.goto(ways[name])
        if name == "my-moving":
            page.get_by_role("button", name="Watch it").wait_for()
        return page
    subject = {"log": cast.practice.pk, "player-data": cast.players[4].pk}.get(name, cast.team.pk)
    page = opened(reverse(name, args=[subject]), cast.head, PHONE, **more)
    if name == "log":
        page.wait_for_selector(".log-mode")
    return page


@pytest.mark.parametrize("name", [*OWN, *STAFF])
def test_text_at_twice_its_size_stays_on_the_screen(name: str, opened: Opener, cast: Cast) -> None:
    page = shown(name, opened, cast)
    page.evaluate(DOUBLE)
    faults = page.evaluate(CUT)
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_page_is_cut_off_at_twice_the_size(chunk: int, opened: Opener, cast: Cast) -> None:
    page, found = opened(reverse("help"), cast.runner, PHONE), {}
    for name in PAGES[chunk::CHUNKS]:
        if name not in OWN:  # they are opened by a link, above
            page.goto(address(name, cast))
            page.evaluate(DOUBLE)
            if faults := [*page.evaluate(CUT), *page.evaluate(CROWDED)]:
                found[name] = faults[:4]
    assert found == {}


# Words of calls and buttons that go over more than one line.
BROKEN = """() => {
  const found = [], range = document.createRange();
  for (const each of document.querySelectorAll(".said strong, button.main")) {
    const words = document.createTreeWalker(each, NodeFilter.SHOW_TEXT);
    while (words.nextNode()) {
      for (const word of words.currentNode.data.matchAll(/\\S+/g)) {
        range.setStart(words.currentNode, word.index);
        range.setEnd(words.currentNode, word.index + word[0].length);
        const tops = new Set([...range.getClientRects()].map((box) => box.top));
        if (tops.size > 1) found.push(word[0]);
      }
    }
  }
  return found;
}"""


@pytest.mark.parametrize("name", ["my-plays", "my-moving"])
def test_no_word_of_a_call_or_button_is_cut_in_two(name: str, opened: Opener, cast: Cast) -> None:
    page = shown(name, opened, cast)
    page.goto(f"{page.url}?in=es")  # has the longer words
    page.locator(".said strong, .stage[data-ready=yes] button.main").first.wait_for()
    page.evaluate(DOUBLE)
    assert page.evaluate(BROKEN) == []


def test_what_sends_an_answer_has_an_edge_where_colours_are_forced(
    opened: Opener, cast: Cast
) -> None:
    page = shown("my-quiz", opened, cast, forced_colors="active")
    style = page.locator(".confirm button").evaluate("each => getComputedStyle(each).borderStyle")
    assert style == "solid"


# How an element looks to the eye where colours are forced, focus left out.
LOOK = """each => {
  const own = getComputedStyle(each);
  return [own.color, own.backgroundColor, own.border, own.textDecorationLine].join();
}"""


@pytest.mark.parametrize(
    ("name", "chosen", "other"),
    [
        ("log", ".log-mode[aria-pressed=true]", ".log-mode[aria-pressed=false]"),
        ("the-five", "input:checked + .pick-face", "input:not(:checked, :disabled) + .pick-face"),
        ("understood", ".team-nav a[aria-current]", ".team-nav a:not([aria-current])"),
    ],
)
def test_what_is_chosen_shows_where_colours_are_forced(
    name: str, chosen: str, other: str, opened: Opener, cast: Cast
) -> None:
    page = shown(name, opened, cast, forced_colors="active")
    assert page.evaluate("matchMedia('(forced-colors: active)').matches")
    if name == "the-five":
        page.locator(".pick input:enabled").first.check()
    # What is named by the team is hidden on a phone; only what is seen counts.
    looks = [page.locator(f"{each}:visible").first.evaluate(LOOK) for each in (chosen, other)]
    assert looks[0] != looks[1]
