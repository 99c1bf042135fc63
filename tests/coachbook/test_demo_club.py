"""The demo club: people, packages and casts that a club could really have."""

from __future__ import annotations

from itertools import pairwise

import pytest

from coachbook.demo.club import HERONS, PLAYS, SQUADS, TEALS, DemoSquad
from plays.core.calls import CallName, call_for, placeholders, told_apart
from plays.core.document.file import read_play
from plays.core.play import ROLES, AgeGroup, Quality, RuleSet
from roster.core.casting.faults import cast_problems
from roster.core.people import HEIGHTS_CM, RATED, RATINGS, Availability, Player
from shared.core.drawing.fonts import read_face
from shared.core.language import ENGLISH

EVERY = pytest.mark.parametrize("squad", SQUADS, ids=lambda squad: squad.name)


def test_two_teams_of_thirteen_and_ten() -> None:
    assert (HERONS.age_group, HERONS.rule_set, len(HERONS.members)) == ("U16", RuleSet.FIBA, 13)
    assert (TEALS.age_group, TEALS.rule_set, len(TEALS.members)) == ("U12", RuleSet.NFHS, 10)


@EVERY
def test_numbers_are_worn_once_and_people_are_plausible(squad: DemoSquad) -> None:
    assert len({member.number for member in squad.members}) == len(squad.members)
    for member in squad.members:
        assert member.positions
        assert set(member.positions) <= set(ROLES)
        assert len(member.ratings) == len(RATED)
        low, high = HEIGHTS_CM
        assert member.height_cm is None or low <= member.height_cm <= high
        Player(member.number, member.rated(), member.height_cm, member.availability)


def test_something_is_not_known_and_somebody_is_not_there() -> None:
    ratings = [rating for squad in SQUADS for m in squad.members for rating in m.ratings]
    assert None in ratings
    assert set(ratings) - {None} == set(RATINGS)
    held = {member.availability for squad in SQUADS for member in squad.members}
    assert held == set(Availability)


@EVERY
def test_every_name_and_call_is_in_the_font(squad: DemoSquad) -> None:
    words = [member.name for member in squad.members]
    words += [coach.name for coach in squad.staff]
    words += [carried.call + carried.signal for carried in squad.package]
    assert [word for word in words if not read_face().covers(word)] == []
    assert any(not word.isascii() for word in words)


def test_two_players_share_a_call_name_and_are_told_apart() -> None:
    names = told_apart({m.number: CallName(m.name, m.number) for m in HERONS.members}, ENGLISH)
    assert {names["7"], names["12"]} == {"Ida (7)", "Ida (12)"}
    assert len(set(names.values())) == 13


@EVERY
def test_a_package_is_in_order_and_its_plays_exist(squad: DemoSquad) -> None:
    assert all(one.priority <= other.priority for one, other in pairwise(squad.package))
    assert {carried.priority for carried in squad.package} <= {1, 2, 3}
    assert len({carried.play for carried in squad.package}) == len(squad.package)
    for carried in squad.package:
        play = read_play((PLAYS / f"{carried.play}.json").read_bytes())
        assert play.court is squad.rule_set
        assert set(placeholders(carried.call)) <= set(ROLES)


def test_a_play_for_older_players_is_carried_too_soon_to_show_the_check() -> None:
    levels = {
        carried.play: read_play((PLAYS / f"{carried.play}.json").read_bytes()).level
        for carried in TEALS.package
    }
    assert levels == {
        "duckboard": AgeGroup.U12,
        "lamp-row": AgeGroup.U12,
        "open-water": AgeGroup.U14,
    }


@EVERY
def test_the_only_fault_of_the_casts_is_the_player_who_is_out(squad: DemoSquad) -> None:
    out = [m.number for m in squad.members if m.availability is Availability.OUT]
    found = cast_problems(
        squad.cast(),
        roster=[member.number for member in squad.members],
        out=out,
        plays=[carried.play for carried in squad.package],
    )
    assert {problem.code for problem in found} == ({"out"} if out else set())


@EVERY
def test_every_role_is_two_deep_and_everybody_has_work(squad: DemoSquad) -> None:
    for carried in squad.package:
        assert all(2 <= len(carried.cast[role]) <= 3 for role in ROLES)
    cast = squad.cast()
    assert all(cast.of(member.number) for member in squad.members)


@EVERY
def test_who_plays_first_has_what_the_role_needs_most(squad: DemoSquad) -> None:
    """A rating at most one below what a need of weight 3 asks for."""
    for carried in squad.package:
        play = read_play((PLAYS / f"{carried.play}.json").read_bytes())
        for need in play.needs:
            first = squad.member(carried.cast[need.role][0])
            has = first.rated().get(need.quality)
            if need.weight == 3 and need.quality is not Quality.REACH and has is not None:
                assert has >= need.level - 1, (carried.play, need)


@EVERY
def test_units_are_fives_of_the_team(squad: DemoSquad) -> None:
    numbers = {member.number for member in squad.members}
    for five in squad.units.values():
        assert len(set(five)) == 5
        assert set(five) <= numbers


def test_minutes_fill_the_floor() -> None:
    """Five players for 40 minutes under FIBA (Art. 8.1, from memory), 32 under NFHS."""
    assert sum(member.minutes for member in HERONS.members) == 200
    assert sum(member.minutes for member in TEALS.members) == 160


def test_a_call_with_the_name_of_the_first_five() -> None:
    gangway = next(carried for carried in HERONS.package if carried.play == "gangway")
    first = {role: HERONS.member(gangway.cast[role][0]) for role in ROLES}
    names = {role: CallName(member.name, member.number) for role, member in first.items()}
    assert call_for(gangway.call, names, ENGLISH) == "Gangway Åse"
