"""Error pages speak the reader's language, also the one for a fault of ours."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from roster.squad import door

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("speech", "said"),
    [("en", "This link opens nothing here"), ("es", "Este enlace no abre nada aquí")],
)
def test_a_link_that_opens_nothing(client: Client, speech: str, said: str) -> None:
    answer = client.get(reverse("my-plays", args=["x.y"]), headers={"accept-language": speech})
    assert answer.status_code == 404
    assert f"<h1>{said}</h1>" in answer.content.decode()


@pytest.mark.parametrize(("speech", "said"), [("en", "Something broke"), ("es", "Algo se ha roto")])
def test_a_fault_of_ours(monkeypatch: pytest.MonkeyPatch, speech: str, said: str) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr(door, "link_behind", broken)
    client = Client(raise_request_exception=False)
    answer = client.get(reverse("my-plays", args=["x.y"]), headers={"accept-language": speech})
    assert answer.status_code == 500
    assert f"<h1>{said}</h1>" in answer.content.decode()
    assert f'<html lang="{speech}">' in answer.content.decode()
