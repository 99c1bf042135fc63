"""A second step that the club asks for: of whom, the days of grace, and what is shut afterwards.

NIST SP 800-63B (section 4.2.1) and OWASP ASVS 5.0 (V6.3, level 2; both from memory) ask for a
second factor without an exception; the fourteen days to put it off are our own.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from io import StringIO

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pyotp import TOTP

from coachbook.accounts import codes, passkeys
from coachbook.accounts import second_step as steps
from coachbook.accounts.changes import new_link, path_of
from coachbook.demo import factories
from coachbook.record.wording import told
from practice.models import Rep
from shared.models import AskedOf, Change, Club, Passkey, User
from shared.speech import language_of
from tests.authenticator import Device
from tests.cast import Cast
from tests.coachbook.accounts.test_passkeys import added, at_home, enter
from tests.coachbook.accounts.test_passkeys import visitor as visitor_at_home

RIGHT = {"username": "head", "password": "head-password"}
PAGE = "/account/second-step/"
RULE = "/staff/second-step/"


class Clock:
    """The clock of the site, which a test moves."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now = datetime.now(UTC)
        monkeypatch.setattr("django.utils.timezone.now", lambda: self.now)

    def passes(self, **more: float) -> None:
        self.now += timedelta(**more)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    return Clock(monkeypatch)


def ask(cast: Cast, of: AskedOf = AskedOf.STAFF) -> None:
    assert steps.ask_for_second_step(cast.runner, of)


def signed_in() -> Client:
    client = Client()
    assert client.post("/sign-in/", RIGHT).headers["Location"] == "/"
    return client


def led(client: Client, path: str) -> str:
    """Where a page leads, without what it is asked for; "" where it opens."""
    answer = client.get(path)
    return answer.headers.get("Location", "").partition("?")[0]


OF_WHOM: dict[AskedOf, set[str]] = {
    AskedOf.NOBODY: set(),
    AskedOf.RUNNERS: {"runner"},
    AskedOf.LEADERS: {"runner", "keeper", "head", "stranger"},
    AskedOf.STAFF: {"runner", "keeper", "head", "stranger", "assistant"},
}


@pytest.mark.parametrize("of", list(AskedOf))
def test_of_whom_it_is_asked(cast: Cast, of: AskedOf) -> None:
    factories.UserFactory.create(username="guest", is_guest=True)
    if of != AskedOf.NOBODY:
        ask(cast, of)
    owing = {user.username for user in User.objects.all() if steps.steps_of(user).owes}
    assert owing == OF_WHOM[of]
    for user in User.objects.exclude(username="guest"):
        shown = led(cast.client(user), "/")
        assert shown == (PAGE if user.username in OF_WHOM[of] else "")


def main_of(page: str) -> str:
    """A page below its bar, which leads to the team as well."""
    return page.partition("<main")[2]


def test_each_sign_in_shows_it_once_and_leads_on(cast: Cast, clock: Clock) -> None:
    ask(cast)
    team = reverse("team", args=[cast.team.pk])
    for _ in range(2):
        client = signed_in()
        answer = client.get(team)
        assert answer.headers["Location"] == f"{PAGE}?next={team.replace('/', '%2F')}"
        shown = client.get(answer.headers["Location"]).content.decode()
        assert f'href="{team}"' in main_of(shown)  # later
        assert led(client, team) == ""
    elsewhere = client.get(f"{PAGE}?next=//elsewhere.example/").content.decode()
    assert f'href="{team}"' not in main_of(elsewhere)


def test_after_the_days_of_grace_only_the_way_to_it_opens(cast: Cast, clock: Clock) -> None:
    ask(cast)
    client = signed_in()
    assert led(client, "/") == PAGE
    client.get(PAGE)
    team = reverse("team", args=[cast.team.pk])
    clock.passes(days=14, seconds=-1)
    assert led(client, team) == ""
    clock.passes(seconds=1)
    shut = ("/", team, "/library/", reverse("log", args=[cast.practice.pk]), "/account/mail/")
    assert {led(client, path) for path in shut} == {PAGE}
    fresh = signed_in()
    assert {led(fresh, path) for path in shut} == {PAGE}
    assert "Later" not in fresh.get(PAGE).content.decode()
    assert {led(fresh, path) for path in (PAGE, "/account/", "/account/codes/", "/help/")} == {""}
    assert fresh.post("/sign-out/").headers["Location"] == "/sign-in/"


