"""Every constant of the check is listed with where it comes from: a source, or ours."""

from __future__ import annotations

from dataclasses import fields

import pytest

from plays.core.defence.guarding import ABOUT, Guarding
from plays.core.defence.uncertain import Constants
from plays.core.motion.meaning import MEANING, Footing, Meaning, meaning
from plays.core.motion.pace import Pace
from plays.core.play import AgeGroup

OF_PACE = tuple(field.name for field in fields(Pace))
OF_GUARDING = tuple(field.name for field in fields(Guarding))
ABOUT_ALL = [
    *ABOUT.values(),
    *(meaning(age, name) for age in AgeGroup for name in OF_PACE),
]


def test_each_constant_of_the_frozen_value_has_its_line_and_nothing_else_has() -> None:
    assert {field.name for field in fields(Constants)} == {"pace", "guarding"}
    assert set(MEANING) == set(OF_PACE)
    assert set(ABOUT) == set(OF_GUARDING)


@pytest.mark.parametrize("about", ABOUT_ALL, ids=lambda about: about.says)
def test_what_is_not_ours_names_its_source(about: Meaning) -> None:
    assert about.says
    assert about.basis is Footing.OURS or about.source


def test_the_arms_length_behind_a_post_player_is_ours() -> None:
    assert ABOUT["at_back"].basis is Footing.OURS
