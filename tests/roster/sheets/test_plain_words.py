"""A team of beginners reads its sheet without a term of the trade, by age or by choice."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest

from plays.core.glossary.glossary import PLAIN
from plays.models import AgeGroup
from roster.models import Player
from roster.models.team import Wording
from tests.cast import Cast
from tests.roster.sheets.test_spanish import pages

pytestmark = pytest.mark.reading


@pytest.mark.parametrize(
    ("age", "wording", "plain"),
    [
        (AgeGroup.U12, Wording.BY_AGE, True),
        (AgeGroup.U16, Wording.BY_AGE, False),
        (AgeGroup.U16, Wording.PLAIN, True),
        (AgeGroup.U12, Wording.TRADE, False),
    ],
)
def test_a_team_chooses_the_words_of_its_sheets(
    cast: Cast, age: AgeGroup, wording: Wording, plain: bool
) -> None:
    cast.team.age_group, cast.team.wording = age, wording
    cast.team.save()
    assert cast.team.speaks_plainly is plain
    assert (cast.team.speech("es").vocabulary == PLAIN) is plain
    told = " ".join(pages_in_english(cast, cast.players[:5]))
    assert bool(re.search(r"low part of the (?:near|far) lane line", told)) is plain
    assert bool(re.search(r"the (?:near|far) block", told)) is not plain


def pages_in_english(cast: Cast, players: Sequence[Player]) -> list[str]:
    """Page and paper of each, without the list of what the words mean."""
    told = []
    for player in players:
        page, paper = pages(cast, player, "en")
        told += [page.split("What the words mean")[0], paper]
    return told
