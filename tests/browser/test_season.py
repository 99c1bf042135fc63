"""Three months of a season on a coach's phone: what is pressed, and what the pages then say.

The events are pressed in a real browser, on a clock that moves for the server and for the phone.
The practices between them are filled through the same views by a client without a browser
(``SeasonPlayed``), which counts every rep by hand: what the pages say is held to that count.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, time, timedelta
from typing import Final

import pytest
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect
from pytest_django.live_server_helper import LiveServer

from practice.bridge import moment
from roster.models import PackagePlay, Player, Team
from tests.browser.conftest import PHONE, Opener, sign_in
from tests.browser.test_courtside import tap
from tests.cast import Cast
from tests.practice.season.played import FIRST_DAY, Clock, SeasonPlayed

WEEKS: Final = 12
SQUAD: Final = 13
NOON: Final = time(12)
WEEK: Final = timedelta(days=7)


class Phone:
    """The head coach's phone, signed in as on the day that the clock says."""

    def __init__(self, page: Page, played: SeasonPlayed, server: str) -> None:
        self.page, self.played, self.server = page, played, server
        self.ill: Player | None = None

    @property
    def team(self) -> Team:
        return self.played.team

    def at(self, day: date, hour: time = NOON) -> None:
        """Another moment, for the server and for the phone; a sitting does not last for weeks."""
        self.played.clock.now = moment(day, hour)
        self.page.clock.set_fixed_time(self.played.clock.now)
        sign_in(self.page.context, self.server, self.played.cast.head)

    def goes(self, name: str, *args: object) -> None:
        self.page.goto(reverse(name, args=args or [self.team.pk]))

    def press(self, words: str, kind: str = "link") -> None:
        """What is in sight on the page under these words."""
        quoted = re.escape(words).replace("/", r"\/")  # as the browser reads it
        named = re.compile(rf"^\W*{quoted}\W*$")
        found = self.page.locator("main").get_by_role(kind, name=named)  # type: ignore[arg-type]
        found.locator("visible=true").first.click()
        self.page.wait_for_load_state()

    def unfolds(self, words: str) -> None:
        self.page.locator("main summary", has_text=words).locator("visible=true").first.click()

    def fills(self, form: Locator, **values: str) -> None:
        for name, value in values.items():
            field = form.locator(f"[name={name}]")
            if field.evaluate("field => field.tagName") == "SELECT":
                field.select_option(label=value)
            else:
                field.fill(value)

    def line(self, words: str) -> str:
        """The list's row or the paragraph in sight that says this, as it is read."""
        found = self.page.locator("main :is(li, p, summary)", has_text=words)
        return " ".join(found.locator("visible=true").last.inner_text().split())

    def reads(self, *sentences: str) -> None:
        said = " ".join(self.page.locator("main").inner_text().split())
        missing = [each for each in sentences if each not in said]
        assert missing == [], said

    def reads_nothing_of(self, *words: str) -> None:
        """Not even behind a fold."""
        said = self.page.locator("main").text_content() or ""
        assert [each for each in words if each in said] == []

    def opens_today(self) -> None:
        self.goes("team")

    def expects(self, here: int, of: int) -> None:
        self.reads(f"{here} of {of} players expected")


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    return Clock(monkeypatch)


@pytest.fixture
def phone(cast: Cast, clock: Clock, opened: Opener, live_server: LiveServer) -> Phone:
    page = opened(reverse("sign-in"), size=PHONE, has_touch=True, is_mobile=True)
    return Phone(page, SeasonPlayed(cast, clock, WEEKS), live_server.url)


def monday(week: int) -> date:
    return FIRST_DAY + week * WEEK


def test_three_months_of_a_season(phone: Phone) -> None:
    """Each event in its week, before that week's practices are filled, and what is then read."""
    played = phone.played
    played.begins()
    for week in range(WEEKS):
        phone.at(monday(week), time(9))
        for event in EVENTS.get(week, ()):
            event(phone, monday(week))
        days = (monday(week), monday(week) + timedelta(days=6))
        for practice in played.team.practices.filter(date__range=days, cancelled=False):
            if practice.date not in played.runs:
                played.practises(practice)
    phone.at(monday(WEEKS) - timedelta(days=1))
    played.holds()
    reads_week_by_week(phone)
    begins_the_next_season(phone)


