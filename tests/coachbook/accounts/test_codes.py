"""One-time codes: the standards' own values, the door between password and code, lost phones."""

from __future__ import annotations

import base64
import io
import re
import time
from datetime import UTC, datetime, timedelta

import cairosvg
import pytest
import zxingcpp
from axes.models import AccessAttempt
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from PIL import Image
from pyotp import TOTP, parse_uri
from pytest_django.fixtures import Settings

from coachbook.accounts import codes
from coachbook.accounts.changes import choose_password, new_link, path_of
from coachbook.accounts.throttle import COOKIE, MOST
from shared.models import Change, OneTimeCodes, OpenSession, RecoveryCode, User
from tests.cast import Cast

RIGHT = {"username": "head", "password": "head-password"}
CODE = "/sign-in/code/"
# RFC 4226, appendix D, and RFC 6238, appendix B: the secret of both.
SECRET = base64.b32encode(b"12345678901234567890").decode()


OF_COUNTS = (
    *("755224", "287082", "359152", "969429", "338314"),
    *("254676", "287922", "162583", "399871", "520489"),
)


@pytest.mark.parametrize(("count", "code"), list(enumerate(OF_COUNTS)))
def test_codes_are_those_of_rfc_4226_appendix_d(count: int, code: str) -> None:
    assert codes.step_of(SECRET, code, count * 30) == count


@pytest.mark.parametrize(
    ("seconds", "eight_digits"),
    [
        (59, "94287082"),
        (1111111109, "07081804"),
        (1111111111, "14050471"),
        (1234567890, "89005924"),
        (2000000000, "69279037"),
        (20000000000, "65353130"),
    ],
)
def test_codes_are_those_of_rfc_6238_appendix_b(seconds: int, eight_digits: str) -> None:
    """Six digits are the last six of eight: both are one number modulo a power of ten."""
    assert codes.step_of(SECRET, eight_digits[-6:], seconds) == seconds // 30


def test_a_clock_may_be_half_a_minute_off_and_no_more() -> None:
    code = "359152"  # RFC 4226, appendix D: count 2, so 60 to 90 s
    assert [codes.step_of(SECRET, code, at) for at in (29, 30, 60, 119, 120)] == [
        *(None, 2, 2, 2, None)
    ]


class Hall:
    """The staff's clock, which a test moves: ten seconds into this half minute.

    Locks are kept by a clock of their own, which no test moves, so that both say about the same.
    """

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        begun = time.time() // 30 * 30
        self.now = datetime.fromtimestamp(begun + 10, UTC)
        monkeypatch.setattr("django.utils.timezone.now", lambda: self.now)

    def passes(self, **more: float) -> None:
        self.now += timedelta(**more)


@pytest.fixture
def hall(monkeypatch: pytest.MonkeyPatch) -> Hall:
    return Hall(monkeypatch)


