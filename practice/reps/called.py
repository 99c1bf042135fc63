"""What the plays called in games are held against: the team's games, plays, looks and people."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from django.utils.timezone import localtime

from plays.core.play import Play
from plays.models import Revision
from plays.values import play_value, read_ahead
from practice.bridge import moment
from practice.core.reps.called import CalledPlay, as_game_rep
from practice.core.reps.rep import Id
from practice.core.reps.rep_rules import Present, check_rep
from practice.models import Game
from practice.presence import out_by_game, present_value
from roster.models import PackagePlay, Team
from shared.core.days import DaySpan
from shared.core.finding import Finding, Severity, errors
from shared.core.language import N_, Language
from shared.fields import season
from shared.said import day_said

GAME_GONE: Final = N_("The game is not there any more.")
PLAY_GONE: Final = N_("The play is not in the package any more.")
PLAYER_GONE: Final = N_("Role {role}: the player is not in the team any more.")
LOOK_GONE: Final = N_("The look is not in this play any more. Which was it?")
ODD_TIME: Final = N_("The phone's clock was wrong: the possession says {year}. When was it?")
OTHER_DAY: Final = N_("The game is on {day}, but this was logged on {other}. When was it?")
NEAR: Final = timedelta(hours=24)  # of the start: a game that ends after midnight is the same game
FIVE_IS_OPTIONAL: Final = frozenset({"empty_role", "erred_empty", "not_here"})


@dataclass(frozen=True, slots=True)
class GameSurroundings:
    """Loaded once for a batch: the number of queries does not grow with the possessions.

    ``revisions`` are by their number, with the play each is of; ``entries`` are those carried.
    """

    games: dict[Id, Game]
    entries: dict[Id, PackagePlay]
    revisions: dict[Id, Revision]
    squad: frozenset[Id]
    present: dict[Id, Present]
    days: DaySpan

    def against(self, called: CalledPlay, language: Language) -> tuple[Finding, ...]:
        """Why a possession cannot count as it is; nothing for a sound one."""
        return (
            *self._gone(called, language),
            *self._look_gone(called, language),
            *self._broken(called, language),
            *self._at_odd_time(called, language),
        )

    def revision_of(self, called: CalledPlay) -> Revision | None:
        """The state of the play that the phone had; else the one that is carried now."""
        entry = self.entries.get(called.play)
        named = self.revisions.get(called.revision) if called.revision is not None else None
        if entry is None:
            return None
        return named if named is not None and named.play_id == entry.play_id else entry.revision

    def _gone(self, called: CalledPlay, language: Language) -> list[Finding]:
        found = []
        if called.game not in self.games:
            found.append(_gone("game", language.say(GAME_GONE)))
        if called.play not in self.entries:
            found.append(_gone("play", language.say(PLAY_GONE)))
        found += [
            _gone(f"cast/{role}", language.say(PLAYER_GONE, role=role))
            for role, who in called.cast
            if who not in self.squad
        ]
        return found

    def _look_gone(self, called: CalledPlay, language: Language) -> list[Finding]:
        revision = self.revision_of(called)
        if called.look is None or revision is None:
            return []
        if called.look in looks_of(play_value(revision)):
            return []
        return [_gone("look", language.say(LOOK_GONE))]

    def _broken(self, called: CalledPlay, language: Language) -> list[Finding]:
        present = self.present.get(called.game)
        if present is None:
            return []
        found = errors(check_rep(as_game_rep(called), present, language))
        return [finding for finding in found if finding.code not in FIVE_IS_OPTIONAL]

    def _at_odd_time(self, called: CalledPlay, language: Language) -> list[Finding]:
        if called.at.date() not in self.days:
            said = language.say(ODD_TIME, year=str(called.at.year))
            return [Finding("odd_time", Severity.SERIOUS, "/at", said)]
        game = self.games.get(called.game)
        if game is None or abs(called.at - moment(game.date, game.start)) <= NEAR:
            return []
        day, other = (day_said(each, "j M Y") for each in (game.date, localtime(called.at)))
        said = language.say(OTHER_DAY, day=day, other=other)
        return [Finding("other_day", Severity.SERIOUS, "/at", said)]


def game_surroundings(team: Team, called: Sequence[CalledPlay]) -> GameSurroundings:
    """What these possessions are held against; no query where there is none."""
    if not called:
        return GameSurroundings({}, {}, {}, frozenset(), {}, season())
    games = {game.pk: game for game in team.games.filter(pk__in=_whole(c.game for c in called))}
    squad = list(team.players.present())
    out = out_by_game(games.values())
    package = team.package.all().carried().select_related("play", "revision")
    named = Revision.objects.filter(pk__in=_whole(c.revision for c in called))
    entries = list(package.defer("play__search", "revision__document"))
    revisions = list(named.defer("document"))
    if any(each.look is not None for each in called):
        wanted = {each.play for each in called}
        read_ahead([*revisions, *(e.revision for e in entries if e.pk in wanted)])
    return GameSurroundings(
        games={pk: game for pk, game in games.items()},  # noqa: C416 (wider keys)
        entries={entry.pk: entry for entry in entries},
        revisions={revision.pk: revision for revision in revisions},
        squad=frozenset(player.pk for player in squad),
        present={pk: present_value(squad, out[pk], is_game=True) for pk in games},
        days=season(),
    )


def looks_of(play: Play) -> frozenset[str]:
    """The ids of every look of a play, those of its counters among them."""
    counters = [look.id for counter in play.counters for look in counter.looks]
    return frozenset([*(look.id for look in play.looks), *counters])


def _whole(ids: Iterable[Id | None]) -> set[int]:
    return {each for each in ids if isinstance(each, int)}


def _gone(place: str, sentence: str) -> Finding:
    return Finding("gone", Severity.SERIOUS, f"/{place}", sentence)
