"""Passkeys: what a device says, checked as W3C Web Authentication, section 7, asks for.

The steps are numbered as in Level 2, sections 7.1 (making) and 7.2 (using), from memory.
"""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import Any

import pytest
from axes.models import AccessAttempt
from django.contrib.sessions.models import Session
from django.http import HttpRequest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from hypothesis import HealthCheck, given
from hypothesis import settings as effort
from hypothesis import strategies as st
from pytest_django.fixtures import Settings

from coachbook.accounts import codes, passkeys
from coachbook.accounts.changes import new_link, path_of
from coachbook.accounts.staff import bring_back, remove
from coachbook.accounts.throttle import MOST
from shared.models import Change, Passkey, User
from tests.authenticator import PRESENT, Device, base64url, raw_of
from tests.cast import Cast

HERE = {"SERVER_NAME": "localhost"}
OWN = "/account/passkeys/"
ASK, DOOR = "/sign-in/passkey/ask/", "/sign-in/passkey/"
PASSWORD = "head-password"  # of the cast's head coach


def at_home(cast: Cast, person: User) -> Client:
    """A signed-in browser at the machine itself, where passkeys need no https."""
    client = Client(**HERE)  # type: ignore[arg-type]
    client.force_login(person, "django.contrib.auth.backends.ModelBackend")
    return client


def question(client: Client, path: str) -> dict[str, Any]:
    answer = client.post(path)
    assert answer.headers["Content-Type"] == "application/json"
    asked: dict[str, Any] = json.loads(answer.content)
    return asked


def added(client: Client, device: Device, name: str = "Phone") -> Device:
    device, said = device.makes(question(client, f"{OWN}ask/"))
    assert client.post(OWN, {"name": name, "said": said}).headers["Location"] == OWN
    return device


@pytest.fixture
def device(cast: Cast) -> Device:
    """The head coach's device, known to the site."""
    return added(at_home(cast, cast.head), Device())


def visitor(at: str = "127.0.0.1") -> Client:
    return Client(REMOTE_ADDR=at, **HERE)  # type: ignore[arg-type]


def enter(client: Client, device: Device, **more: Any) -> str:
    """Where an answer to a fresh question leads."""
    asked = question(client, ASK)
    return sent(client, device.answers(asked, **more))


def sent(client: Client, said: str, **more: str) -> str:
    answer = client.post(DOOR, {"said": said, **more})
    return answer.headers.get("Location", str(answer.status_code))


def test_the_device_signs_in_without_name_and_password(cast: Cast, device: Device) -> None:
    client = visitor()
    asked = question(client, ASK)
    assert (asked["rpId"], asked["userVerification"]) == ("localhost", "required")
    assert not asked.get("allowCredentials")  # nothing is told about who has an account
    before = client.session.session_key
    assert sent(client, device.answers(asked)) == "/"
    assert client.get("/").context["user"] == cast.head
    assert client.session.session_key != before
    assert client.session.get_expiry_age() > 24 * 60 * 60
    assert Passkey.objects.get().used_at


def test_what_is_asked_of_a_device_that_is_added(cast: Cast) -> None:
    """Section 5.4: a key that is found without a name, after its owner was known; 13.4.3: at least
    16 bytes of chance; 14.6.1: the account's handle says nothing about the person.
    """
    client = at_home(cast, cast.head)
    asked = question(client, f"{OWN}ask/")
    assert asked["rp"]["id"] == "localhost"
    wish = asked["authenticatorSelection"]
    assert (wish["residentKey"], wish["userVerification"]) == ("required", "required")
    assert asked["attestation"] == "none"
    assert {each["alg"] for each in asked["pubKeyCredParams"]} >= {-7, -257}
    assert len(raw_of(asked["challenge"])) >= 16
    handles = {question(client, f"{OWN}ask/")["user"]["id"] for _ in range(3)}
    assert len(handles) == 3
    device = added(client, Device())
    again = question(client, f"{OWN}ask/")
    assert again["user"]["id"] == base64url(device.handle)
    assert [each["id"] for each in again["excludeCredentials"]] == [base64url(device.credential)]


