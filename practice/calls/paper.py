"""The call sheet on paper: the bench card of the game's fives, by situation and in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from django.utils.translation import gettext as _

from plays.core.play import ROLES
from plays.values import play_value
from practice.calls.known import ORDER, Calling, GameCalls
from practice.core.calls.looks import reason
from practice.core.calls.ready import OrderedCall, ready_text
from practice.core.choosing.words import OCCASIONS
from roster.core.paper.bench_pdf import BenchColumn, BenchPlay, write_bench_card
from roster.coverage.paper import plays_dated
from shared.core.days import day_said
from shared.core.drawing.picture import Sink
from shared.core.language import N_

TITLE: Final = N_("Call sheet of {team} against {opponent}, {day}")


def write_sheet(
    calls: GameCalls, five: Sequence[int], out: Sink, made_on: date, paper: str
) -> None:
    """Write one page: up to three fives. Raises KeyError for a paper that is not known."""
    game, language = calls.game, calls.known.language
    team = str(game.team)
    write_bench_card(
        [_column(calls, title, who) for title, who in fives_of(calls, five)],
        out,
        team=team,
        made_on=made_on,
        paper=paper,
        language=language,
        plays=plays_dated(calls.known, made_on),
        title=language.say(
            TITLE, team=team, opponent=game.opponent, day=day_said(game.date, language)
        ),
    )


def fives_of(calls: GameCalls, five: Sequence[int]) -> Iterator[tuple[str, tuple[int, ...]]]:
    """The five asked for, then the units that can be on the floor; else the first five."""
    able, asked = set(calls.able), set(five)
    is_five = len(asked) == len(five) == len(ROLES) and asked <= able
    if is_five:
        yield _("This five"), tuple(five)
    whole = False
    for unit in calls.units:
        members = tuple(member.pk for member in unit.members.all())
        if len(members) == len(ROLES) and set(members) <= able and set(members) != asked:
            whole = True
            yield unit.name, members
    if not is_five and not whole and len(calls.first_floor) == len(ROLES):
        yield _("First five"), calls.first_floor


def _column(calls: GameCalls, title: str, five: Sequence[int]) -> BenchColumn:
    known = calls.known
    fillings = calls.fillings(five)
    lines = calls.lines(fillings)
    order = {line.play: n for n, line in enumerate(lines)}
    here = [each for each in calls.callings if each.entry.pk in order]
    here.sort(key=lambda each: (ORDER.index(each.occasion), order[each.entry.pk]))
    opening = {each.occasion: each for each in reversed(here)}
    return BenchColumn(
        title,
        ", ".join(known.names.player(pk) for pk in five),
        tuple(
            _play(calls, each, lines[order[each.entry.pk]], opens=opening[each.occasion] is each)
            for each in here
        ),
        tuple(known.call(known.by_play[f.play], {}) for f in fillings if not f.can_run),
    )


def _play(calls: GameCalls, calling: Calling, line: OrderedCall, *, opens: bool) -> BenchPlay:
    """One call; the first one of an occasion stands under its heading."""
    known, entry, five = calls.known, calling.entry, line.filling.filling
    others = known.other_calls(entry, five)
    other = others[calling.call - 1] if calling.call else None
    beside = [each for each in others if other is None and not each.variant.mirror]
    looks = play_value(entry.revision).looks
    said = (ready_text(line.short, known.language), reason(line.looks, looks, known.language))
    return BenchPlay(
        other.call if other else known.call(entry, five),
        other.sign if other else entry.signal,
        " · ".join(f"{role} {known.names.player(who)}" for role, who in sorted(five.items())),
        tuple((each.call, each.sign) for each in beside),
        head=known.language.say(OCCASIONS[calling.occasion]) if opens else "",
        note=" · ".join(word for word in said if word),
    )
