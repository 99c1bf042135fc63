"""A play that has been begun on the court by the keeper of the site."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from plays.models import Play
from tests.cast import Cast


@pytest.fixture
def keeper(client: Client, cast: Cast) -> Client:
    client.force_login(cast.keeper)
    return client


@pytest.fixture
def begun(keeper: Client) -> Play:
    said = {
        "way": "court",
        "name": "Box Hill",
        "formation": "box",
        "edge": "sideline",
        "side": "right",
    }
    response = keeper.post(reverse("new-play"), said)
    assert response.status_code == 302
    return Play.objects.get(key="box-hill")
