"""Fixtures that every test may use."""

from __future__ import annotations

import pytest

from tests.cast import Cast, make_cast


@pytest.fixture
def cast(db: None) -> Cast:
    """The small cast: a club, two teams, a head coach, an assistant, strangers, a play."""
    return make_cast()
