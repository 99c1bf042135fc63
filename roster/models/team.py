"""Teams and their staff."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core import play
from plays.core.glossary.glossary import PLAIN
from plays.models import AgeGroup
from shared.core.language import Language
from shared.fields import DayField
from shared.speech import language_of


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


class Wording(models.TextChoices):
    BY_AGE = "age", _("Plain words for U12 and younger")
    PLAIN = "plain", _("Plain words")
    TRADE = "trade", _("Terms of the trade")


YOUNG: Final = frozenset({AgeGroup.U10, AgeGroup.U12})


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
    wording = models.CharField(
        _("words of the sheets"), max_length=8, choices=Wording, default=Wording.BY_AGE
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

    def speech(self, code: str = "") -> Language:
        """How the team's players are spoken to, in its own language or another."""
        spoken = language_of(code or self.language)
        return replace(spoken, vocabulary=PLAIN) if self.speaks_plainly else spoken

    @property
    def speaks_plainly(self) -> bool:
        """Whether sheets spare the terms of the trade."""
        if self.wording == Wording.BY_AGE:
            return self.age_group in YOUNG
        return self.wording == Wording.PLAIN


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
