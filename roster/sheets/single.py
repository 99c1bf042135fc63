"""One player's sheet as a file, kept by all that it shows."""

from __future__ import annotations

import io

from django.utils import timezone
from django.utils.text import slugify

from roster.core.paper.sheet_pdf import write_sheets
from roster.models import Player
from roster.sheets.load import TeamSheets
from shared.pieces import kept


def player_pdf(loaded: TeamSheets, player: Player, paper: str, club: str) -> bytes:
    """The sheet of a player of the team, as it was written for others before."""
    today, speech = timezone.localdate(), loaded.team.speech()

    def write() -> bytes:
        out = io.BytesIO()
        sheet = loaded.sheet(player.pk, today, speech)
        write_sheets([sheet], out, paper=paper, club=club, language=speech)
        return out.getvalue()

    return kept(loaded.team.pk, ("pdf", paper, club, today, loaded.facts(player.pk)), write)


def file_name(player: Player) -> str:
    """By number and name, in letters that every system takes."""
    return f"{slugify(f'{player.number}-{player.name}') or 'sheet'}.pdf"
