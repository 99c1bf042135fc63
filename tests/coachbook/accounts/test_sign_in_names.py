"""The names that people sign in with: any that people write, one suggested."""

from __future__ import annotations

import pytest
from django.test import Client

from coachbook.accounts.changes import set_up_path
from coachbook.accounts.names import as_sign_in_name, is_sign_in_name, suggested
from shared.models import User
from tests.cast import Cast

FOUNDING = {"club": "Lindwater", "name": "Ana María López", "password": "heron lamp 19 oar"}


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Hedda", "hedda"),
        ("  Ana  María ", "ana maría"),
        ("O'Brien-Smith", "o'brien-smith"),
        ("coach@lindwater.example", "coach@lindwater.example"),
        ("ＨＥＤＤＡ", "hedda"),  # the wide letters of NFKC, Unicode Standard Annex 15
        ("Jo", "jo"),
        ("अनिता", "अनिता"),
        ("7", ""),
        ("-ana", ""),
        ("ana<b>", ""),
        ("ana\u202egnp", ""),  # turns what follows around
        ("a" * 61, ""),
        ("", ""),
    ],
)
def test_what_can_be_a_name(typed: str, kept: str) -> None:
    name = as_sign_in_name(typed)
    assert (name if is_sign_in_name(name) else "") == kept


@pytest.mark.parametrize(
    ("person", "taken", "name"),
    [
        ("Ana María López", set(), "ana"),
        ("Ana María López", {"ana"}, "ana maría lópez"),
        ("Ana", {"ana", "ana 2"}, "ana 3"),
        ("(Ana) <3", set(), "ana"),
        ("!!", set(), ""),
        ("X", set(), "x 2"),
        ("J. Doe", set(), "j."),
    ],
)
def test_one_is_made_of_a_persons_name(person: str, taken: set[str], name: str) -> None:
    assert suggested(person, taken.__contains__) == name


@pytest.mark.django_db
def test_left_empty_it_is_the_first_name_and_is_said() -> None:
    client = Client()
    said = client.post(set_up_path(), {**FOUNDING, "username": ""}, follow=True)
    assert User.objects.get().username == "ana"
    assert "You sign in as “ana”." in said.content.decode()


@pytest.mark.django_db
def test_it_opens_however_it_is_typed() -> None:
    Client().post(set_up_path(), {**FOUNDING, "username": "Ana María"})
    assert User.objects.get().username == "ana maría"
    for typed in ("Ana María", " ANA  MARÍA ", "ana maría"):
        sent = {"username": typed, "password": FOUNDING["password"]}
        assert Client().post("/sign-in/", sent).status_code == 302, typed


def test_capitals_do_not_pass_under_the_lock(cast: Cast) -> None:
    client = Client()
    spellings = ("head", "HEAD", "Head", " head", "hEAD", "heaD", "head")
    statuses = [
        client.post("/sign-in/", {"username": name, "password": "nonsense"}).status_code
        for name in spellings
    ]
    assert statuses[-1] == 429


def test_of_two_of_one_name_the_second_is_invited_under_another(cast: Cast) -> None:
    client = cast.client(cast.runner)
    for _ in range(2):
        sent = {"name": "Ulla", "username": "", "team": cast.team.pk, "duty": "assistant"}
        assert client.post("/staff/", sent).status_code == 302
    assert set(User.objects.filter(name="Ulla").values_list("username", flat=True)) == {
        "ulla",
        "ulla 2",
    }