def test_nothing_is_sent_either_and_the_phones_taps_wait(cast: Cast, clock: Clock) -> None:
    """The log on a phone keeps what is answered by being led elsewhere, as when signed out."""
    ask(cast)
    client = signed_in()
    client.get("/")
    clock.passes(days=14)
    taps = reverse("taps", args=[cast.team.pk])
    sent = client.post(taps, '{"version": 1, "taps": []}', content_type="application/json")
    assert sent.headers["Location"] == PAGE
    assert client.post(reverse("drop-entry", args=[cast.entry.pk])).headers["Location"] == PAGE
    cast.entry.refresh_from_db()
    assert cast.entry.dropped_on is None
    assert not Rep.objects.exists()
    part = client.get("/", headers={"hx-request": "true"})
    assert part.headers["HX-Redirect"].startswith(PAGE)


def test_codes_end_it_at_once_and_it_comes_back_without_grace(cast: Cast, clock: Clock) -> None:
    ask(cast)
    client = signed_in()
    client.get("/")
    clock.passes(days=15)
    codes.switch_on(cast.head, "nonce", 0)
    assert led(client, "/") == ""
    assert client.get(PAGE).headers["Location"] == "/"
    codes.switch_off(cast.head, cast.head)
    assert led(client, "/") == PAGE


def test_the_way_through_codes_is_open_to_who_is_late(cast: Cast, clock: Clock) -> None:
    ask(cast)
    client = signed_in()
    client.get("/")
    clock.passes(days=14)
    client = signed_in()
    secret = client.get("/account/codes/").context["secret"].replace(" ", "")
    answer = client.post("/account/codes/", {"code": TOTP(secret).at(clock.now)})
    assert answer.status_code == 200
    assert led(client, "/") == ""


def test_who_has_no_password_yet_is_led_to_one_first(cast: Cast) -> None:
    ask(cast)
    link = new_link(cast.assistant, timezone.now())
    User.objects.filter(pk=cast.assistant.pk).update(password="!")
    client = Client()
    assert client.post(path_of(link)).headers["Location"] == "/account/"
    assert led(client, "/account/") == ""
    shown = client.get(PAGE).content.decode()
    assert 'href="/account/"' in shown
    assert 'href="/account/codes/"' not in shown


def test_where_it_is_asked_a_passkey_is_not_gone_round_by_the_password(cast: Cast) -> None:
    device = added(at_home(cast, cast.head), Device())
    assert signed_in()  # of one's own free will: the password stays a way in
    ask(cast)
    client = Client()
    assert client.post("/sign-in/", RIGHT).headers["Location"] == "/sign-in/"
    assert "your passkey" in client.get("/sign-in/").content.decode()
    assert led(client, "/") == "/sign-in/"
    link = new_link(cast.head, timezone.now())
    assert client.post(path_of(link)).headers["Location"] == "/sign-in/"
    link.refresh_from_db()
    assert link.used_at is None  # it opens once the lost passkey is removed
    own = visitor_at_home()
    assert enter(own, device) == "/"
    assert led(own, "/") == ""
    passkeys.remove_all(cast.runner, cast.head)
    assert client.post(path_of(link)).headers["Location"] == "/account/"


def test_with_codes_beside_the_passkey_the_password_and_a_code_open(cast: Cast) -> None:
    added(at_home(cast, cast.head), Device())
    codes.switch_on(cast.head, "nonce", 0)
    ask(cast)
    assert Client().post("/sign-in/", RIGHT).headers["Location"] == "/sign-in/code/"


