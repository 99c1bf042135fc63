"""A team's opponents, and what was seen of their defence."""

from __future__ import annotations

from typing import Final

from django.core.validators import MaxValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from plays.models import Situation
from roster.models import Team
from shared.fields import DayField

MOST_SEEN: Final = 200  # of one defence in one game; more is a slip of the finger


class Opponent(models.Model):
    """Another team, as one of the club's teams knows it."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="opponents")
    name = models.CharField(_("name"), max_length=60)
    notes = models.TextField(_("notes"), blank=True, max_length=2000)

    class Meta:
        ordering = ("name", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("team", "name"),
                name="one_opponent_per_name",
                violation_error_message=_("There is an opponent of that name already."),
            ),
        )

    def __str__(self) -> str:
        return self.name


def _times(tactic: Tactic) -> models.PositiveSmallIntegerField:  # type: ignore[type-arg]
    """A column for how many times a defence was seen, called in the check's words."""
    return models.PositiveSmallIntegerField(
        _(TACTICS[tactic]), default=0, validators=[MaxValueValidator(MOST_SEEN)]
    )


class Observation(models.Model):
    """What an opponent did on one day against one kind of throw-in: times by defence.

    The columns are called as the tactics of the check, one each.
    """

    opponent = models.ForeignKey(Opponent, on_delete=models.CASCADE, related_name="observations")
    day = DayField(_("day"))
    situation = models.CharField(
        _("situation"), max_length=16, choices=Situation, default=Situation.SIDELINE
    )
    chase = _times(Tactic.CHASE)
    switch = _times(Tactic.SWITCH)
    front = _times(Tactic.FRONT)
    trap = _times(Tactic.TRAP)
    zone = _times(Tactic.ZONE)
    sag = _times(Tactic.SAG)
    jump = _times(Tactic.JUMP)
    tight = _times(Tactic.TIGHT)
    deny = _times(Tactic.DENY)
    behind = _times(Tactic.BEHIND)
    over = _times(Tactic.OVER)
    under = _times(Tactic.UNDER)

    class Meta:
        ordering = ("-day", "situation", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("opponent", "day", "situation"),
                name="one_observation_a_day",
                violation_error_message=_(
                    "For this day and situation there are counts already: change those."
                ),
            ),
        )

    def __str__(self) -> str:
        return f"{self.day:%Y-%m-%d} {self.get_situation_display()}"

    @property
    def counts(self) -> dict[Tactic, int]:
        """How many times each defence was seen."""
        return {tactic: getattr(self, tactic.value) for tactic in Tactic}

    @property
    def total(self) -> int:
        return sum(self.counts.values())
