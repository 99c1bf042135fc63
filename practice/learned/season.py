"""What the games of a season tell of each play: calls, points, looks, and what was guessed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from plays.core.defence.words import TACTICS
from plays.core.play import Play
from plays.models import Revision
from plays.values import play_value, read_ahead
from practice.core.learning.disagree import Disagreement, disagreement_text, disagreements
from practice.core.learning.looks import (
    LEVEL,
    LookEstimate,
    estimates,
    left_out,
    look_text,
    worked_text,
)
from practice.core.learning.order import LookOrder, order_of
from practice.core.learning.points import (
    PlayPoints,
    comparison_text,
    fouls_text,
    points_by_play,
    points_text,
)
from practice.core.learning.season import PlayState, SeasonPlayLine, season_lines
from practice.core.proportions import FEWEST_FOR_PERCENT, Interval
from practice.core.reps.called import MOST_POINTS, CalledPlay
from practice.core.reps.rep import Id
from practice.games.possessions import possessions_of
from practice.models import Game
from practice.reps.called_words import looks_told
from roster.models import PackagePlay, Team
from shared.core.language import N_, Language

FADING = N_("{late} of its {total} calls fell into the last {games} games: it fades.")
STATES = {
    PlayState.FADING: N_("called less"),
    PlayState.NEVER: N_("never called"),
    PlayState.DROPPED: N_("dropped"),
}


@dataclass(frozen=True, slots=True)
class RangeBar:
    """A bar from 0 to 100: where the estimate lies, and the range around it."""

    at: int
    low: int
    wide: int

    @classmethod
    def of(cls, mean: float, inside: Interval, most: float = 1.0) -> RangeBar:
        low, high = round(100 * inside.low / most), round(100 * inside.high / most)
        return cls(min(99, round(100 * mean / most)), low, high - low)


@dataclass(frozen=True, slots=True)
class LookTold:
    """A look over all defences, and what is told of it against each one that it met."""

    look: str
    said: str
    worked: str
    bar: RangeBar | None
    against: Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class SeasonPlayTold:
    """A play's season. ``gone`` are looks that were taken and that it no longer has."""

    entry: PackagePlay
    call: str
    state: str
    is_fading: bool
    line: SeasonPlayLine
    fades: str
    points: str
    fouls: str
    bar: RangeBar | None
    looks: Sequence[LookTold]
    gone: Sequence[tuple[str, int]]


@dataclass(frozen=True, slots=True)
class GuessOff:
    """A look at which the games speak against the guess."""

    entry: PackagePlay
    call: str
    look: str
    said: str


@dataclass(frozen=True, slots=True)
class SeasonTold:
    games: Sequence[Game]
    possessions: int
    plays: Sequence[SeasonPlayTold]
    off: Sequence[GuessOff]
    comparison: str


@dataclass(frozen=True, slots=True)
class _Known:
    """Everything that was read: what was called by play, and the states that were run."""

    called: Mapping[Id, Sequence[CalledPlay]]
    entries: Mapping[Id, PackagePlay]
    plays: Mapping[Id, Play]  # by revision
    orders: Mapping[Id, LookOrder]  # by revision
    points: Mapping[Id, PlayPoints]


def season_told(team: Team, today: date, language: Language) -> SeasonTold:
    """The season up to now: seven queries, whatever was logged."""
    called = possessions_of(team)
    numbers = dict.fromkeys(each.game for each in called)
    games = list(team.games.filter(pk__in=list(numbers), date__lte=today).order_by("date", "start"))
    known = _known(team, called)
    carried = {pk for pk, entry in known.entries.items() if entry.dropped_on is None}
    lines = season_lines(called, [game.pk for game in games], carried)
    told = [_play(line, known, language) for line in lines]
    return SeasonTold(
        games=games,
        possessions=len(called),
        plays=told,
        off=_guesses_off(known, carried, language),
        comparison=comparison_text(language),
    )


