"""A way back in by mail: to whom, how often, what it opens, and what it tells nobody."""

from __future__ import annotations

import re
import socketserver
import threading
from collections.abc import Iterator
from datetime import timedelta
from smtplib import (
    SMTPAuthenticationError,
    SMTPConnectError,
    SMTPDataError,
    SMTPRecipientsRefused,
)

import pytest
from django.core import mail as box
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pytest_django.fixtures import Settings

from coachbook.accounts import codes
from coachbook.accounts.mail import MOST_AT_ONCE, MOST_FOR_ONE_NAME, MOST_FROM_ONE_ADDRESS, proof_of
from coachbook.log_lines import WithoutLinks, without_links
from shared.models import Change, Mailing, SignInLink, User
from shared.worker import perform
from tests.cast import Cast

PATH = "/sign-in/forgotten/"
ORIGIN = "https://plays.example.org"
NEW = "heron lamp 19 oar"


@pytest.fixture(autouse=True)
def with_mail(settings: Settings) -> None:
    settings.HAS_MAIL = True
    settings.CSRF_TRUSTED_ORIGINS = [ORIGIN]
    settings.DEFAULT_FROM_EMAIL = "plays@example.org"


@pytest.fixture
def head(cast: Cast) -> User:
    """The head coach, who has proved a mail address."""
    User.objects.filter(pk=cast.head.pk).update(email="hedda@example.org")
    cast.head.refresh_from_db()
    return cast.head


def asked(name: str, client: Client | None = None) -> tuple[int, str, list[str]]:
    """What the page answers, and the mails that the background then sends."""
    before = len(box.outbox)
    answer = (client or Client()).post(PATH, {"username": name}, follow=True)
    for row in Mailing.objects.filter(state="running"):
        perform(row)
    said = re.sub(r'(csrfmiddlewaretoken" value)="[^"]*"', r"\1", answer.content.decode())
    return answer.status_code, said, [str(each.body) for each in box.outbox[before:]]


def path_in(text: str) -> str:
    found = re.search(rf"{ORIGIN}(/\S+)", text)
    assert found
    return found[1]


def test_a_mail_leads_to_a_new_password_and_ends_other_sessions(head: User, cast: Cast) -> None:
    elsewhere = cast.client(head)
    assert elsewhere.get("/").status_code == 200
    status, _, (text,) = asked("Head ")
    assert status == 200
    (sent,) = box.outbox
    assert (sent.to, sent.from_email) == (["hedda@example.org"], "plays@example.org")
    assert "Lindwater Basketball" in sent.subject
    client = Client()
    assert client.get(path_in(text)).status_code == 200  # a mail program that looks uses nothing up
    assert client.post(path_in(text)).headers["Location"] == "/account/"
    assert Client().post(path_in(text)).status_code == 404
    assert client.post("/account/", {"password": NEW}).headers["Location"] == "/"
    assert elsewhere.get("/").status_code == 302
    signed_in = Client().post("/sign-in/", {"username": "head", "password": NEW})
    assert signed_in.headers["Location"] == "/"


def test_the_page_tells_nothing_about_who_exists(head: User, cast: Cast) -> None:
    User.objects.filter(pk=cast.stranger.pk).update(email="stig@example.org", is_active=False)
    answers = {name: asked(name) for name in ("head", "assistant", "nobody", "stranger")}
    assert {said for _, said, _ in answers.values()} == {answers["head"][1]}
    assert {name: len(mails) for name, (_, _, mails) in answers.items()} == {
        "head": 1,
        "assistant": 0,
        "nobody": 0,
        "stranger": 0,
    }


def test_the_link_ends_within_an_hour(head: User) -> None:
    asked("head")
    link = SignInLink.objects.get()
    assert timezone.now() < link.opens_until <= timezone.now() + timedelta(hours=1)


def test_who_has_a_code_is_asked_for_it_too(head: User) -> None:
    codes.switch_on(head, "nonce", 0)
    (text,) = asked("head")[2]
    client = Client()
    assert client.post(path_in(text)).headers["Location"] == "/sign-in/code/"
    assert client.get("/account/").status_code == 302


def test_one_name_gets_few_mails_and_the_page_says_the_same(head: User) -> None:
    answers = [asked("head") for _ in range(MOST_FOR_ONE_NAME + 1)]
    assert [len(mails) for _, _, mails in answers] == [1] * MOST_FOR_ONE_NAME + [0]
    assert len({said for _, said, _ in answers}) == 1