def test_it_is_told_by_name_and_in_the_record(cast: Cast, device: Device) -> None:
    client = at_home(cast, cast.head)
    told = client.get(OWN).content.decode()
    assert "Phone" in told
    assert "not used yet" in told
    row = Passkey.objects.get()
    assert client.post(reverse("remove-passkey", args=[row.pk])).headers["Location"] == OWN
    assert enter(visitor(), device) == "/sign-in/"
    verbs = [change.verb for change in Change.objects.order_by("pk") if "passkey" in change.verb]
    assert verbs == ["added passkey", "removed passkey"]


SPOILT: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    # By name: what is other about the device, and about this one answer. Section 7.2.
    "step 11: another kind of answer": ({}, {"says": {"type": "webauthn.create"}}),
    "step 12: another question": ({}, {"says": {"challenge": base64url(b"7" * 32)}}),
    "step 13: another site asked": ({"origin": "https://elsewhere.example"}, {}),
    "step 13: another port": ({"origin": "http://localhost:9999"}, {}),
    "step 15: another site's key": ({"rp_id": "elsewhere.example"}, {}),
    "step 16: nobody was there": ({"flags": 0x04}, {}),
    "step 17: who was there is not known": ({"flags": PRESENT}, {}),
    "step 20: another signature": ({}, {"signature": b"\x30\x06\x02\x01\x01\x02\x01\x01"}),
    "step 20: no signature": ({}, {"signature": b""}),
    "step 6: another account": ({"handle": b"somebody else"}, {}),
    "step 6: no account": ({"handle": b""}, {}),
    "step 20: another key": ({"key": Device().key}, {}),
    "a key that nobody has": ({"credential": b"1" * 32}, {}),
}


@pytest.mark.parametrize("name", SPOILT)
def test_what_does_not_hold_opens_nothing(cast: Cast, device: Device, name: str) -> None:
    other, spoilt = SPOILT[name]
    client = visitor()
    assert enter(client, device.but(**other), **spoilt) == "/sign-in/"
    assert client.get("/").status_code == 302
    assert enter(client, device) == "/"  # the same device, unspoilt


@pytest.mark.parametrize(
    ("before", "says", "opens"),
    [(0, 0, True), (0, 1, True), (5, 6, True), (5, 5, False), (5, 4, False), (5, 0, False)],
)
def test_a_count_that_does_not_grow_is_a_copied_key(
    cast: Cast, before: int, says: int, opens: bool
) -> None:
    """Section 7.2, step 21; both 0 is a device that does not count."""
    device = added(at_home(cast, cast.head), Device(count=before))
    assert enter(visitor(), device.but(count=says)) == ("/" if opens else "/sign-in/")
    assert Passkey.objects.get().sign_count == (says if opens else before)


def test_an_answer_opens_once(cast: Cast, device: Device) -> None:
    client = visitor()
    said = device.answers(question(client, ASK))
    assert sent(client, said) == "/"
    assert sent(client, said) == "/"  # signed in already
    client.post("/sign-out/")
    assert sent(client, said) == "/sign-in/"
    assert client.get("/").status_code == 302


def test_an_answer_that_was_seen_opens_nothing_elsewhere(cast: Cast, device: Device) -> None:
    mine, thiefs = visitor(), visitor("10.1.1.1")
    said = device.answers(question(mine, ASK))
    question(thiefs, ASK)
    assert sent(thiefs, said) == "/sign-in/"
    assert sent(mine, said) == "/"


def test_a_question_is_used_up_by_a_wrong_answer(cast: Cast, device: Device) -> None:
    client = visitor()
    said = device.answers(question(client, ASK))
    assert sent(client, "{}") == "/sign-in/"
    assert sent(client, said) == "/sign-in/"


