"""How long a coach waits on the court: from letting go to the newest count and findings in sight.

A real server in a scratch folder and a browser without a window: on each of two demo plays dots
of lines are dragged by the mouse, and moved by the arrow keys and Enter. What counts is from the
pointer or the key to the first picture that shows the new count and findings; of that the network
is what the browser itself measured for the request and its redirect. CPU time of the server is
what another program cannot spoil; the load of the machine stands beside what the clock says. It
holds what is asked for while a hand rests, too: how sure each look is.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from statistics import quantiles
from typing import TYPE_CHECKING, Any, Final, TextIO

from coachbook.benchmarks.courtside import COOKIE, Hall, free_port

if TYPE_CHECKING:
    from playwright.sync_api import Page

PLAYS: Final = ("gangway", "fairway")
BY_MOUSE: Final = 6  # gestures on each play
BY_KEYS: Final = 3
FEW: Final = 3  # dots of each play, which stay on the court all the while
WARM: Final = 3  # the first ones load what a running server has loaded long ago
TARGET: Final = 300  # milliseconds
SIZE: Final = {"width": 1280, "height": 800}
PATIENCE: Final = 30_000  # milliseconds
BY: Final = 24  # pixels of a drag, farther than a named place pulls back what is let go near it

# From the end of a gesture to the next picture after the part with the count has been exchanged.
WATCH: Final = """() => {
  const state = { since: 0, seen: "", took: [] };
  window.courtTook = state;
  const began = () => {
    state.since = performance.now();
    state.seen = document.querySelector("#drawn").dataset.seen;
  };
  addEventListener("pointerup", began, true);
  addEventListener("keydown", (event) => { if (event.key === "Enter") began(); }, true);
  new MutationObserver(() => {
    const now = document.querySelector("#drawn");
    const there = now?.querySelector(".strip svg") && now.querySelector("#judged details");
    if (!state.since || !there || now.dataset.seen === state.seen) return;
    const { since } = state;
    state.since = 0;
    requestAnimationFrame(() => setTimeout(() => {
      const asked = performance.getEntriesByType("resource")
        .findLast(({ name, startTime }) => name.includes("/draw") && startTime >= since);
      state.took.push([performance.now() - since, asked?.duration ?? 0]);
      performance.clearResourceTimings();
    }));
  }).observe(document.body, { childList: true, subtree: true });
}"""
DOTS: Final = """() => {
  document.querySelector("#floor").scrollIntoView({ block: "center" });
  const court = document.querySelector("#floor").getBoundingClientRect();
  return [...document.querySelectorAll("#drawn .way circle")].map((each) => {
    const box = each.getBoundingClientRect();
    const x = box.left + box.width / 2;
    return [x, box.top + box.height / 2, Math.sign(court.left + court.width / 2 - x) || 1];
  });
}"""


class StuckError(Exception):
    """A gesture after which the court did not change; its words say what the page said."""


@dataclass
class DrawingHall(Hall):
    """A club with two published plays, and who may draw them."""

    def furnish(self) -> None:
        """Make the database, in a process of its own."""
        self.facts = json.loads(self.run("from coachbook.benchmarks.court import club; club()"))

    def cpu(self) -> float | None:
        """CPU seconds that the server has used so far; None where the system does not tell."""
        stat = Path(f"/proc/{self.process.pid if self.process else 0}/stat")
        if not stat.exists():
            return None
        fields = stat.read_text("ascii").rpartition(")")[2].split()
        return sum(map(int, fields[11:13])) / float(os.sysconf("SC_CLK_TCK"))


def club() -> None:
    """Build the club and print the session of a keeper. Runs in the hall's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_play  # noqa: PLC0415

    serving.prepare()
    factories.ClubFactory.create()
    for key in PLAYS:
        factories.published(demo_play(key))
    client = Client()
    user = factories.UserFactory.create(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    sys.stdout.write(json.dumps({"session": client.cookies[COOKIE].value}) + "\n")


def run(out: TextIO) -> None:
    """Measures and writes p50 and p95, in milliseconds; says so where there is no browser."""
    if not find_spec("playwright") or not shutil.which("chromium"):
        out.write("no browser to drive on this machine\n")
        return
    with tempfile.TemporaryDirectory(prefix="coachbook-court-") as folder:
        place = DrawingHall(Path(folder), free_port())
        place.furnish()
        place.start()
        try:
            found, cpu = measured(place)
        except StuckError as stuck:
            out.write(f"broken off: {stuck}\n")
            return
        finally:
            place.kill()
    out.write(f"{len(found)} gestures on {' and '.join(PLAYS)}, load {os.getloadavg()[0]:.1f}\n")
    waits, asked = zip(*found, strict=True)
    told(out, "hand to picture", waits)
    told(out, "of it network", asked)
    told(out, "of it browser", [whole - part for whole, part in found])
    if cpu is not None:
        out.write(f"CPU of the server {1000 * cpu / len(found):.0f} ms a gesture\n")
    late = sum(each > TARGET for each in waits)
    out.write(f"later than {TARGET} ms: {late}\n")


def told(out: TextIO, name: str, values: Any) -> None:
    cuts = quantiles(values, n=20)
    out.write(f"{name:18}p50 {cuts[9]:6.0f} ms   p95 {cuts[18]:6.0f} ms\n")


def measured(place: DrawingHall) -> tuple[list[tuple[float, float]], float | None]:
    """Milliseconds of every gesture, whole and on the network, and CPU seconds of the server."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only here is a browser needed

    found: list[tuple[float, float]] = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        context = browser.new_context(viewport=SIZE, reduced_motion="reduce")  # type: ignore[arg-type]
        context.set_default_timeout(PATIENCE)
        context.add_cookies([{"name": COOKIE, "value": place.facts["session"], "url": place.url}])
        spent: float | None = 0.0
        for key in PLAYS:
            page = context.new_page()
            page.goto(f"{place.url}/library/{key}/draw/")
            page.locator("input[name=do]:enabled").first.wait_for()
            page.evaluate(WATCH)
            for _ in range(WARM):
                dragged(page, 0)
            before = place.cpu()
            drawn = [dragged(page, n) for n in range(BY_MOUSE)] + [
                stepped(page, n) for n in range(BY_KEYS)
            ]
            after = place.cpu()
            known = spent is not None and before is not None and after is not None
            spent = spent + after - before if known else None  # type: ignore[operator]
            found += drawn
            page.close()
        browser.close()
    return found, spent


def dragged(page: Page, number: int) -> tuple[float, float]:
    """A dot of a line a few pixels towards the middle of the court by the mouse."""
    page.locator("input[name=do][value=way]").check()
    dots = page.evaluate(DOTS)
    x, y, inwards = dots[number % min(FEW, len(dots))]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + inwards * BY, y, steps=3)
    return _after(page, page.mouse.up)


def stepped(page: Page, number: int) -> tuple[float, float]:
    """A dot of a line a step to the side by the keys, and back with the next gesture."""
    page.locator("input[name=do][value=way]").check()
    page.locator("#drawn .way").first.focus()
    for key in (
        "Enter",
        *(("ArrowLeft", "ArrowUp") if number % 2 else ("ArrowRight", "ArrowDown")),
    ):
        page.keyboard.press(key)
    return _after(page, lambda: page.keyboard.press("Enter"))


def _after(page: Page, act: Any) -> tuple[float, float]:
    from playwright.sync_api import TimeoutError as NeverError  # noqa: PLC0415

    known = page.evaluate("courtTook.took.length")
    act()
    try:
        page.wait_for_function("(n) => courtTook.took.length > n", arg=known)
    except NeverError:
        said = page.locator("#said").text_content()
        raise StuckError(
            f"gesture {known + 1} at {page.url} changed nothing in {PATIENCE // 1000} s: {said}"
        ) from None
    took: list[float] = page.evaluate("courtTook.took.at(-1)")
    return took[0], took[1]