def logs_a_practice(phone: Phone, day: date) -> None:
    """Planned at noon, run in the evening, told the next day."""
    played, page = phone.played, phone.page
    practice = played.team.practices.get(date=day)
    entry = played.carried()[0]
    phone.at(day)
    phone.opens_today()
    phone.reads("Today, 18:00", "No plan yet.")
    phone.expects(SQUAD, SQUAD)
    phone.press("Plan it")
    form = page.locator(f"form[action='{reverse('add-block', args=[practice.pk])}']")
    phone.fills(form, kind="Install", minutes="20", entry=entry.spoken(), mode="Half speed")
    form.get_by_role("button", name="Save", exact=True).click()
    phone.at(day, time(18, 20))
    phone.opens_today()
    phone.reads(f"{entry.spoken()} · Half speed")
    phone.press("Log reps")
    people = page.locator("[data-log=five] button")
    expect(people).to_have_count(5)
    five = the_five(people.all_inner_texts(), played.team)
    for _ in range(4):
        tap(page, "Clean")
    tap(page, "Error")
    page.locator("[data-log=erred] button").nth(2).tap()
    tap(page, "Too early")
    expect(page.locator("[data-log=state]")).to_have_text("All logged")
    expect(page.locator("[data-log=clean-count]")).to_have_text("4 of 5 clean")
    played.counts(practice, entry, five, [True] * 4 + [False])
    phone.at(day + timedelta(days=1))
    phone.opens_today()
    phone.reads("5 runs, 4 clean")
    phone.unfolds("Who erred, who missed what")
    phone.reads(f"{Player.objects.get(pk=five['3']).name} too early once")
    phone.press(f"{day:%A} {day.day} {day:%B}")
    phone.reads("What happened 5 runs, 4 clean", f"{entry.spoken()} 5 runs, 4 clean Half speed 5")


def the_five(said: list[str], team: Team) -> dict[str, int]:
    """Who is in which role by what the log says of them."""
    squad = {who.name: who.pk for who in team.players.present()}
    found = {}
    for role, text in enumerate(said, start=1):
        (name,) = [each for each in squad if re.search(rf"\b{each}\b", text)]
        found[str(role)] = squad[name]
    return found


def plans_for_a_game(phone: Phone, day: date) -> None:
    """Entered, planned for, accepted: and the practice of that evening says what is run."""
    played, page = phone.played, phone.page
    game_day = day + timedelta(days=12)
    phone.opens_today()
    phone.press("Enter a game")
    form = page.locator("main form").first
    phone.fills(form, date=f"{game_day}", start="15:00", opponent=f"Millbrook {day.day}")
    phone.press("Save", "button")
    left = played.team.practices.filter(date__range=(day, game_day), cancelled=False).count()
    plays = len(played.carried())
    phone.opens_today()
    phone.reads(f"Game against Millbrook {day.day}", f"In 12 days, {left} practices before it")
    ready = ready_by_then(phone, plays)
    phone.goes("readiness")
    row = page.locator("section", has_text="Due before Millbrook").first
    due = row.locator("li > details > summary > strong").all_inner_texts()
    assert plays - len(due) == ready
    phone.opens_today()
    phone.press("Plan the practices before it")
    phone.press("Propose a plan", "button")
    phone.press("Accept into the practice plans", "button")
    phone.reads("Accepted")
    planned = played.team.practices.get(date=day).blocks.exclude(entry=None)
    assert planned, "something is to be learnt in the first practice"
    phone.opens_today()
    phone.reads(*(block.entry.spoken() for block in planned if block.entry))


def ready_by_then(phone: Phone, plays: int) -> int:
    said = phone.line("ready by then, if nothing more is run")
    found = re.match(rf"(\d+) of {plays} plays ready by then", said)
    assert found, said
    return int(found[1])


def falls_ill(phone: Phone, _day: date) -> None:
    """Out on the roster: out tonight, out of the five, and who steps in is said on every page."""
    page, entry = phone.page, phone.played.carried()[0]
    ill, second = (entry.castings.get(role="2", depth=depth).player for depth in (1, 2))
    phone.ill = ill
    phone.goes("roster")
    phone.unfolds(ill.name)
    phone.press("Out until cleared", "button")
    phone.opens_today()
    phone.expects(SQUAD - 1, SQUAD)
    assert re.fullmatch(rf"{re.escape(str(ill))} .*Out until cleared", phone.line(f"{ill}"))
    phone.reads("this app does not decide a return to play")
    phone.goes("cast")
    row = page.locator(".row-fold", has_text=entry.spoken()).first
    assert re.search(rf"\b{ill.name} {second.name}\b", " ".join(row.inner_text().split()))
    phone.goes("sheet", second.pk)
    phone.unfolds(entry.spoken())
    phone.reads(f"For now you are first here, in place of {ill.name}.")
    phone.goes("the-five")
    expect(page.locator(f"#on-{ill.pk}")).to_be_disabled()


def is_well_again(phone: Phone, _day: date) -> None:
    ill = phone.ill
    assert ill
    phone.goes("roster")
    phone.unfolds(ill.name)
    phone.press("Available", "button")
    phone.opens_today()
    phone.expects(SQUAD, SQUAD)
    phone.reads_nothing_of("Out until cleared", "return to play")
    phone.goes("the-five")
    expect(phone.page.locator(f"#on-{ill.pk}")).to_be_enabled()