@pytest.fixture
def phone(cast: Cast, hall: Hall) -> TOTP:
    """The head coach's phone, set up half an hour ago."""
    step = int(hall.now.timestamp() // 30) - 60
    codes.switch_on(cast.head, "nonce", step)
    return TOTP(codes.secret_of("nonce", cast.head))


def half(cast: Cast, at: str = "127.0.0.1") -> Client:
    """A browser that has said the right password."""
    client = Client(REMOTE_ADDR=at)
    assert client.post("/sign-in/", RIGHT).headers["Location"] == CODE
    return client


def say(client: Client, code: str) -> int:
    return client.post(CODE, {"code": code}).status_code


def test_the_password_alone_opens_no_page(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = half(cast)
    for path in ("/", "/account/", f"/teams/{cast.team.pk}/", "/account/codes/"):
        led = client.get(path).headers["Location"]
        assert led in {"/sign-in/", f"/sign-in/?next={path}"}
    asked = client.get(CODE)
    assert "no-store" in asked.headers["Cache-Control"]
    assert not asked.context["user"].is_authenticated
    assert not OpenSession.objects.exists()
    assert COOKIE not in client.cookies
    before = client.session.session_key
    answer = client.post(CODE, {"code": phone.at(hall.now)})
    assert answer.headers["Location"] == "/"
    assert client.get("/").status_code == 200
    assert client.session.session_key != before
    assert "code_owed" not in client.session
    assert [row.user for row in OpenSession.objects.all()] == [cast.head]
    assert client.get(CODE).headers["Location"] == "/sign-in/"


def test_it_leads_where_the_person_wanted_to_go_and_nowhere_else(
    cast: Cast, phone: TOTP, hall: Hall
) -> None:
    for wish, led in (("/library/", "/library/"), ("//elsewhere.example/", "/")):
        client = Client()
        client.post("/sign-in/", RIGHT | {"next": wish})
        assert client.post(CODE, {"code": phone.at(hall.now)}).headers["Location"] == led
        hall.passes(seconds=30)


def test_a_code_opens_once(cast: Cast, phone: TOTP, hall: Hall) -> None:
    code = phone.at(hall.now)
    assert say(half(cast), f"{code[:3]} {code[3:]}") == 302
    again = half(cast)
    assert say(again, code) == 422
    hall.passes(seconds=30)
    assert say(again, code) == 422  # within the drift of clocks, and used all the same
    assert say(again, phone.at(hall.now)) == 302


def test_the_code_before_the_one_used_last_opens_nothing(
    cast: Cast, phone: TOTP, hall: Hall
) -> None:
    assert say(half(cast), phone.at(hall.now)) == 302
    assert say(half(cast), phone.at(hall.now - timedelta(seconds=30))) == 422


def test_ten_minutes_later_the_password_is_asked_again(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = half(cast)
    hall.passes(minutes=9, seconds=59)
    assert client.get(CODE).status_code == 200
    hall.passes(seconds=1)
    assert client.post(CODE, {"code": phone.at(hall.now)}).headers["Location"] == "/sign-in/"
    assert client.get("/").status_code == 302


@pytest.mark.parametrize("meanwhile", ["password", "removed", "codes off"])
def test_what_ends_a_session_ends_half_of_one(
    cast: Cast, phone: TOTP, hall: Hall, meanwhile: str
) -> None:
    client = half(cast)
    if meanwhile == "password":
        choose_password(User.objects.get(pk=cast.head.pk), "heron lamp 19 oar")
    elif meanwhile == "removed":
        User.objects.filter(pk=cast.head.pk).update(is_active=False)
    else:
        codes.switch_off(cast.runner, cast.head)
    assert client.post(CODE, {"code": phone.at(hall.now)}).headers["Location"] == "/sign-in/"
    assert client.get("/").status_code == 302


def test_who_said_no_password_is_asked_for_no_code(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = Client()
    assert client.post(CODE, {"code": phone.at(hall.now)}).headers["Location"] == "/sign-in/"
    assert client.get("/").status_code == 302


def test_another_persons_phone_opens_nothing(cast: Cast, phone: TOTP, hall: Hall) -> None:
    codes.switch_on(cast.runner, "other", 0)
    other = TOTP(codes.secret_of("other", cast.runner))
    assert say(half(cast), other.at(hall.now)) == 422


@pytest.mark.parametrize("code", ["", "000000", "12345", "1" * 41, "ábcdef", "\x00", "９" * 6])
def test_a_wrong_code_is_told_at_its_field(cast: Cast, phone: TOTP, code: str) -> None:
    answer = half(cast).post(CODE, {"code": code})
    assert answer.status_code == 422
    assert 'id="id_code_error"' in answer.content.decode()


def test_wrong_codes_lock_the_name_at_that_address(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = half(cast)
    assert [say(client, "000000") for _ in range(7)][-2:] == [429, 429]
    assert say(client, phone.at(hall.now)) == 429
    assert Client().post("/sign-in/", RIGHT).status_code == 429
    kept = [row.post_data for row in AccessAttempt.objects.all()]
    assert kept
    assert not [text for text in kept if "000000" in text]
    assert say(half(cast, at="10.1.1.1"), phone.at(hall.now)) == 302


def test_the_right_password_does_not_open_the_lock_again(cast: Cast, phone: TOTP) -> None:
    statuses = [say(half(cast), "000000") for _ in range(5)]
    assert statuses == [422] * 5
    assert say(half(cast), "000000") == 429


def test_an_address_that_tried_many_names_says_no_code(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = half(cast)
    guesser = Client()
    for n in range(MOST):
        guesser.post("/sign-in/", {"username": f"coach{n}", "password": "nonsense"})
    assert say(client, phone.at(hall.now)) == 429


def test_a_hundred_wrong_codes_over_many_addresses_close_the_phone(cast: Cast, hall: Hall) -> None:
    """NIST SP 800-63B, 5.2.2: no more than 100 failed attempts in a row on one account."""
    paper = codes.switch_on(cast.head, "nonce", 0)
    phone = TOTP(codes.secret_of("nonce", cast.head))
    OneTimeCodes.objects.update(missed=98)
    assert say(half(cast, at="10.0.0.1"), "000000") == 422
    assert say(half(cast, at="10.0.0.2"), "000000") == 422
    client = half(cast, at="10.0.0.3")
    answer = client.post(CODE, {"code": phone.at(hall.now)})
    assert "only a recovery code is taken" in answer.content.decode()
    assert say(client, paper[0]) == 302
    assert say(half(cast), phone.at(hall.now)) == 302


def test_each_recovery_code_opens_once(cast: Cast, hall: Hall) -> None:
    paper = codes.switch_on(cast.head, "nonce", 0)
    assert len(set(paper)) == 8
    client = half(cast)
    answer = client.post(CODE, {"code": paper[0]}, follow=True)
    assert "7 are left" in answer.content.decode()
    again = half(cast)
    assert say(again, paper[0]) == 422
    assert say(again, paper[1].replace(" ", "-")) == 302
    used = Change.objects.filter(verb="used recovery code")
    assert [row.user for row in used] == [cast.head] * 2


def test_a_sign_in_link_asks_for_the_code_too(cast: Cast, phone: TOTP, hall: Hall) -> None:
    path = path_of(new_link(cast.head, hall.now))
    client = cast.client(cast.assistant)  # whoever was signed in here is not any more
    assert client.post(path).headers["Location"] == CODE
    assert client.get("/account/").status_code == 302
    assert Client().post(path).status_code == 404  # used up
    assert client.post(CODE, {"code": phone.at(hall.now)}).headers["Location"] == "/account/"
    new = {"password": "heron lamp 19 oar"}  # the old one is not asked for
    assert client.post("/account/", new).headers["Location"] == "/"
    assert OneTimeCodes.objects.filter(user=cast.head).exists()


def signed_in(cast: Cast) -> Client:
    client = Client()
    client.post("/sign-in/", RIGHT)
    return client


def secret_on(text: str) -> str:
    found = re.search(r'class="code-letters">([A-Z2-7 ]+)<', text)
    assert found
    return found[1].replace(" ", "")


def papers_on(text: str) -> list[str]:
    return re.findall(r"<li>(\d{4} \d{4} \d{4})</li>", text)


def test_a_phone_is_set_up_once_it_has_proved_itself(cast: Cast, hall: Hall) -> None:
    client, other = signed_in(cast), signed_in(cast)
    shown = client.get("/account/codes/")
    assert "no-store" in shown.headers["Cache-Control"]
    secret = secret_on(shown.content.decode())
    assert secret_on(client.get("/account/codes/").content.decode()) == secret
    assert say_first(client, "000000")[0] == 422
    assert not OneTimeCodes.objects.exists()
    assert signed_in(cast).get("/").status_code == 200  # nothing is asked before the proof
    code = TOTP(secret).at(hall.now)
    paper = papers_on(say_first(client, code)[1])
    assert len(paper) == 8
    assert other.get("/").status_code == 302  # other devices have shown no code
    assert client.get("/").status_code == 200
    assert papers_on(client.get("/account/codes/").content.decode()) == []
    assert say(half(cast), code) == 422  # the code of the proof is used
    assert say(half(cast), paper[0]) == 302
    assert Change.objects.filter(verb="switched on codes", user=cast.head).count() == 1


def say_first(client: Client, code: str) -> tuple[int, str]:
    """The status and the page that a code of the set-up gets."""
    answer = client.post("/account/codes/", {"code": code})
    assert "no-store" in answer.headers["Cache-Control"]
    return answer.status_code, answer.content.decode()


def test_pressed_twice_the_codes_that_are_seen_count(cast: Cast, hall: Hall) -> None:
    client = signed_in(cast)
    secret = secret_on(client.get("/account/codes/").content.decode())
    code = TOTP(secret).at(hall.now)
    lost = papers_on(say_first(client, code)[1])
    seen = papers_on(say_first(client, code)[1])
    assert RecoveryCode.objects.count() == 8
    assert say(half(cast), lost[0]) == 422
    assert say(half(cast), seen[0]) == 302


def test_the_picture_says_what_an_app_reads(cast: Cast, hall: Hall) -> None:
    """Decoded by ZXing's C++ port, which shares nothing with the encoder (segno)."""
    text = signed_in(cast).get("/account/codes/").content.decode()
    drawn = re.search(r"<svg.*?</svg>", text, re.DOTALL)
    assert drawn
    png = cairosvg.svg2png(drawn[0].encode(), output_width=400, background_color="white")
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(png)))
    told = parse_uri(found.text)
    assert isinstance(told, TOTP)
    assert (told.name, told.issuer) == ("head", "Lindwater Basketball")
    assert (told.secret, told.digits, told.interval) == (secret_on(text), 6, 30)
    assert len(base64.b32decode(told.secret)) == 20


def test_a_phone_that_was_switched_off_is_never_shown_again(cast: Cast, hall: Hall) -> None:
    client = signed_in(cast)
    secret = secret_on(client.get("/account/codes/").content.decode())
    say_first(client, TOTP(secret).at(hall.now))
    codes.switch_off(cast.runner, cast.head)
    assert secret_on(client.get("/account/codes/").content.decode()) != secret


def test_new_recovery_codes_take_the_place_of_the_old(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = half(cast)
    say(client, phone.at(hall.now))
    old = papers_on(client.post("/account/codes/recovery/").content.decode())
    new = papers_on(client.post("/account/codes/recovery/").content.decode())
    assert RecoveryCode.objects.count() == 8
    assert say(half(cast), old[0]) == 422
    assert say(half(cast), new[0]) == 302


def test_switched_off_the_password_alone_signs_in(cast: Cast, phone: TOTP, hall: Hall) -> None:
    client = half(cast)
    say(client, phone.at(hall.now))
    assert client.post("/account/codes/end/").headers["Location"] == "/account/"
    assert Client().post("/sign-in/", RIGHT).headers["Location"] == "/"
    assert not RecoveryCode.objects.exists()
    assert client.post("/account/codes/recovery/").headers["Location"] == "/account/codes/"


@pytest.mark.parametrize("path", ["", "recovery/", "end/"])
def test_each_change_asks_for_the_password(cast: Cast, phone: TOTP, hall: Hall, path: str) -> None:
    client = half(cast)
    say(client, phone.at(hall.now))
    hall.passes(minutes=10)
    assert "sure_password" in client.post(f"/account/codes/{path}").content.decode()
    assert OneTimeCodes.objects.count() == 1
    assert RecoveryCode.objects.filter(used_at=None).count() == 8


def test_the_secret_is_shown_only_after_the_password(cast: Cast, hall: Hall) -> None:
    client = signed_in(cast)
    hall.passes(minutes=10)
    assert "code-letters" not in client.get("/account/codes/").content.decode()


def test_who_runs_the_club_switches_it_off_for_a_lost_phone(cast: Cast, phone: TOTP) -> None:
    path = reverse("end-persons-codes", args=[cast.head.pk])
    runner = cast.client(cast.runner)
    page = runner.get(reverse("staff-person", args=[cast.head.pk])).content.decode()
    assert f'action="{path}"' in page
    for _ in range(2):
        assert runner.post(path, follow=True).status_code == 200
    line = Change.objects.get(verb="switched off codes")
    assert (line.user, line.subject) == (cast.runner, "Hedda")
    page = runner.get(reverse("staff-person", args=[cast.head.pk])).content.decode()
    assert f'action="{path}"' not in page
    assert Client().post("/sign-in/", RIGHT).headers["Location"] == "/"


def test_who_runs_the_server_switches_it_off_for_the_last_keeper(cast: Cast, phone: TOTP) -> None:
    out = io.StringIO()
    call_command("sign_in_link", "head", stdout=out, stderr=io.StringIO())
    assert OneTimeCodes.objects.exists()
    call_command("sign_in_link", "head", "--without-code", stdout=out, stderr=io.StringIO())
    assert not OneTimeCodes.objects.exists()
    path = out.getvalue().split()[-1]
    assert Client().post(path).headers["Location"] == "/account/"


def test_a_removed_person_comes_back_without_codes(cast: Cast, phone: TOTP) -> None:
    cast.client(cast.runner).post(reverse("remove-person", args=[cast.head.pk]))
    assert not OneTimeCodes.objects.exists()


def test_the_database_alone_says_no_code(cast: Cast, hall: Hall) -> None:
    paper = codes.switch_on(cast.head, "nonce", 0)
    secret = codes.secret_of("nonce", cast.head)
    rows = [*OneTimeCodes.objects.values_list(), *RecoveryCode.objects.values_list()]
    text = repr(rows)
    assert secret not in text
    assert not [code for code in paper if code in text or code.replace(" ", "") in text]


def test_another_secret_key_makes_another_secret(cast: Cast, settings: Settings) -> None:
    before = codes.secret_of("nonce", cast.head)
    settings.SECRET_KEY = "another key of fifty letters, at least as long as it"
    assert codes.secret_of("nonce", cast.head) != before