def test_a_question_to_sign_in_adds_no_key_and_the_other_way_round(
    cast: Cast, device: Device
) -> None:
    client = at_home(cast, cast.head)
    asked = question(client, ASK)
    user = {"id": base64url(b"1" * 32)}
    new, said = Device().makes(asked | {"user": user, "rp": {"id": "localhost"}})
    assert client.post(OWN, {"name": "New", "said": said}).status_code == 422
    client = visitor()
    question(client, ASK)
    assert sent(client, new.answers({"challenge": asked["challenge"], "rpId": "localhost"})) == (
        "/sign-in/"
    )
    assert Passkey.objects.count() == 1


def test_five_minutes_later_it_is_asked_anew(
    cast: Cast, device: Device, monkeypatch: pytest.MonkeyPatch
) -> None:
    clients = [visitor(), visitor()]
    answers = [device.answers(question(client, ASK)) for client in clients]
    now = timezone.now()
    for seconds, client, said, led in zip(
        (299, 300), clients, answers, ("/", "/sign-in/"), strict=True
    ):
        at: datetime = now + timedelta(seconds=seconds)
        monkeypatch.setattr("coachbook.accounts.passkeys.timezone.now", lambda at=at: at)
        request_session_lives(client)
        assert sent(client, said) == led


def request_session_lives(client: Client) -> None:
    """The session's own end is later than the question's, so that the question's is tried."""
    session = client.session
    session.set_expiry(3600)
    session.save()


@pytest.mark.parametrize(
    ("host", "secure", "works"),
    [
        ("localhost", False, True),
        ("127.0.0.1", False, False),
        ("plays.example.org", False, False),  # plain http
        ("plays.example.org", True, True),
        ("PLAYS.example.org", True, True),
        ("plays.example.org:8443", True, False),
        ("other.example.org", True, False),  # let in, and not among the addresses that are set
        ("192.168.1.20", True, False),  # WebAuthn, 5.1.2: a number is no name of a site
    ],
)
def test_where_passkeys_are_offered(
    cast: Cast, settings: Settings, host: str, secure: bool, works: bool
) -> None:
    settings.ALLOWED_HOSTS = [host.partition(":")[0].lower()]
    settings.CSRF_TRUSTED_ORIGINS = ["https://plays.example.org", "https://192.168.1.20"]
    client = Client(headers={"host": host})
    page = client.get("/sign-in/", secure=secure).content.decode()
    assert ("data-passkey" in page) is works
    asked = client.post(ASK, secure=secure)
    assert asked.status_code == (200 if works else 404)
    if works:
        assert json.loads(asked.content)["rpId"] == host.lower()


def test_a_forged_host_is_asked_for_nothing(cast: Cast) -> None:
    assert Client(headers={"host": "elsewhere.example"}).post(ASK).status_code == 400


def test_over_https_the_answer_has_to_come_from_the_address_that_is_set(
    cast: Cast, settings: Settings
) -> None:
    settings.ALLOWED_HOSTS = ["plays.example.org"]
    settings.CSRF_TRUSTED_ORIGINS = ["https://plays.example.org"]
    client = Client(headers={"host": "plays.example.org"})
    client.force_login(cast.head, "django.contrib.auth.backends.ModelBackend")
    asked = json.loads(client.post(f"{OWN}ask/", secure=True).content)
    device, said = Device(origin="https://plays.example.org").makes(asked)
    assert client.post(OWN, {"name": "Phone", "said": said}, secure=True).status_code == 302
    for origin, led in (("http://plays.example.org", "/sign-in/"), (device.origin, "/")):
        client = Client(headers={"host": "plays.example.org"})
        asked = json.loads(client.post(ASK, secure=True).content)
        said = device.but(origin=origin).answers(asked)
        assert client.post(DOOR, {"said": said}, secure=True).headers["Location"] == led