def is_away(phone: Phone, day: date) -> None:
    """Announced on the calendar, expected away, and told the next day what was missed."""
    played, page = phone.played, phone.page
    practice = played.team.practices.get(date=day)
    block = practice.blocks.exclude(entry=None).first()
    if block is None:
        entry = played.carried()[0]
        more = {"minutes": 10, "contact": "none", "entry": entry.pk, "mode": "half_speed"}
        played.send("add-block", practice.pk, kind="install", **more)
        block = practice.blocks.exclude(entry=None).get()
    assert block.entry
    who = block.entry.castings.filter(depth=1).exclude(player=phone.ill).order_by("-pk")[0].player
    phone.goes("calendar")
    phone.unfolds("Note an absence")
    last = day + timedelta(days=3)
    form = page.locator(f"form[action='{reverse('add-absence', args=[played.team.pk])}']")
    phone.fills(form, player=f"{who}", first=f"{day}", last=f"{last}")
    phone.press("Note the absence", "button")
    phone.reads(f"{who}, {day.day} {day:%b} – {last.day} {last:%b}")
    played.announced.append((who, day, last))
    phone.opens_today()
    phone.expects(SQUAD - 2, SQUAD)  # and one is ill
    assert re.fullmatch(rf"{re.escape(str(who))} .*away", phone.line(f"{who}"))
    played.practises(practice)
    phone.at(day + timedelta(days=1))
    phone.opens_today()
    phone.unfolds("Who erred, who missed what")
    found = re.findall(r"[^.\n]*? missed [^.\n]*", page.locator("main").inner_text())
    (told,) = [line for line in found if str(who) in line]
    assert block.entry.spoken() in told


def joins(phone: Phone, _day: date) -> None:
    """A new player, cast as somebody's second by hand, who then has a sheet with that play."""
    page, entry = phone.page, phone.played.carried()[0]
    phone.goes("roster")
    phone.press("New player")
    phone.fills(page.locator("main form").first, name="Svea", number="40")
    phone.press("Save", "button")
    phone.opens_today()
    phone.expects(SQUAD + 1, SQUAD + 1)
    phone.goes("cast")
    phone.reads("Without a single place in the cast:", "Svea")
    page.locator(".row-fold > summary", has_text=entry.spoken()).click()
    page.locator(f"#slot-{entry.pk}-1-2").click()
    chooser = page.locator("#chooser")
    expect(chooser).to_contain_text("not rated")
    chooser.get_by_role("button", name=re.compile("^Svea")).click()
    expect(page.locator(f"#slot-{entry.pk}-1-2")).to_contain_text("Svea")
    phone.goes("sheets")
    phone.unfolds("Svea")
    phone.press("Sheet")
    phone.reads("Svea", entry.spoken())


def is_lost(phone: Phone, day: date) -> None:
    """Wednesday's hall is closed: what was planned for it is planned anew around it."""
    played, page = phone.played, phone.page
    lost = played.team.practices.get(date=day + timedelta(days=2))
    after = played.team.practices.get(date=day + timedelta(days=4))
    played.practises(played.team.practices.get(date=day))
    phone.at(day + timedelta(days=1))
    phone.goes("practice", lost.pk)
    phone.unfolds("More")
    phone.press("Change")
    phone.press("Cancel this practice", "button")
    phone.reads("This practice is cancelled.", "made anew without this practice")
    phone.opens_today()
    heading = page.get_by_role("heading", name=re.compile(f"{after.date:%A}"))
    expect(heading).to_contain_text(f"{after.date:%A} {after.date.day} {after.date:%B}, 18:00")
    phone.reads_nothing_of(f"{lost.date:%A} {lost.date.day} {lost.date:%B}")
    phone.reads("The install plan is not accepted yet")
    phone.press("Plan the practices before it")
    phone.reads_nothing_of(f"{lost.date.day} {lost.date:%b}, 18:00")
    phone.press("Accept into the practice plans", "button")
    phone.opens_today()
    phone.reads_nothing_of("is not accepted yet")


def is_dropped(phone: Phone, _day: date) -> None:
    """Out of the package, of what is to be ready, and of the sheets; told of the past it stays."""
    played = phone.played
    entry = next(each for each in reversed(played.carried()) if each.reps.exists())
    call, who = entry.spoken(), entry.castings.filter(depth=1)[0].player
    past = entry.reps.order_by("at")[0].practice
    plays = len(played.carried())
    phone.goes("package")
    phone.unfolds(call)
    phone.press("Edit")
    phone.press("Drop from the package", "button")
    phone.reads(f"{entry.play.name} is out of the package.")
    assert len(played.carried()) == plays - 1
    for name in ("readiness", "cast", "the-five", "coverage"):
        phone.goes(name)
        phone.reads_nothing_of(call)
    phone.goes("sheet", who.pk)
    phone.reads_nothing_of(call)
    phone.goes("practice", past.pk)
    phone.reads("What happened", call)


