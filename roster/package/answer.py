"""What a play is to each team: the answer to the library's question who carries it."""

from __future__ import annotations

from typing import cast

from django.db.models import Prefetch
from django.urls import reverse

from plays.core.calls import CallName, call_for, told_apart
from plays.core.play import AgeGroup, Role, RuleSet
from plays.models import Play
from plays.ports import Carrier
from roster.access import teams_for
from roster.bridge import team_pace
from roster.models import Casting, Duty, PackagePlay, Staff, Team
from shared.core.language import Language
from shared.models import User
from shared.speech import language_now


def carriers_of(user: User, play: Play) -> tuple[Carrier, ...]:
    """The teams a person may see, with the play's call and cast: four queries at most."""
    firsts = Casting.objects.filter(depth=1).select_related("player")
    entries = PackagePlay.objects.carried().filter(play=play).select_related("revision")
    entries = entries.defer("revision__document")
    entries = entries.prefetch_related(Prefetch("castings", queryset=firsts))
    teams = teams_for(user).prefetch_related(Prefetch("package", entries, to_attr="of_this_play"))
    headed = set(Staff.objects.filter(user=user, duty=Duty.HEAD).values_list("team_id", flat=True))
    speech = language_now()
    return tuple(
        _carrier(team, play, user.runs_club or team.pk in headed, speech) for team in teams
    )


def _carrier(team: Team, play: Play, may_coach: bool, speech: Language) -> Carrier:
    entry: PackagePlay | None = next(iter(team.of_this_play), None)  # type: ignore[attr-defined]
    people = _people(entry) if entry else {}
    return Carrier(
        team=team.pk,
        name=str(team),
        rule_set=RuleSet(team.rule_set),
        call=call_for(entry.call, people, speech) if entry else "",
        names=told_apart(people, speech),
        revision=entry.revision.number if entry else None,
        address=_address(team, play, entry, may_coach),
        age=AgeGroup(team.age_group),
        pace=team_pace(team, entry),
        pace_address=reverse("team-pace", args=[team.pk]) if may_coach else "",
    )


def _people(entry: PackagePlay) -> dict[Role, CallName]:
    return {
        cast("Role", casting.role): casting.player.call_name for casting in entry.castings.all()
    }


def _address(team: Team, play: Play, entry: PackagePlay | None, may_coach: bool) -> str:
    if entry is None:
        open_to_all = play.current_id is not None and not play.put_away
        return reverse("take-up", args=[team.pk, play.key]) if may_coach and open_to_all else ""
    return reverse("cast-play", args=[entry.pk]) if may_coach else ""