def test_no_code_is_asked_after_it(cast: Cast, device: Device) -> None:
    codes.switch_on(cast.head, "nonce", 0)
    client = visitor()
    assert enter(client, device) == "/"
    assert client.get("/").status_code == 200


@pytest.mark.parametrize(
    ("wish", "led"), [("/library/", "/library/"), ("//elsewhere.example/", "/"), ("", "/")]
)
def test_it_leads_where_the_person_wanted_to_go_and_nowhere_else(
    cast: Cast, device: Device, wish: str, led: str
) -> None:
    client = visitor()
    assert sent(client, device.answers(question(client, ASK)), next=wish) == led


def test_who_is_removed_and_comes_back_has_no_passkey(cast: Cast, device: Device) -> None:
    waiting = visitor()
    said = device.answers(question(waiting, ASK))
    remove(cast.runner, User.objects.get(pk=cast.head.pk))
    assert sent(waiting, said) == "/sign-in/"
    bring_back(cast.runner, User.objects.get(pk=cast.head.pk), timezone.now())
    assert enter(visitor(), device) == "/sign-in/"
    assert not Passkey.objects.exists()


def test_who_runs_the_club_ends_those_of_a_lost_device(cast: Cast, device: Device) -> None:
    path = reverse("end-persons-passkeys", args=[cast.head.pk])
    client = at_home(cast, cast.runner)
    assert "Has 1 passkey." in client.get(f"/staff/{cast.head.pk}/").content.decode()
    assert at_home(cast, cast.assistant).post(path).status_code == 403
    client.post(path)
    assert enter(visitor(), device) == "/sign-in/"
    assert Change.objects.get(verb="removed passkeys").user == cast.runner


def test_somebody_elses_passkey_is_not_found(cast: Cast, device: Device) -> None:
    path = reverse("remove-passkey", args=[Passkey.objects.get().pk])
    assert at_home(cast, cast.runner).post(path).status_code == 404
    assert Passkey.objects.exists()


def test_a_key_belongs_to_one_person(cast: Cast, device: Device) -> None:
    other = User.objects.get(pk=cast.assistant.pk)
    other.set_password("heron lamp 19 oar")
    other.save()
    client = at_home(cast, other)
    _same, said = device.makes(question(client, f"{OWN}ask/"))
    assert client.post(OWN, {"name": "Mine", "said": said}).status_code == 422
    assert [row.user for row in Passkey.objects.all()] == [cast.head]


@pytest.mark.parametrize("other", [{"flags": PRESENT}, {"origin": "https://elsewhere.example"}])
def test_a_device_that_does_not_know_its_owner_is_not_added(
    cast: Cast, other: dict[str, Any]
) -> None:
    client = at_home(cast, cast.head)
    _device, said = Device(**other).makes(question(client, f"{OWN}ask/"))
    answer = client.post(OWN, {"name": "Phone", "said": said})
    assert answer.status_code == 422
    assert "No passkey was made." in answer.content.decode()
    assert not Passkey.objects.exists()


def test_one_person_has_twenty_and_no_more(cast: Cast, device: Device) -> None:
    client = at_home(cast, cast.head)
    for n in range(passkeys.MOST - 1):
        added(client, Device(), name=f"Phone {n}")
    assert "Remove one before you add another." in client.get(OWN).content.decode()
    _device, said = Device().makes(question(client, f"{OWN}ask/"))
    assert client.post(OWN, {"name": "One more", "said": said}).status_code == 422
    assert Passkey.objects.count() == passkeys.MOST