def test_whoever_runs_the_server_lets_in_who_has_lost_everything(cast: Cast) -> None:
    added(at_home(cast, cast.head), Device())
    codes.switch_on(cast.head, "nonce", 0)
    ask(cast)
    out = StringIO()
    call_command("sign_in_link", "head", "--without-code", stdout=out, stderr=StringIO())
    assert Client().post(out.getvalue().strip()).headers["Location"] == "/account/"
    assert {"switched off codes", "removed passkeys"} <= set(
        Change.objects.values_list("verb", flat=True)
    )


def test_the_rule_is_set_by_who_runs_the_club_and_recorded(cast: Cast) -> None:
    runner = cast.client(cast.runner)
    assert runner.post(RULE, {"asked_of": "leaders"}).headers["Location"] == RULE
    assert runner.post(RULE, {"asked_of": "leaders"}).status_code == 302  # pressed twice
    assert Club.objects.get().asks_second_step == AskedOf.LEADERS
    (line,) = Change.objects.filter(verb="set who needs a second step")
    assert told(line, language_of("en")) == (
        "Rosa set of whom a second step to sign in is asked: Also head coaches and who keeps the "
        "library."
    )
    for person in (cast.head, cast.keeper, cast.assistant):
        client = cast.client(person)
        client.get(PAGE)
        assert client.post(RULE, {"asked_of": ""}).status_code == 403
    assert Club.objects.get().asks_second_step == AskedOf.LEADERS


def test_a_rule_that_is_none_is_told(cast: Cast) -> None:
    answer = cast.client(cast.runner).post(RULE, {"asked_of": "everybody"})
    assert answer.status_code == 422
    assert Club.objects.get().asks_second_step == AskedOf.NOBODY


def test_asked_of_nobody_again_the_grace_is_anew(cast: Cast, clock: Clock) -> None:
    ask(cast)
    signed_in().get("/")
    clock.passes(days=20)
    ask(cast, AskedOf.NOBODY)
    assert led(signed_in(), "/") == ""
    ask(cast)
    client = signed_in()
    client.get(PAGE)
    assert led(client, "/") == ""


def test_who_runs_the_club_sees_who_has_one(cast: Cast, clock: Clock) -> None:
    codes.switch_on(cast.keeper, "nonce", 0)
    Passkey.objects.create(user=cast.runner, name="Phone", credential="c", public_key="k")
    ask(cast, AskedOf.LEADERS)
    cast.client(cast.head).get("/")
    shown = cast.client(cast.runner).get(RULE).content.decode()
    told = {
        person.name: " ".join(row.split("</ul>")[0].split())
        for person in (cast.runner, cast.keeper, cast.head, cast.stranger, cast.assistant)
        for row in [shown.partition(f'/staff/{person.pk}/">')[2]]
    }
    assert ">passkey<" in told["Rosa"]
    assert ">codes<" in told["Kim"]
    assert "not here since the club asks" in told["Stig"]
    assert "none, and not asked" in told["Arne"]
    ends = timezone.localtime(clock.now + timedelta(days=14))
    assert f"has until {ends.day} " in told["Hedda"]
    clock.passes(days=14)
    assert "only the page about it opens" in cast.client(cast.runner).get(RULE).content.decode()


def test_it_costs_one_query_a_page_whoever_asks(
    cast: Cast, django_assert_num_queries: pytest.FixtureRequest
) -> None:
    for of in AskedOf:
        Club.objects.update(asks_second_step=of)
        with django_assert_num_queries(1):  # type: ignore[operator]
            steps.steps_of(cast.head)


@pytest.mark.parametrize(
    "wish", ["1e400", "accounts", "//elsewhere.example/", "https://a.example/"]
)
def test_who_owes_nothing_goes_on_to_this_site_only(cast: Cast, wish: str) -> None:
    client = cast.client(cast.head)
    assert client.get(PAGE, {"next": wish}).headers["Location"] == reverse("home")
    there = reverse("library")
    assert client.get(PAGE, {"next": there}).headers["Location"] == there