def leaves(phone: Phone, _day: date) -> None:
    """A first of some plays: the hole is said where it counts, until somebody is put there."""
    played, page = phone.played, phone.page
    entry = played.carried()[0]
    who = entry.castings.get(role="3", depth=1).player
    places = list(who.castings.filter(depth=1, entry__in=played.carried()))
    phone.goes("roster")
    phone.unfolds(who.name)
    phone.press("Change")
    phone.press("Leaves the team")
    phone.press("Leaves the team", "button")
    played.gone.append(who)
    phone.goes("roster")
    phone.reads(f"{SQUAD} players")
    phone.reads_nothing_of(who.name)
    phone.goes("cast")
    expect(page.locator(".row-fold .row-five", has_text="nobody")).to_have_count(
        len({place.entry_id for place in places})
    )
    for place in places:
        puts_somebody_there(phone, place.entry, place.role)
    expect(page.locator("#grid")).not_to_contain_text("nobody")


def puts_somebody_there(phone: Phone, entry: PackagePlay, role: str) -> None:
    """By hand, on the page of one play, who has no place in it."""
    cast = entry.castings.values("player")
    free = entry.team.players.present().exclude(pk__in=cast).order_by("-pk").first()
    phone.goes("cast-play", entry.pk)
    phone.page.locator(f"[name=role-{role}-1]").select_option(label=f"{free}")
    phone.press("Save the cast", "button")
    row = phone.page.locator(".row-five", has_text=f"{role} {free and free.name}")
    expect(row).not_to_have_count(0)


def reads_week_by_week(phone: Phone) -> None:
    """The last weeks' table says what was counted by hand."""
    page, runs = phone.page, phone.played.runs
    phone.opens_today()
    phone.unfolds("Week by week")
    said = [
        [cell.strip() for cell in row.locator("th, td").all_inner_texts()]
        for row in page.locator("table", has_text="Week from").locator("tbody tr").all()
    ]
    last = [monday(WEEKS - 1 - n) for n in range(8)]
    assert [row[0] for row in said] == [f"{first.day} {first:%b}" for first in last]
    for row, first in zip(said, last, strict=True):
        days = [clean for day, clean in runs.items() if first <= day < first + WEEK]
        all_runs = sum(map(len, days))
        assert row[1:] == [str(n) for n in (len(days), all_runs, sum(map(sum, days)))]


def begins_the_next_season(phone: Phone) -> None:
    """Copied with everybody and every cast, named in the bar; readiness begins at nothing."""
    page, old = phone.page, phone.team
    squad = sorted(f"{who}" for who in old.players.present())
    calls = sorted(entry.spoken() for entry in phone.played.carried())
    phone.goes("season")
    phone.press("Begin the next season")
    phone.fills(page.locator("main form").first, season="2031/32")
    phone.press("Begin it", "button")
    phone.reads("Herons 2031/32 has begun.")
    expect(page.locator("header .bar-team")).to_have_text(re.compile(r"Herons\s+2031/32"))
    new = phone.played.team = Team.objects.latest("pk")
    phone.goes("roster")
    names = page.locator("main .person-lines > li summary strong").all_inner_texts()
    assert len(names) == len(squad)
    assert sorted(f"{who}" for who in new.players.present()) == squad
    phone.goes("cast")
    rows = page.locator(".row-fold > summary .row-call").all_inner_texts()
    assert sorted(rows) == calls
    phone.reads_nothing_of("nobody")
    phone.goes("readiness")
    marks = " ".join(page.locator(".person-lines summary .marks").all_inner_texts())
    assert set(re.findall("[●▲◐○]", marks)) == {"○"}
    page.goto(reverse("home"))
    phone.reads("Past seasons")
    phone.press(f"{old}")
    expect(page.locator("header .team-menu > summary")).to_contain_text(old.season)
    expect(page.locator(".team-over")).to_contain_text("kept for reading")
    phone.goes("roster", old.pk)
    expect(page.get_by_role("link", name="New player")).to_have_count(0)


EVENTS: Final[dict[int, tuple[Callable[[Phone, date], None], ...]]] = {
    1: (plans_for_a_game,),
    3: (logs_a_practice,),
    4: (falls_ill,),
    5: (is_away,),
    6: (is_well_again, is_dropped),
    7: (joins,),
    8: (leaves,),
    9: (plans_for_a_game, is_lost),
}
