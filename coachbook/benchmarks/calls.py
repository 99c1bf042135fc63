"""How long a coach waits in a time-out: on the call sheet, in a hall without a signal.

A real server in a scratch folder, twelve players and forty plays, and a browser of a phone's size
whose processor is slowed down fourfold. Once everything is kept the server is ended; then players
come on, plays are opened, and the sheet itself is opened anew. What counts is from the tap to the
first picture that shows the answer, as the browser's own clock has it.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path
from statistics import quantiles
from typing import TYPE_CHECKING, Any, Final, TextIO

from coachbook.benchmarks.courtside import COOKIE, Hall, free_port

if TYPE_CHECKING:
    from playwright.sync_api import Page

PLAYERS: Final = 12
PLAYS: Final = 40
TIMES: Final = 20  # of each kind
TARGET: Final = 100  # milliseconds
SLOWER: Final = 4  # than this machine: a phone of a few years ago
SIZE: Final = {"width": 360, "height": 740}
PATIENCE: Final = 120_000  # milliseconds

KEPT: Final = "() => !document.querySelector('[data-calls=state]').hidden"
# A tap by script, and the time until the browser has painted what it changed.
TAPPED: Final = """([selector, at, sign]) => new Promise((done) => {
  const began = performance.now();
  document.querySelectorAll(selector)[at].click();
  const look = () => document.querySelector(sign)
    ? requestAnimationFrame(() => setTimeout(() => done(performance.now() - began)))
    : setTimeout(look, 1);
  look();
})"""
OPENED: Final = """() => new Promise((done) => {
  const look = () => document.querySelector(".calls-line")
    ? requestAnimationFrame(() => setTimeout(() => done(performance.now()))) : setTimeout(look, 1);
  look();
})"""


@dataclass
class GameHall(Hall):
    """A club whose team has a game today and a long package."""

    def furnish(self) -> None:
        """Make the database, in a process of its own."""
        self.facts = json.loads(self.run("from coachbook.benchmarks.calls import club; club()"))


def club() -> None:
    """Build the club and print what a phone needs to know. Runs in the hall's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_plays  # noqa: PLC0415

    serving.prepare()
    factories.ClubFactory.create()
    team = factories.TeamFactory.create()
    players = [factories.PlayerFactory.create(team=team) for _ in range(PLAYERS)]
    values = list(demo_plays())
    for n in range(PLAYS):
        value = replace(values[n % len(values)], key=f"play-{n}", name=f"Play {n}")
        entry = factories.PackagePlayFactory.create(
            team=team, play=factories.published(value), call=f"Call {n}"
        )
        for role in range(5):
            for depth in (1, 2, 3):
                who = players[(role + 5 * (depth - 1) + n * (depth > 1)) % PLAYERS]
                if depth == 1 or who.pk not in {
                    c.player_id for c in entry.castings.filter(role=role + 1)
                }:
                    factories.CastingFactory.create(
                        entry=entry, role=str(role + 1), depth=depth, player=who
                    )
    game = factories.GameFactory.create(team=team)
    client = Client()
    user = factories.UserFactory.create(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    facts = {"session": client.cookies[COOKIE].value, "game": game.pk}
    sys.stdout.write(json.dumps(facts) + "\n")


def run(out: TextIO) -> None:
    """Measures and writes p50 and p95, in milliseconds; says so where there is no browser."""
    if not find_spec("playwright") or not shutil.which("chromium"):
        out.write("no browser to drive on this machine\n")
        return
    with tempfile.TemporaryDirectory(prefix="coachbook-calls-") as folder:
        place = GameHall(Path(folder), free_port())
        place.furnish()
        place.start()
        try:
            found = measured(place)
        finally:
            place.kill()
    load = os.getloadavg()[0]
    out.write(f"{PLAYS} plays, {PLAYERS} players, processor {SLOWER}x slower, load {load:.1f}\n")
    for name, waits in found.items():
        cuts = quantiles(waits, n=20)
        late = sum(each > TARGET for each in waits)
        out.write(
            f"{name:26}p50 {cuts[9]:4.0f} ms   p95 {cuts[18]:4.0f} ms   "
            f"later than {TARGET} ms: {late} of {len(waits)}\n"
        )


def measured(place: GameHall) -> dict[str, list[float]]:
    """Milliseconds of everything that a coach taps once the server has gone."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only here is a browser needed

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        context = browser.new_context(viewport=SIZE)  # type: ignore[arg-type]
        context.set_default_timeout(PATIENCE)
        context.add_cookies([{"name": COOKIE, "value": place.facts["session"], "url": place.url}])
        page = context.new_page()
        page.goto(f"{place.url}/court/games/{place.facts['game']}/calls/")
        page.wait_for_function(KEPT)
        place.kill()
        slow = context.new_cdp_session(page)
        slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        found = {
            "a play's board": [board(page, n) for n in range(TIMES)],
            "the sheet opened anew": [anew(page) for _ in range(TIMES)],
            "somebody comes on": [swapped(page, n) for n in range(TIMES)],
        }
        browser.close()
    return found


def swapped(page: Page, number: int) -> float:
    """One of the five goes off and another comes on: from the second tap to the new sheet."""
    page.locator(".game-person").nth(number % 5).click()
    at = number % page.locator(".log-person").count()
    took: float = page.evaluate(TAPPED, [".log-person", at, "[data-calls=sheet]:not([hidden])"])
    return took


def board(page: Page, number: int) -> float:
    at = number % page.locator(".calls-line").count()
    took: float = page.evaluate(TAPPED, [".calls-line", at, "[data-calls=floor-of] svg"])
    page.go_back()
    page.locator(".calls-line").first.wait_for()
    return took


def anew(page: Page) -> float:
    """The page from nothing, out of what the phone keeps: from the start of the navigation."""
    page.reload(wait_until="commit")
    took: Any = page.evaluate(OPENED)
    return float(took)
