"""What the page after a game shows: counts of one game, which prove nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from plays.models import Revision
from plays.values import play_value, read_ahead
from practice.core.learning.after_game import (
    GameSlip,
    PlayCalled,
    ToPractise,
    after_game,
    against_text,
    lesson_text,
    throws_text,
)
from practice.core.reps.called import CallResult
from practice.games.possessions import possessions_of
from practice.install.lessons import LessonKey, key_of, row_key
from practice.models import CalledPlay, CallResultChoice, Game, LessonInPlan
from practice.reps.called_words import looks_told
from roster.models import PackagePlay, Player
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class CalledInGame:
    """One play: its counts, what was taken, how it ended, and what it met."""

    entry: PackagePlay
    call: str
    line: PlayCalled
    missing: str
    looks: Sequence[tuple[str, int]]
    ended: Sequence[tuple[str, int]]
    against: Sequence[str]


@dataclass(frozen=True, slots=True)
class RoleErred:
    """A role that went wrong, with who was in it by name, in the order of the roster."""

    call: str
    slip: GameSlip
    names: Sequence[str]


@dataclass(frozen=True, slots=True)
class GameShown:
    """Something to practise. ``row`` stands for it in the next plan; ``is_carried`` says whether
    it can."""

    key: LessonKey
    said: str
    row: int | None
    is_carried: bool


@dataclass(frozen=True, slots=True)
class AfterPage:
    possessions: int
    plays: Sequence[CalledInGame]
    erred: Sequence[RoleErred]
    practise: Sequence[GameShown]


def after_page(game: Game, planned: Game | None, language: Language) -> AfterPage:
    """Everything of one game: seven queries, however many possessions."""
    found = after_game(possessions_of(game.team, game=game))
    rows = PackagePlay.objects.filter(team=game.team_id, called__game=game).distinct()
    rows = rows.defer("play__search", "revision__document").select_related("revision")
    entries = {row.pk: row for row in rows.prefetch_related("castings__player")}
    calls = {pk: entry.spoken() for pk, entry in entries.items()}
    looks = _looks(game, language)
    names = _names(game, found.slips)
    taken = {row_key(row): row.pk for row in _taken(game, planned)}
    return AfterPage(
        possessions=sum(line.calls for line in found.lines),
        plays=[_play(line, entries, calls, looks, language) for line in found.lines],
        erred=[_erred(slip, calls, names) for slip in found.slips],
        practise=[_shown(item, entries, calls, taken, language) for item in found.practise],
    )


def _play(
    line: PlayCalled,
    entries: Mapping[int, PackagePlay],
    calls: Mapping[int, str],
    looks: Mapping[int, Mapping[str, str]],
    language: Language,
) -> CalledInGame:
    key = int(line.play)
    named = looks.get(key, {})
    return CalledInGame(
        entry=entries[key],
        call=calls[key],
        line=line,
        missing=throws_text(line, language),
        looks=[(named.get(look, look), count) for look, count in _most(line.looks)],
        ended=[
            (str(CallResultChoice(result.value).label), line.ended[result])
            for result in CallResult
            if line.ended.get(result)
        ],
        against=[against_text(each, language) for each in line.against],
    )


def _most(counts: Mapping[str, int]) -> list[tuple[str, int]]:
    return sorted(counts.items(), key=lambda pair: -pair[1])


def _looks(game: Game, language: Language) -> dict[int, dict[str, str]]:
    """What every look is called that was there to be taken, by play: of each state that was run."""
    run = CalledPlay.objects.counted().filter(game=game).order_by("entry", "revision")
    pairs = list(run.values_list("entry", "revision").distinct())
    rows = Revision.objects.filter(pk__in={revision for _, revision in pairs}).defer("document")
    revisions = {row.pk: row for row in rows}
    read_ahead(revisions.values())
    found: dict[int, dict[str, str]] = {}
    for entry, revision in pairs:
        told = looks_told(play_value(revisions[revision]), language)
        found.setdefault(entry, {}).update(told)
    return found


def _names(game: Game, slips: Sequence[GameSlip]) -> dict[int, str]:
    wanted = {who for slip in slips for who in slip.who}
    rows = Player.objects.filter(team=game.team_id, pk__in=wanted)
    return {row.pk: str(row) for row in rows}


def _erred(slip: GameSlip, calls: Mapping[int, str], names: Mapping[int, str]) -> RoleErred:
    return RoleErred(
        calls[int(slip.play)], slip, [name for pk, name in names.items() if pk in slip.who]
    )


def _taken(game: Game, planned: Game | None) -> list[LessonInPlan]:
    return [] if planned is None else list(planned.lessons_in_plan.filter(shown=game))


def _shown(
    item: ToPractise,
    entries: Mapping[int, PackagePlay],
    calls: Mapping[int, str],
    taken: Mapping[LessonKey, int],
    language: Language,
) -> GameShown:
    play, key = int(item.play), key_of(item)
    said = lesson_text(item, calls[play], language)
    return GameShown(key, said, taken.get(key), entries[play].dropped_on is None)
