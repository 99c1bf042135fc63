"""Teams and their staff."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core import play
from plays.models import AgeGroup
from shared.fields import DayField


class RuleSet(models.TextChoices):
    FIBA = play.RuleSet.FIBA.value, "FIBA"
    NFHS = play.RuleSet.NFHS.value, _("NFHS (84 ft court)")
    NFHS_94 = play.RuleSet.NFHS_94.value, _("NFHS (94 ft court)")
    NCAA = play.RuleSet.NCAA.value, "NCAA"
    NBA = play.RuleSet.NBA.value, "NBA"
    WNBA = play.RuleSet.WNBA.value, "WNBA"


class Duty(models.TextChoices):
    HEAD = "head", _("Head coach")
    ASSISTANT = "assistant", _("Assistant")


class Team(models.Model):
    """One team in one season."""

    name = models.CharField(_("name"), max_length=60)
    season = models.CharField(_("season"), max_length=20)
    age_group = models.CharField(_("age group"), max_length=8, choices=AgeGroup)
    rule_set = models.CharField(_("rule set"), max_length=8, choices=RuleSet)
    season_ends = DayField(_("last day of the season"), null=True, blank=True)
    # A season that is over: kept for reading, changed no more.
    archived_on = DayField(null=True, blank=True, editable=False)
    language = models.CharField(
        _("language of the sheets"), max_length=5, choices=settings.LANGUAGES, default="en"
    )
    # What the team has measured of its own pace: plays.core.team_pace.TeamPace as JSON.
    pace = models.JSONField(default=dict, blank=True)
    staff: models.ManyToManyField[models.Model, Staff] = models.ManyToManyField(
        settings.AUTH_USER_MODEL, through="Staff", related_name="teams"
    )

    class Meta:
        ordering = ("name", "season")

    def __str__(self) -> str:
        return f"{self.name} {self.season}"


class Staff(models.Model):
    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="staff_places")
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="staff_places"
    )
    duty = models.CharField(max_length=10, choices=Duty)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("team", "user"), name="one_duty_per_team"),)

    def __str__(self) -> str:
        return f"{self.user} ({self.get_duty_display()})"
