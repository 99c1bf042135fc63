"""With a player marked out, the cast, the coverage, the five and the sheets tell one story."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from roster.cast.loaded import team_cast
from roster.core.coverage.absence import covered
from tests.cast import Cast


@pytest.fixture
def without_zoe(cast: Cast) -> Cast:
    """Zoë, first in role 5, is out; Runa is second."""
    zoe = cast.players[4]
    cast.client(cast.head).post(f"/players/{zoe.pk}/availability/", {"availability": "out"})
    return cast


def text(cast: Cast, path: str) -> str:
    response = cast.client(cast.head).get(path)
    assert response.status_code == 200
    if response.headers["Content-Type"] == "application/pdf":
        pages = PdfReader(io.BytesIO(response.content)).pages
        return " ".join(page.extract_text() for page in pages)
    return response.content.decode()


def test_the_grid_keeps_the_cast_and_says_who_steps_in(without_zoe: Cast) -> None:
    said = text(without_zoe, f"/teams/{without_zoe.team.pk}/cast/")
    assert "Gangway Runa" in said
    assert "steps in" in said
    assert "Zoë" in said
    assert without_zoe.entry.castings.filter(player=without_zoe.players[4]).exists()


def test_the_five_cannot_pick_them_and_fills_their_role(without_zoe: Cast) -> None:
    zoe, runa = without_zoe.players[4], without_zoe.players[5]
    said = text(without_zoe, f"/teams/{without_zoe.team.pk}/five/")
    assert re.search(rf'value="{zoe.pk}"\s+disabled', said)
    assert re.search(rf'value="{runa.pk}"\s+checked', said)
    assert "Gangway Runa" in said
    picked = "&".join(f"on={player.pk}" for player in without_zoe.players[:5])
    assert "Pick one more" in text(without_zoe, f"/teams/{without_zoe.team.pk}/five/?{picked}")


def test_coverage_counts_them_out_and_says_the_call_of_who_steps_in(without_zoe: Cast) -> None:
    said = text(without_zoe, f"/teams/{without_zoe.team.pk}/coverage/")
    assert "Gangway Runa" in said
    known = team_cast(without_zoe.team)
    squad = known.squad()
    assert squad.who_knows(without_zoe.entry.pk, "5") == (without_zoe.players[5].pk,)


def test_marked_out_and_supposed_out_are_the_same_figure(cast: Cast) -> None:
    zoe = cast.players[4]
    supposed = covered(team_cast(cast.team).squad(also_out=[zoe.pk])).share(cast.entry.pk)
    zoe.availability = "out"
    zoe.save()
    marked = covered(team_cast(cast.team).squad()).share(cast.entry.pk)
    assert 0 < marked == pytest.approx(supposed)


def test_her_stand_ins_sheet_says_that_she_is_first_now(without_zoe: Cast) -> None:
    runa = without_zoe.players[5]
    for path in (f"/players/{runa.pk}/sheet/", f"/players/{runa.pk}/sheet.pdf"):
        said = text(without_zoe, path)
        assert "For now you are first here, in place of Zoë." in said
        assert "You stand in for" not in said


def test_the_others_sheets_name_her_and_say_why_not(without_zoe: Cast) -> None:
    """That somebody else plays, and never the reason."""
    ida = without_zoe.players[0]
    for path in (f"/players/{ida.pk}/sheet/", f"/players/{ida.pk}/sheet.pdf"):
        said = text(without_zoe, path)
        assert "For now Runa takes role 5 in place of Zoë." in said
        assert "Gangway Runa" in said
        assert "Out until cleared" not in said


def test_her_own_sheet_is_as_if_she_were_there(without_zoe: Cast) -> None:
    said = text(without_zoe, f"/players/{without_zoe.players[4].pk}/sheet/")
    assert "Gangway Zoë" in said
    assert "For now" not in said


def test_the_printed_cast_and_the_bench_card_agree(without_zoe: Cast) -> None:
    grid = text(without_zoe, f"/teams/{without_zoe.team.pk}/cast/grid.pdf")
    assert "Gangway Runa" in grid
    card = text(without_zoe, f"/teams/{without_zoe.team.pk}/five/card.pdf")
    assert "5 Runa" in card
    assert "Zoë" not in card


def test_where_nobody_is_left_every_page_says_so(without_zoe: Cast) -> None:
    runa = without_zoe.players[5]
    runa.availability = "out"
    runa.save()
    team = without_zoe.team.pk
    assert "nobody can run it" in text(without_zoe, f"/teams/{team}/coverage/")
    on = [*without_zoe.players[:4], without_zoe.players[6]]
    five = "&".join(f"on={player.pk}" for player in on)
    assert "Nobody here knows role 5." in text(without_zoe, f"/teams/{team}/five/?{five}")
    sheet = text(without_zoe, f"/players/{without_zoe.players[0].pk}/sheet/")
    assert "For now nobody takes role 5." in sheet
