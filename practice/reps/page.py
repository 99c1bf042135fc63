"""What the courtside page carries with it, so that it works where there is no signal."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import UTC
from typing import Any

from django.db.models import Prefetch
from django.utils import timezone
from django.utils.translation import gettext as _

from plays.core.play import ROLES
from plays.values import read_ahead
from practice.core.reps.rep import Mode
from practice.models import ModeChoice, Practice, SlipChoice
from practice.presence import away_from
from practice.reps.store import tally_of
from roster.bridge import names_of
from roster.cast.changes import package_with_cast
from roster.core.cast import DEPTHS
from roster.models import Availability, PackagePlay, Player, Unit
from shared.models import User

Cast = Mapping[tuple[str, int], int]


def prefilled(
    cast: Cast, allowed: Collection[int], fill_from: Iterable[int] = ()
) -> list[int | None]:
    """A player for each role: by depth among those allowed, then anybody of ``fill_from``."""
    five: dict[str, int] = {}
    for depth in DEPTHS:
        for role in ROLES:
            who = cast.get((role, depth))
            if role not in five and who in allowed and who not in five.values():
                five[role] = who  # type: ignore[assignment]  # None is in no squad
    rest = [who for who in fill_from if who in allowed and who not in five.values()]
    for role in ROLES:
        if role not in five and rest:
            five[role] = rest.pop(0)
    return [five.get(role) for role in ROLES]


def court_data(practice: Practice, user: User) -> dict[str, Any]:
    """Plain values for the page's script: plays with their fives, people, blocks, counts."""
    players = list(practice.team.players.present())
    away = away_from(practice)
    units = list(practice.team.units.prefetch_related(Prefetch("members")))
    entries = list(package_with_cast(practice.team))
    read_ahead(entry.revision for entry in entries)
    names = names_of(players)
    return {
        "practice": practice.pk,
        "team": practice.team_id,
        "by": user.pk,
        "at": timezone.now().astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ"),
        "players": [person(player, away, names.player(player.pk)) for player in players],
        "units": [{"id": unit.pk, "name": unit.name} for unit in units],
        "plays": [_play(entry, players, away, units) for entry in entries],
        "blocks": _blocks(practice, {entry.pk for entry in entries}),
        "modes": [list(choice) for choice in ModeChoice.choices if choice[0] != Mode.GAME.value],
        "slips": [list(choice) for choice in SlipChoice.choices],
        "tally": tally_of(practice.pk),
        "words": words(),
    }


def person(player: Player, away: Collection[int], name: str) -> dict[str, Any]:
    """Somebody of the squad, as the pages at the court carry them."""
    return {
        "id": player.pk,
        "name": name,
        "number": player.number,
        "away": player.pk in away,
        "limited": player.availability == Availability.LIMITED,
        "out": player.availability == Availability.OUT,
    }


def _play(
    entry: PackagePlay, players: list[Player], away: Collection[int], units: list[Unit]
) -> dict[str, Any]:
    cast = {(c.role, c.depth): c.player_id for c in entry.castings.all()}
    quiet = {p.pk for p in players if p.pk not in away and p.availability != Availability.OUT}
    live = quiet - {p.pk for p in players if p.availability == Availability.LIMITED}
    behind = {place: who for place, who in cast.items() if place[1] > 1}
    fives = {
        "": [prefilled(cast, quiet), prefilled(cast, live)],
        "seconds": [
            prefilled(behind, some, [who for who in cast.values() if who in some])
            for some in (quiet, live)
        ],
    }
    for unit in units:
        members = [player.pk for player in unit.members.all()]
        fives[str(unit.pk)] = [
            prefilled(cast, some & set(members), members) for some in (quiet, live)
        ]
    return {
        "id": entry.pk,
        "call": entry.spoken(),
        "calls": entry.calls(),
        "revision": entry.revision_id,
        "fives": fives,
    }


def _blocks(practice: Practice, carried: Collection[int]) -> list[dict[str, Any]]:
    """What is to be run, in its order: each run of a block made from an install plan by itself."""
    return [
        {
            "play": block.entry_id,
            "mode": mode,
            "unit": unit,
            "drill": block.drill.name if block.drill else "",
        }
        for block in practice.blocks.select_related("drill").defer("drill__picture")
        if block.entry_id in carried
        for mode, unit in [(run["mode"], run["unit"]) for run in block.runs]
        or [(block.mode, block.unit_id)]
    ]


def words() -> dict[str, str]:
    """The sentences that the script says; {n} and the like are filled there."""
    return sending_words() | {
        "count": _("{clean} of {total} clean"),
        "block": _("Block {n} of {of}"),
        "block_of_drill": _("Block {n} of {of}: {drill}"),
        "no_block": _("Play"),
        "clean": _("clean"),
        "error": _("error"),
        "limited": _("limited: not in live reps"),
        "empty": _("Put somebody in every role first."),
        "firsts": _("First five"),
        "seconds": _("Second five"),
    }


def sending_words() -> dict[str, str]:
    """What every log on a phone says of its taps and of people."""
    return {
        "waiting": _("{n} waiting"),
        "logged": _("All logged"),
        "offline": _("No signal: reps are kept on this phone and sent later."),
        "signed_out": _("You are signed out: reps are kept on this phone. Sign in to send them."),
        "refused": _("The server does not take these reps. Hand them over as a file."),
        "stuck": _(
            "The server stumbles over a rep, and is asked again. The others are logged. You can "
            "save the stuck one as a file and let it go."
        ),
        "no_storage": _(
            "This browser keeps nothing for this page: reps are lost when it closes before "
            "they are sent. Leave it open, or hand the reps over as a file."
        ),
        "full": _(
            "The phone's storage is full: new reps are kept only while this page is open. "
            "Hand them over as a file, or free some space."
        ),
        "held": _("{n} kept for a decision"),
        "undone": _("taken back"),
        "nobody": _("nobody"),
        "away": _("absent"),
        "out": _("out until cleared"),
        "who": _("Role {role}: who?"),
        "in_role": _("in role {role}"),
    }
