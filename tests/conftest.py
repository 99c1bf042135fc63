"""Fixtures that every test may use, and how far Hypothesis looks.

A usual run draws the same examples each time, so that a change is judged by itself and not by
luck; ``HYPOTHESIS_PROFILE=wide`` looks further, with new examples in every run.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

from tests.cast import Cast, make_cast

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
settings.register_profile(
    "steady",
    max_examples=30,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=SLOW,
)
settings.register_profile("wide", max_examples=500, deadline=None, suppress_health_check=SLOW)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


@pytest.fixture
def cast(db: None) -> Cast:
    """The small cast: a club, two teams, a head coach, an assistant, strangers, a play."""
    return make_cast()