def test_one_address_asks_for_few_names(head: User) -> None:
    for n in range(MOST_FROM_ONE_ADDRESS):
        assert asked(f"coach{n}")[0] == 200
    status, said, mails = asked("head")
    assert (status, mails) == (422, [])
    assert "try again in an hour" in said
    assert 'value="head"' in said
    assert asked("head", Client(REMOTE_ADDR="10.1.1.1"))[0] == 200
    Mailing.objects.update(asked_at=timezone.now() - timedelta(hours=1))
    assert asked("head")[0] == 200


def test_few_processes_run_at_once(head: User) -> None:
    for n in range(MOST_AT_ONCE):
        Mailing.objects.create(said="x", asked_from=f"10.0.0.{n}", language="en")
    assert Client().post(PATH, {"username": "head"}).status_code == 422


def test_what_was_asked_is_forgotten_after_a_day(head: User) -> None:
    asked("head")
    Mailing.objects.update(asked_at=timezone.now() - timedelta(days=1))
    asked("nobody")
    assert [row.said for row in Mailing.objects.all()] == ["nobody"]


@pytest.mark.parametrize("name", ["", "x" * 61, "\x00"])
def test_a_fault_is_told_at_its_field(cast: Cast, name: str) -> None:
    answer = Client().post(PATH, {"username": name})
    assert answer.status_code == 422
    assert 'id="id_username_error"' in answer.content.decode()


def test_a_forged_host_is_not_in_the_mail(head: User, settings: Settings) -> None:
    settings.ALLOWED_HOSTS = ["*"]
    (text,) = asked("head", Client(SERVER_NAME="elsewhere.example"))[2]
    assert "elsewhere" not in text
    assert path_in(text).startswith("/sign-in/")


def test_a_mail_speaks_the_language_of_who_asked(head: User) -> None:
    (text,) = asked("head", Client(HTTP_ACCEPT_LANGUAGE="es"))[2]
    assert text.startswith("Hola, Hedda:")


def test_an_address_counts_once_a_mail_to_it_was_opened(cast: Cast) -> None:
    client = cast.client(cast.head)
    assert "no-store" in client.get("/account/mail/").headers["Cache-Control"]
    client.post("/account/mail/", {"mail": "hedda@example.org"})
    assert not User.objects.exclude(email="").exists()
    perform(Mailing.objects.get())
    (sent,) = box.outbox
    assert sent.to == ["hedda@example.org"]
    path = path_in(str(sent.body))
    assert cast.client(cast.assistant).post(path).status_code == 404
    assert Client().post(path).headers["Location"] == f"/sign-in/?next={path}"
    assert client.get(path).status_code == 200
    assert not User.objects.exclude(email="").exists()
    assert client.post(path).headers["Location"] == "/account/"
    assert User.objects.get(pk=cast.head.pk).email == "hedda@example.org"
    assert client.post(path).status_code == 404
    assert "hedda@example.org" in client.get("/account/").content.decode()
    client.post("/account/mail/", {"mail": ""})
    assert not User.objects.exclude(email="").exists()
    verbs = Change.objects.order_by("pk").values_list("verb", flat=True)
    assert list(verbs)[-2:] == ["set mail address", "took mail address away"]


