"""What axe-core finds on a page at three widths, light and dark, and whether it scrolls sideways.

axe-core's rules follow WCAG 2.2 (levels A and AA); its version comes with
axe-playwright-python. 320 px is WCAG 2.2, 1.4.10 Reflow.
"""

from __future__ import annotations

import json
from typing import Any, Final

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

TAGS: Final = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# The scheme changes colours and nothing else (`test_the_scheme_changes_colours_alone`), so that
# in the dark the rules that measure colours say all there is to say.
OF_COLOURS: Final = {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}
# Below 360 px a page has less on it and nothing more (`test_a_narrower_phone_has_no_more_on_it`):
# there the rules are left that measure where things stand.
OF_PLACES: Final = {
    "type": "rule",
    "values": ["color-contrast", "target-size", "scrollable-region-focusable"],
}
SCHEMES: Final = {"light": TAGS, "dark": OF_COLOURS}
RULES: Final[dict[int, dict[str, object]]] = {
    320: {"light": OF_PLACES},
    360: dict(SCHEMES),
    1280: dict(SCHEMES),
}

# Style sheets and films are fetched once more for two rules alone, of which one is an experiment
# that no tag asks for, and the other is of sound, which no page has; nobody reads the selectors.
PLAINLY: Final = {"preload": False, "selectors": False}


def assert_no_fault(page: Page, what: str) -> None:
    """Nothing that axe knows, in both schemes and at every width: each rule where it may differ."""
    assert faults_of(page) == [], what


def faults_of(page: Page) -> list[str]:
    """What axe finds, in both schemes and at every width, and where the page scrolls sideways."""
    found = []
    # Without motion: half way through a change of colour no contrast can be told.
    page.emulate_media(reduced_motion="reduce")
    page.evaluate(Axe().axe_script)
    for width, schemes in RULES.items():
        page.set_viewport_size({"width": width, "height": 740})
        for scheme, rules in schemes.items():
            page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
            found += [f"{scheme} {width}: {said}" for said in faults(page, rules)]
        if sideways(page):
            found.append(f"scrolls sideways at {width}")
    return found


def faults(page: Page, rules: object) -> list[str]:
    """Each fault, by its rule and the first element that has it; axe has to be in the page."""
    options = json.dumps({"runOnly": rules, "resultTypes": ["violations"], **PLAINLY})
    found: list[dict[str, Any]] = page.evaluate(
        f"axe.run({options}).then(({{violations}}) => "
        "violations.map(({id, nodes}) => ({id, html: nodes[0].html})))"
    )
    return [f"{each['id']}: {each['html'][:120]}" for each in found]


def sideways(page: Page) -> bool:
    return bool(
        page.evaluate(
            "() => document.documentElement.scrollWidth > document.documentElement.clientWidth"
        )
    )
