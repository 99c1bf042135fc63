"""What all pages of a player share: whose they are, in what language, and which part is shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final, cast
from urllib.parse import urlencode

from django.http import Http404, HttpRequest
from django.utils import timezone

from plays.core.moves.moves import mirror
from plays.core.play import Role
from roster.core.paper.sheet import SheetPart
from roster.models import Player, PlayerLink
from roster.player.news import Place
from roster.sheets.load import TeamSheets, team_sheets
from roster.squad.door import reads_only, token_here
from roster.squad.spoken import others_than, speaks_here
from shared.core.language import Language
from shared.pieces import KeptPiece

OTHER_SIDE: Final = "other"
OWN: Final = "own"


@dataclass(frozen=True, slots=True)
class OwnPlace:
    """A role of the player's in a play, as drawn or from the other side of the court."""

    loaded: TeamSheets
    player: Player
    entry: int
    role: Role
    speaks: str
    mirrored: bool
    own_eyes: bool

    @property
    def speech(self) -> Language:
        """How the player is spoken to: in the language chosen, in the team's choice of words."""
        return self.player.team.speech(self.speaks)

    def part(self) -> SheetPart:
        """The part in the player's language."""
        loaded = _mirrored(self.loaded, self.entry) if self.mirrored else self.loaded
        sheet = loaded.sheet(self.player.pk, timezone.localdate(), self.speech)
        parts: dict[Place, SheetPart] = {(part.carried.id, part.role): part for part in sheet.parts}
        return parts[self.entry, self.role]

    def piece(self, what: str, make: Callable[[], bytes]) -> KeptPiece:
        """A piece of the page, made once for everything that it depends on."""
        here = what, self.speaks, self.entry, self.role, self.mirrored, self.own_eyes
        return KeptPiece(self.player.team_id, (here, self.loaded.facts(self.player.pk)), make)

    def address(self) -> dict[str, Any]:
        """What templates need to lead to the pages of this part."""
        side = f"?side={OTHER_SIDE}" if self.mirrored else ""
        return {
            "entry": self.entry,
            "role": int(self.role),
            "side": side,
            "mirrored": self.mirrored,
            "own_eyes": self.own_eyes,
            "eyes_here": self._query(own_eyes=not self.own_eyes, mirrored=self.mirrored),
            "side_here": self._query(own_eyes=self.own_eyes, mirrored=not self.mirrored),
        }

    @staticmethod
    def _query(*, own_eyes: bool, mirrored: bool) -> str:
        asked = {"side": OTHER_SIDE} if mirrored else {}
        asked |= {"eyes": OWN} if own_eyes else {}
        return f"?{urlencode(asked)}" if asked else ""


def own_place(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> OwnPlace:
    """The part that the address names, with what it is made from. Http404 for a role of others."""
    player = link.player
    loaded = team_sheets(player.team)
    mine = {(place.play, place.role) for place in loaded.cast.of(player.pk)}
    if entry not in loaded.revisions or (entry, str(role)) not in mine:
        raise Http404
    return OwnPlace(
        loaded,
        player,
        entry,
        cast("Role", str(role)),
        speaks_to(request, player),
        request.GET.get("side") == OTHER_SIDE,
        request.GET.get("eyes") == OWN,
    )


def _mirrored(loaded: TeamSheets, entry: int) -> TeamSheets:
    package = tuple(
        replace(carried, play=mirror(carried.play)) if carried.id == entry else carried
        for carried in loaded.package
    )
    return replace(loaded, package=package)


def base(link: PlayerLink, request: HttpRequest, speaks: str) -> dict[str, Any]:
    """What every template of these pages needs."""
    player = link.player
    return {
        "player": player,
        "sheet_team": str(player.team),
        "token": token_here(request),
        "others": others_than(speaks),
        "reads_only": reads_only(link, request),
    }


def speaks_to(request: HttpRequest, player: Player) -> str:
    """The language that the player asks for now, or chose before; else the team's."""
    return speaks_here(request, player.team.language)
