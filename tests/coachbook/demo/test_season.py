"""The demo season: the same every time, and like a real one."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, datetime, time
from random import Random
from zoneinfo import ZoneInfo

import pytest

from coachbook.demo.club import SQUADS
from coachbook.demo.season import (
    Season,
    SeasonPlay,
    SeasonTeam,
    Story,
    season,
    stories,
)
from plays.core.play import ROLES, AgeGroup
from practice.core.plan.load import Session, check_weeks
from practice.core.plan.rules import PlanSquad, check_plan
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.grid import ReadinessMark, grid, ledger, standings
from practice.core.reps.log import merge
from practice.core.reps.rep import Id, Mode, touches
from practice.core.reps.rep_rules import Present, check_rep
from roster.core.people import Availability
from shared.core.finding import errors
from shared.core.language import ENGLISH

ZONE = ZoneInfo("Europe/Oslo")
TODAY = date(2026, 11, 25)


def team(key: str, players: int, plays: int, reps: int, weekdays: tuple[int, ...]) -> SeasonTeam:
    chance = Random(key)
    squad: tuple[Id, ...] = tuple(f"{key}-{number}" for number in range(players))
    package = []
    for number, story in enumerate(stories(plays)):
        firsts = chance.sample(squad[:7], 5)
        seconds = chance.sample([who for who in squad if who not in firsts], 5)
        cast = {role: (firsts[i], seconds[i]) for i, role in enumerate(ROLES)}
        package.append(SeasonPlay(f"{key}-play-{number}", cast, story))
    return SeasonTeam(
        key,
        squad,
        (f"{key}-blue", f"{key}-white"),
        tuple(package),
        weekdays,
        time(18),
        90 if players > 10 else 75,
        reps,
        "Hall 2",
        ("Northgate", "Millpond"),
    )


TEAMS = (team("u16", 13, 10, 480, (0, 2, 4)), team("u12", 10, 5, 220, (1, 3)))


@pytest.fixture(scope="module")
def made() -> Season:
    return season(Random(11), TEAMS, TODAY, ZONE)


def test_the_same_seed_gives_the_same_season(made: Season) -> None:
    assert season(Random(11), TEAMS, TODAY, ZONE) == made
    assert season(Random(12), TEAMS, TODAY, ZONE) != made


def test_it_holds_some_seven_hundred_reps_in_six_weeks(made: Season) -> None:
    assert 600 <= len(made.reps) <= 800
    over = [practice for practice in made.practices if practice.is_over]
    assert min(p.plan.starts.date() for p in over) >= date(2026, 10, 14)
    assert all(rep.at.date() < TODAY for rep in made.reps)
    assert len(merge(made.reps).reps) == len(made.reps)


def test_two_games_are_ahead_with_practices_before_each(made: Season) -> None:
    for one in TEAMS:
        games = [game.starts for game in made.games if game.team == one.key]
        assert [game.date() > TODAY for game in games] == [True, True]
        ahead = [p for p in made.practices if p.team == one.key and not p.is_over]
        assert any(p.plan.starts < games[0] for p in ahead)
        assert all(p.reps == () for p in ahead)


def test_every_plan_and_every_rep_keeps_the_rules(made: Season) -> None:
    for practice in made.practices:
        one = next(t for t in TEAMS if t.key == practice.team)
        names: dict[Id, str] = {who: str(who) for who in one.players}
        squad = PlanSquad(AgeGroup.U16 if one.key == "u16" else AgeGroup.U12, names)
        assert check_plan(practice.plan, squad, ENGLISH) == ()
        present = Present(names, absent=frozenset(practice.absent))
        for rep in practice.reps:
            assert errors(check_rep(rep, present, ENGLISH)) == ()


def test_the_load_stays_inside_the_guideline(made: Season) -> None:
    for one, group in zip(TEAMS, (AgeGroup.U16, AgeGroup.U12), strict=True):
        sessions = [
            Session(p.plan.starts, p.plan.minutes) for p in made.practices if p.team == one.key
        ]
        games = [Session(g.starts, 60, is_game=True) for g in made.games if g.team == one.key]
        assert check_weeks([*sessions, *games], group, ENGLISH) == ()


def test_it_is_uneven_as_a_real_one_is(made: Season) -> None:
    over = [p for p in made.practices if p.is_over and p.team == "u16"]
    assert len({len(p.absent) for p in over}) >= 3
    assert len({len(p.reps) for p in over}) >= 8
    modes = Counter(rep.mode for rep in made.reps)
    assert modes[Mode.HALF_SPEED] > modes[Mode.WALK_THROUGH] > 0
    assert modes[Mode.LIVE] > 60
    clean = sum(rep.clean for rep in made.reps) / len(made.reps)
    assert 0.6 < clean < 0.9
    assert len({rep.slip for rep in made.reps}) == 7


def test_errors_become_fewer(made: Season) -> None:
    steady = {p.key for one in TEAMS for p in one.plays if p.story is Story.STEADY}
    half = [r for r in made.reps if r.play in steady and r.mode is Mode.HALF_SPEED]
    ordered = sorted(half, key=lambda rep: rep.at)
    third = len(ordered) // 3
    first, last = (sum(r.clean for r in part) for part in (ordered[:third], ordered[-third:]))
    assert last > first


def test_each_play_has_its_story(made: Season) -> None:
    now = datetime(2026, 11, 25, 12, tzinfo=ZONE)
    history = touches(made.reps)
    means: dict[Story, list[float]] = {story: [] for story in Story}
    for one in TEAMS:
        book = ledger(history, one.players, [play.key for play in one.plays], Assumptions())
        marks, values = standings(book, now), grid(book, now).value
        for k, play in enumerate(one.plays):
            cells = [(one.players.index(play.cast[r][0]), k, i) for i, r in enumerate(ROLES)]
            means[play.story].append(sum(float(values[cell]) for cell in cells) / 5)
            if play.story is Story.NEVER:
                assert {marks[cell] for cell in cells} == {ReadinessMark.NEVER}
            if play.story is Story.FADING:
                assert ReadinessMark.FADING in {marks[cell] for cell in cells}
    mean = {story: sum(values) / len(values) for story, values in means.items()}
    assert mean[Story.STEADY] > 0.75
    assert mean[Story.STEADY] - 0.3 > mean[Story.FADING] > mean[Story.NEVER] == 0
    assert mean[Story.LATE] > 0.3


def test_steps_come_in_order(made: Season) -> None:
    for one in TEAMS:
        for play in one.plays:
            runs = [rep for rep in made.reps if rep.play == play.key]
            modes = [rep.mode for rep in sorted(runs, key=lambda rep: rep.at)]
            if modes:
                assert modes[0] is Mode.WALK_THROUGH
            if Mode.LIVE in modes:
                assert Mode.HALF_SPEED in modes[: modes.index(Mode.LIVE)]


def test_a_team_with_a_thin_cast_and_one_unit_still_has_a_season() -> None:
    thin = replace(
        TEAMS[1],
        units=("only",),
        plays=(SeasonPlay("a", {"1": (TEAMS[1].players[0],)}, Story.STEADY),),
    )
    made = season(Random(3), (thin,), TODAY, ZONE)
    assert len(made.reps) > 50
    assert stories(1) == (Story.STEADY,)
    assert Story.NEVER in stories(3)


def of_the_demo() -> list[SeasonTeam]:
    """The demo club's own teams, players told by shirt number."""
    made = []
    for squad in SQUADS:
        told = zip(squad.package, stories(len(squad.package)), strict=True)
        states = {member.number: member.availability for member in squad.members}
        made.append(
            SeasonTeam(
                squad.name,
                tuple(states),
                tuple(squad.units),
                tuple(SeasonPlay(carried.play, carried.cast, story) for carried, story in told),
                (0, 2, 4) if squad.age_group is AgeGroup.U16 else (1, 3),
                time(18),
                90 if squad.age_group is AgeGroup.U16 else 60,
                450 if squad.age_group is AgeGroup.U16 else 250,
                "Boathouse hall",
                ("Millbrook Magpies", "Ostergate Owls"),
                out=frozenset(n for n, state in states.items() if state is Availability.OUT),
                limited=frozenset(
                    n for n, state in states.items() if state is Availability.LIMITED
                ),
            )
        )
    return made


def test_the_demo_club_has_its_season_and_the_limited_run_nothing_live() -> None:
    teams = of_the_demo()
    made = season(Random(20_260_901), teams, TODAY, ZONE)
    assert 600 <= len(made.reps) <= 800
    for one in teams:
        own = [p for p in made.practices if p.team == one.key]
        last = [p for p in own if p.is_over][-3:]
        assert all(one.out <= set(p.absent) for p in last)
        for rep in (rep for p in own for rep in p.reps if rep.mode is Mode.LIVE):
            assert not one.limited & {who for _, who in rep.cast}
        names: dict[Id, str] = {who: str(who) for who in one.players}
        group = next(squad.age_group for squad in SQUADS if squad.name == one.key)
        for practice in own:
            assert errors(check_plan(practice.plan, PlanSquad(group, names), ENGLISH)) == ()
