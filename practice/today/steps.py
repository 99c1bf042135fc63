"""The way from an empty team to the first sheets, as far as it has been walked."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, Q
from django.urls import reverse
from django.utils.translation import gettext as _

from plays.core.play import ROLES
from roster.models import PlayerLink, Printing, Team
from roster.squad.views_team import TeamFacts


@dataclass(frozen=True, slots=True)
class FirstStep:
    """One step; ``is_next`` marks the first that is still to do."""

    name: str
    why: str
    address: str
    done: bool
    is_next: bool = False


def first_steps(team: Team, facts: TeamFacts) -> tuple[FirstStep, ...]:
    """All steps with what is done, or nothing where all of them are: four queries at most."""
    steps = _steps(team, facts)
    if all(step.done for step in steps):
        return ()
    first = next(step for step in steps if not step.done)
    return tuple(
        FirstStep(each.name, each.why, each.address, each.done, each is first) for each in steps
    )


def _steps(team: Team, facts: TeamFacts) -> tuple[FirstStep, ...]:
    return (
        FirstStep(
            _("The roster"),
            _("At least five players: from a file, or one by one."),
            reverse("roster", args=[team.pk]),
            len(facts["squad"]) >= len(ROLES),
        ),
        FirstStep(
            _("The plays"),
            _("Choose by picture what the team carries."),
            reverse("package", args=[team.pk]),
            facts["carried"] > 0,
        ),
        FirstStep(
            _("The cast"),
            _("Who is who in each play. A proposal is made in a moment."),
            reverse("cast", args=[team.pk]),
            _one_is_cast(team),
        ),
        FirstStep(
            _("The first practice"),
            _("A date and a plan, so that reps can be logged."),
            reverse("new-practice", args=[team.pk]),
            team.practices.exists(),
        ),
        FirstStep(
            _("The sheets"),
            _("Everybody gets their own part, on paper or by a personal link."),
            reverse("sheets", args=[team.pk]),
            _sheets_are_out(team),
        ),
    )


def _one_is_cast(team: Team) -> bool:
    """Whether one carried play has somebody in every role."""
    first = Count("castings", filter=Q(castings__depth=1))
    return team.package.carried().annotate(filled=first).filter(filled=len(ROLES)).exists()


def _sheets_are_out(team: Team) -> bool:
    """Whether somebody has a personal link, or papers with their own part have been drawn."""
    links = PlayerLink.objects.filter(player__team=team)
    drawn = team.printings.filter(state=Printing.State.DONE).exclude(kind="handouts")
    return links.exists() or drawn.exists()