def _known(team: Team, called: Sequence[CalledPlay]) -> _Known:
    by_play: dict[Id, list[CalledPlay]] = {}
    for each in called:
        by_play.setdefault(each.play, []).append(each)
    rows = team.package.select_related("play", "revision").prefetch_related("castings__player")
    rows = rows.defer("play__search", "revision__document")
    entries = {row.pk: row for row in rows if row.dropped_on is None or row.pk in by_play}
    run = {each.revision for each in called} - {row.revision_id for row in entries.values()}
    older = list(Revision.objects.filter(pk__in=[pk for pk in run if pk]).defer("document"))
    revisions = {row.pk: row for row in (*older, *(row.revision for row in entries.values()))}
    read_ahead(revisions.values())
    plays: dict[Id, Play] = {pk: play_value(row) for pk, row in revisions.items()}
    return _Known(
        called=by_play,
        entries={pk: row for pk, row in entries.items()},  # noqa: C416 (wider keys)
        plays=plays,
        orders={pk: order_of(play) for pk, play in plays.items()},
        points={each.play: each for each in points_by_play(called)},
    )


def _estimates(entry: PackagePlay, known: _Known) -> tuple[LookEstimate, ...]:
    now = known.orders[entry.revision_id]
    return estimates(now, known.orders, known.called.get(entry.pk, ()))


def _play(line: SeasonPlayLine, known: _Known, language: Language) -> SeasonPlayTold:
    entry = known.entries[line.play]
    own = known.called.get(line.play, ())
    points = known.points.get(line.play)
    bar = None
    if points is not None and points.mean is not None and points.inside is not None:
        bar = RangeBar.of(points.mean, points.inside, MOST_POINTS)
    gone = left_out(known.orders[entry.revision_id], known.orders, own)
    return SeasonPlayTold(
        entry=entry,
        call=entry.spoken(),
        state=language.say(STATES[line.state]) if line.state in STATES else "",
        is_fading=line.state is PlayState.FADING,
        line=line,
        fades=_fades(line, language),
        points=points_text(points, language) if points else "",
        fouls=fouls_text(points, language) if points else "",
        bar=bar,
        looks=list(_looks(entry, known, language)) if own else [],
        gone=_gone(gone, own, known, language),
    )


def _fades(line: SeasonPlayLine, language: Language) -> str:
    if line.state is not PlayState.FADING:
        return ""
    recent = line.recent
    return language.say(FADING, late=sum(recent), total=line.total, games=len(recent))


def _looks(entry: PackagePlay, known: _Known, language: Language) -> Iterable[LookTold]:
    names = dict(looks_told(known.plays[entry.revision_id], language))
    found = _estimates(entry, known)
    for whole in (each for each in found if each.defence is None):
        told = whole.count.reached >= FEWEST_FOR_PERCENT
        bar = RangeBar.of(whole.belief.mean, whole.belief.interval(LEVEL)) if told else None
        yield LookTold(
            look=names.get(whole.look, whole.look),
            said=look_text(whole, language),
            worked=worked_text(whole, language) if whole.count.taken else "",
            bar=bar,
            against=[
                (language.say(TACTICS[each.defence]), look_text(each, language))
                for each in found
                if each.look == whole.look and each.defence is not None
            ],
        )


def _gone(
    counts: Mapping[str, int], own: Sequence[CalledPlay], known: _Known, language: Language
) -> list[tuple[str, int]]:
    """Looks that were taken and are no more, in the words of the state that was run."""
    words: dict[str, str] = {}
    for each in own:
        if each.look in counts and each.revision is not None:
            words |= dict(looks_told(known.plays[each.revision], language))
    return [(words.get(look, look), count) for look, count in counts.items()]


def _guesses_off(known: _Known, carried: Iterable[Id], language: Language) -> list[GuessOff]:
    """Of the plays that are carried, the most striking first."""
    found: list[tuple[Disagreement, PackagePlay]] = []
    for pk in carried:
        if pk in known.called:
            entry = known.entries[pk]
            found += [(each, entry) for each in disagreements(_estimates(entry, known))]
    found.sort(key=lambda pair: pair[0].chance)
    return [
        GuessOff(
            entry,
            entry.spoken(),
            dict(looks_told(known.plays[entry.revision_id], language))[each.estimate.look],
            disagreement_text(each, language),
        )
        for each, entry in found
    ]
