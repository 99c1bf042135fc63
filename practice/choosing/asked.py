"""The question which plays a team should carry, from the rows of library, squad and calendar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property
from hashlib import sha256

from django.utils import timezone

from plays.check.results import ShelfRow, library_rows
from plays.core.play import ROLES, AgeGroup, as_role
from plays.core.play import Play as PlayValue
from plays.values import play_value, read_ahead
from practice.bridge import moment
from practice.choosing.candidates import ChoiceShelf, barred, verdicts_of
from practice.choosing.facing import Facing, facing
from practice.choosing.judging import own_verdicts
from practice.core.choosing.learning import minutes_to_learn
from practice.core.choosing.question import (
    USUAL_OCCASIONS,
    Candidate,
    Occasion,
    PackageQuestion,
)
from practice.core.choosing.squad import likely_cast, suits_squad
from practice.core.install.question import Ask, PlayToInstall, PracticeSlot
from practice.core.reps.rep import Touch
from practice.install.plan import question as install_question
from practice.models import Game, PackageWishes, Practice
from practice.parameters import in_force, settings_row
from practice.reps.sums import touches_of
from roster.bridge import names_of, player_values
from roster.core.cast import Assignment, Cast, PlayerId, PlayId
from roster.core.casting.question import Ban, CastingQuestion, CastPlay
from roster.core.people import Player as PlayerValue
from roster.models import Availability, CastBan, KeptApart, PackagePlay, Player, Team

SUPPOSED = 40  # minutes, where the calendar has no practice before a game: our choice


@dataclass(frozen=True)
class AskedPackage:
    """The question as the core asks it, and the rows that it is about.

    ``game`` is the date that the minutes run to, None where the calendar has no practice before
    one. ``own``: every play is judged on the team's own court and at its own pace.
    """

    team: Team
    wishes: PackageWishes
    question: PackageQuestion
    rows: tuple[ShelfRow, ...]
    entries: Mapping[int, PackagePlay]  # by play, what the team carries
    fits: Mapping[PlayId, float]
    cast: Cast  # who would play: the coach's own first five, else the best by fit
    people: Mapping[PlayerId, PlayerValue]
    names: Mapping[PlayerId, str]
    game: Game | None
    games: tuple[Game, ...]
    practices: int
    own: bool
    facing: Facing

    @cached_property
    def fingerprint(self) -> str:
        """A digest of all that the answer depends on."""
        asked = self.question
        said = repr(
            (
                [
                    (
                        one.id,
                        sorted(one.covers),
                        sorted(one.turned),
                        one.series,
                        one.minutes,
                        one.turning,
                        sorted(one.saves.items()),
                        sorted(one.worth.items()),
                        sorted(one.holds),
                        one.begins,
                        one.bar,
                    )
                    for one in asked.candidates
                ],
                asked.occasions,
                asked.minutes,
                asked.beginnings,
                sorted(asked.shares.items()),
                sorted(asked.pins, key=str),
                sorted(asked.bans, key=str),
            )
        )
        return sha256(said.encode()).hexdigest()


def wishes_of(team: Team) -> PackageWishes:
    """The team's wishes; fresh ones, not saved yet, where nobody has said any."""
    found = PackageWishes.objects.filter(team=team).first() or PackageWishes(team=team)
    found.team = team  # at hand already
    return found


def asked_for(team: Team, now: datetime) -> AskedPackage:
    """The whole question: a constant number of queries."""
    wishes = wishes_of(team)
    rows = tuple(library_rows())
    read_ahead(row.play.published() for row in rows)
    values = {row.play.pk: play_value(row.play.published()) for row in rows}
    players = list(team.players.present())
    every = list(team.package.all().prefetch_related("castings"))
    games = tuple(_games(team, now))
    game = _until(wishes, games, now)
    ask = _ask(team, game, wishes, players, now)
    casting = _casting(team, values, players, every)
    cast = likely_cast(casting)
    fits = suits_squad(casting, cast, ask.rules)
    ask = replace(ask, plays=_to_learn(values, cast, every), history=_history(ask, every))
    own = own_verdicts(team, wishes)
    judged = {row.play.pk: verdicts_of(row, own, team.age_group) for row in rows}
    carried = {entry.play_id: entry for entry in every if entry.dropped_on is None}
    library = ChoiceShelf(
        values, judged, fits, minutes_to_learn(ask), {t.play for t in ask.history}, ask.rules
    )
    candidates = tuple(library.candidate(pk) for pk in values)
    candidates, met = barred(candidates, rows, team, players), facing(wishes, games)
    return AskedPackage(
        team=team,
        wishes=wishes,
        question=_question(candidates, wishes, ask, met, until_game=game is not None),
        rows=rows,
        entries=carried,
        fits=fits,
        cast=cast,
        people={person.id: person for person in casting.players},
        names=names_of(players).players,
        game=game,
        games=games,
        practices=len(ask.slots) if game else 0,
        own=all(row.play.published().content_hash in own for row in rows),
        facing=met,
    )