def test_the_proof_ends_after_a_day(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    path = reverse("prove-mail", args=[proof_of(cast.head, "hedda@example.org")])
    client = cast.client(cast.head)
    assert client.get(path).status_code == 200
    assert client.get(path[:-2] + "x/").status_code == 404
    monkeypatch.setattr("coachbook.accounts.mail.PROOF_LASTS", timedelta(seconds=-1))
    assert client.get(path).status_code == 404


def test_the_log_holds_no_proof(cast: Cast) -> None:
    path = reverse("prove-mail", args=[proof_of(cast.head, "hedda@example.org")])
    assert without_links(f"GET {path} 200") == "GET /account/mail/[link]/ 200"


@pytest.mark.parametrize("address", ["hedda", "hedda@", "a@b.org\nBcc: c@d.org", "x" * 255])
def test_a_wrong_address_is_told_and_kept(cast: Cast, address: str) -> None:
    answer = cast.client(cast.head).post("/account/mail/", {"mail": address})
    assert answer.status_code == 422
    assert 'id="id_mail_error"' in answer.content.decode()
    assert not Mailing.objects.exists()


def test_a_change_of_the_address_asks_for_the_password(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = cast.client(cast.head)
    later = timezone.now() + timedelta(minutes=10)
    monkeypatch.setattr("shared.sure.timezone.now", lambda: later)
    answer = client.post("/account/mail/", {"mail": "thief@example.org"})
    assert "sure_password" in answer.content.decode()
    assert not Mailing.objects.exists()


def test_a_removed_persons_address_goes(head: User, cast: Cast) -> None:
    cast.client(cast.runner).post(reverse("remove-person", args=[head.pk]))
    assert not User.objects.exclude(email="").exists()


REFUSALS: dict[str, tuple[Exception, str, str, str]] = {
    # By name: what Python's smtplib raises, what is read in English and in Spanish, and in the log.
    "nobody listens": (
        ConnectionRefusedError(111, "Connection refused"),
        "did not answer",
        "no ha respondido",
        "answer: ConnectionRefusedError 111",
    ),
    "too slow": (TimeoutError("timed out"), "did not answer", "no ha respondido", "TimeoutError"),
    "busy": (
        SMTPConnectError(421, b"closing"),  # RFC 5321, 4.2.3
        "did not answer",
        "no ha respondido",
        "answer: SMTPConnectError 421",
    ),
    "no such address": (
        SMTPRecipientsRefused({"hedda@example.org": (550, b"unknown")}),
        "takes no mail for this address",
        "no acepta correo para esta dirección",
        "address: SMTPRecipientsRefused 550",
    ),
    "not let in": (
        SMTPAuthenticationError(535, b"no"),  # RFC 4954, 6
        "does not let this site in",
        "no deja entrar a este sitio",
        "leave: SMTPAuthenticationError 535",
    ),
    "refused": (
        SMTPDataError(554, b"spam"),
        "did not take it",
        "no lo ha aceptado",
        "refused: SMTPDataError 554",
    ),
}


@pytest.mark.parametrize("name", REFUSALS)
def test_a_mail_that_cannot_be_sent_says_why_in_both_languages_and_where_the_log_tells_more(
    cast: Cast,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
    name: str,
) -> None:
    raised, english, spanish, logged = REFUSALS[name]

    def refuse(*_mail: object) -> None:
        raise raised

    monkeypatch.setattr("coachbook.accounts.mail.send_mail", refuse)
    client = cast.client(cast.head)
    client.post("/account/mail/", {"mail": "hedda@example.org"})
    perform(Mailing.objects.get())
    for code, words in (("en", english), ("es", spanish)):
        caplog.clear()
        read = client.get("/account/", headers={"accept-language": code}).content.decode()
        assert words in read
        assert str(raised) not in read
        line = next(each for each in caplog.records if each.name == "coachbook.accounts.mail")
        assert logged in line.getMessage()
        assert "hedda@example.org" not in line.getMessage()
        told = WithoutLinks().format(line)
        reference = re.search(r"\[reference ([0-9A-Z-]{9})\]", told)
        assert reference is not None
        assert reference[1] in read


def test_a_mail_that_was_taken_is_no_fault(cast: Cast) -> None:
    client = cast.client(cast.head)
    client.post("/account/mail/", {"mail": "hedda@example.org"})
    perform(Mailing.objects.get())
    assert "could not be sent" not in client.get("/account/").content.decode()


def test_without_a_mail_server_nothing_speaks_of_mail(cast: Cast, settings: Settings) -> None:
    assert PATH in Client().get("/sign-in/").content.decode()
    settings.HAS_MAIL = False
    assert PATH not in Client().get("/sign-in/").content.decode()
    assert Client().post(PATH, {"username": "head"}).status_code == 404
    assert "/account/mail/" not in cast.client(cast.head).get("/account/").content.decode()


class _Desk(socketserver.StreamRequestHandler):
    """The least that RFC 5321 asks of who takes mail in."""

    taken: list[str] = []

    def handle(self) -> None:
        self.say("220 here")
        while line := self.rfile.readline().decode():
            if line.upper().startswith("DATA"):
                self.say("354 go on")
                self.taken.append("".join(iter(self.read_line, ".\r\n")))
                self.say("250 taken")
            elif line.upper().startswith("QUIT"):
                self.say("221 bye")
                return
            else:
                self.say("250 well")

    def read_line(self) -> str:
        return self.rfile.readline().decode()

    def say(self, text: str) -> None:
        self.wfile.write(f"{text}\r\n".encode())


@pytest.fixture
def desk() -> Iterator[tuple[int, list[str]]]:
    _Desk.taken = []
    with socketserver.TCPServer(("127.0.0.1", 0), _Desk) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_address[1], _Desk.taken
        server.shutdown()


def test_a_mail_is_handed_in_over_smtp(
    head: User, settings: Settings, desk: tuple[int, list[str]]
) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", desk[0]
    asked("head")
    (text,) = desk[1]
    assert "To: hedda@example.org" in text
    assert f"{ORIGIN}/sign-in/" in text