def test_the_password_is_asked_before_a_key_is_added_or_removed(
    cast: Cast, device: Device, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = at_home(cast, cast.head)
    later = timezone.now() + timedelta(minutes=10)
    monkeypatch.setattr("shared.sure.timezone.now", lambda: later)
    row = reverse("remove-passkey", args=[Passkey.objects.get().pk])
    for method, path in (("get", OWN), ("post", OWN), ("post", f"{OWN}ask/"), ("post", row)):
        assert 'name="sure_password"' in getattr(client, method)(path).content.decode()
    assert Passkey.objects.count() == 1


def test_who_came_by_a_link_says_the_password_first(cast: Cast, device: Device) -> None:
    """A link that was handed over is not the password; without one there is none to say."""
    for path in (OWN, "/account/codes/"):
        client = visitor()
        client.post(path_of(new_link(cast.head, timezone.now())))
        assert client.get("/").context["user"] == cast.head
        assert 'name="sure_password"' in client.get(path).content.decode()
    client = visitor()
    client.post(path_of(new_link(cast.assistant, timezone.now())))
    assert client.get(OWN).headers["Location"] == "/account/"
    chosen = {"password": "heron lamp 19 oar"}
    assert client.post("/account/", chosen).headers["Location"] == "/"
    assert 'name="sure_password"' not in client.get(OWN).content.decode()


def test_wrong_answers_lock_the_key_there_and_no_password(cast: Cast, device: Device) -> None:
    wrong = {"signature": b""}
    client = visitor()
    tries = [enter(client, device, **wrong) for _ in range(7)]
    assert tries[-1] == "429"
    assert enter(client, device) == "429"
    assert enter(visitor("10.1.1.1"), device) == "/"
    said = {"username": "head", "password": PASSWORD}
    assert visitor().post("/sign-in/", said).headers["Location"] == "/"
    kept = AccessAttempt.objects.get()
    assert kept.username == "passkey of head"
    assert "signature" not in kept.post_data


def test_who_guesses_passwords_locks_no_passkey(cast: Cast, device: Device) -> None:
    for n in range(MOST + 1):
        said = {"username": f"name{n // 5}", "password": "nonsense"}
        visitor().post("/sign-in/", said)
    for _ in range(7):
        visitor().post("/sign-in/", {"username": "head", "password": "nonsense"})
    right = {"username": "head", "password": PASSWORD}
    assert visitor().post("/sign-in/", right).status_code == 429
    assert enter(visitor(), device) == "/"


def test_asking_alone_fills_no_table(cast: Cast) -> None:
    for _ in range(3):
        question(visitor(), ASK)
    Session.objects.update(expire_date=timezone.now() - timedelta(seconds=1))
    question(visitor(), ASK)
    assert Session.objects.count() == 1


JSONS = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=8,
)


FIELDS = ("id", "rawId", "type", "response")
INSIDE = ("clientDataJSON", "authenticatorData", "signature", "userHandle")


@effort(
    max_examples=300,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(name=st.sampled_from(FIELDS + INSIDE), value=JSONS | st.binary().map(base64url))
def test_nonsense_in_any_place_is_answered_and_opens_nothing(
    cast: Cast, device: Device, name: str, value: Any
) -> None:
    asked = {"challenge": base64url(b"1" * 32), "rpId": "localhost"}
    right = json.loads(device.answers(asked))
    place = right if name in FIELDS else right["response"]
    is_spoilt = place[name] != value
    place[name] = value
    assert (taken(json.dumps(right)) is None) is is_spoilt


@pytest.mark.parametrize(
    "text", ["", "[" * 5000, "\x00", "null", "[]", '{"id": 1}', '{"id": "\\u0000"}']
)
def test_what_is_no_answer_at_all_opens_nothing(cast: Cast, device: Device, text: str) -> None:
    assert taken(text) is None


def test_the_answer_that_is_spoilt_there_opens_when_it_is_not(cast: Cast, device: Device) -> None:
    asked = {"challenge": base64url(b"1" * 32), "rpId": "localhost"}
    assert taken(device.answers(asked)) == cast.head


def taken(text: str) -> User | None:
    kept = passkeys.PasskeyQuestion(b"1" * 32, "")
    said = passkeys.Said(passkeys.Site("localhost", "http://localhost"), kept, text)
    name = passkeys.counted_as(passkeys.found(text))
    return passkeys.PasskeyBackend().authenticate(HttpRequest(), name, said)