def _question(
    candidates: tuple[Candidate, ...],
    wishes: PackageWishes,
    ask: Ask,
    met: Facing,
    *,
    until_game: bool,
) -> PackageQuestion:
    """What is wished, within the minutes and beginnings that the practices before a game leave."""
    room = sum(slot.minutes for slot in ask.slots)
    begun = ask.rules.most_new * max(1, len(ask.slots))
    return PackageQuestion(
        candidates=candidates,
        occasions=tuple(o for o in Occasion if o.value in wishes.occasions) or USUAL_OCCASIONS,
        minutes=float(room if wishes.minutes is None else wishes.minutes),
        beginnings=begun if until_game else len(candidates),
        shares=met.shares,
        pins=frozenset(wishes.pins),
        bans=frozenset(wishes.bans),
    )


# --- until when ---------------------------------------------------------------------------


def _games(team: Team, now: datetime) -> list[Game]:
    ahead = Game.objects.filter(team=team).ahead(timezone.localdate(now))
    return list(ahead.select_related("met")[:12])


def _until(wishes: PackageWishes, games: Sequence[Game], now: datetime) -> Game | None:
    """The game that the coach named, else the first one before which there is a practice."""
    day = timezone.localdate(now)
    ahead = Practice.objects.filter(team=wishes.team).ahead(day)
    starts = [moment(practice.date, practice.start) for practice in ahead[:3]]
    first = next((start for start in starts if start > now), None)
    chosen = [game for game in games if game.pk == wishes.game_id]
    for game in chosen or games:
        if first is not None and first < moment(game.date, game.start):
            return game
    return None


def _ask(
    team: Team, game: Game | None, wishes: PackageWishes, players: Sequence[Player], now: datetime
) -> Ask:
    """Practices, people and readiness, as an install plan has them; its plays come later."""
    if game is not None:
        game.team = team
        return install_question(game, now).ask
    day = now + timedelta(days=1)
    minutes = float(SUPPOSED if wishes.minutes is None else wishes.minutes)
    out = frozenset(p.pk for p in players if p.availability == Availability.OUT)
    assumptions, offsets = in_force(settings_row())
    return Ask(
        game=day,
        slots=(PracticeSlot(0, now, minutes, out),),
        plays=(),
        players=tuple(player.pk for player in players),
        history=touches_of(team),
        assumptions=assumptions,
        offsets=offsets,
    )


# --- who plays it, and what is known -----------------------------------------------------


def _casting(
    team: Team,
    values: Mapping[int, PlayValue],
    players: Sequence[Player],
    entries: Sequence[PackagePlay],
) -> CastingQuestion:
    plays = {entry.pk: entry.play_id for entry in entries}
    here = {player.pk for player in players}
    bans = CastBan.objects.filter(player__team=team, player__left_on=None).order_by("pk")
    pairs = KeptApart.objects.filter(team=team).values_list("one_id", "other_id")
    return CastingQuestion(
        plays=tuple(CastPlay(pk, value.needs) for pk, value in values.items()),
        players=tuple(player_values(players)),
        group=AgeGroup(team.age_group),
        bans=tuple(
            Ban(
                ban.player_id,
                plays[ban.entry_id] if ban.entry_id else None,
                as_role(ban.role) if ban.role else None,
            )
            for ban in bans
            if (ban.entry_id is None or plays.get(ban.entry_id) in values)
        ),
        never_together=tuple(pair for pair in pairs if set(pair) <= here),
        present=Cast(
            tuple(
                Assignment(entry.play_id, as_role(c.role), c.depth, c.player_id)
                for entry in entries
                if entry.dropped_on is None and entry.play_id in values
                for c in entry.castings.all()
                if c.player_id in here
            )
        ),
    )


def _to_learn(
    values: Mapping[int, PlayValue], cast: Cast, entries: Sequence[PackagePlay]
) -> tuple[PlayToInstall, ...]:
    setup = {entry.play_id: entry.setup_minutes for entry in entries if not entry.dropped_on}
    who = {pk: {role: cast.who(pk, role) for role in ROLES} for pk in values}
    return tuple(
        PlayToInstall(
            pk,
            {role: players for role, players in who[pk].items() if players},
            setup_minutes=setup.get(pk),
        )
        for pk in values
    )


def _history(ask: Ask, entries: Sequence[PackagePlay]) -> tuple[Touch, ...]:
    """What was run, by play of the library: dropped plays are not forgotten either."""
    play = {entry.pk: entry.play_id for entry in entries}
    return tuple(
        replace(touch, play=play[touch.play]) for touch in ask.history if touch.play in play
    )
