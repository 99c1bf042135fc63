"""Practices with their plans, games, and who is there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, Self, TypeVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from practice.core.plan.plan import BlockKind
from practice.core.reps.rep import Mode
from roster.models import PackagePlay, Player, Team, Unit
from shared.fields import DayField

Dated = TypeVar("Dated", bound=models.Model)


class ModeChoice(models.TextChoices):
    WALK_THROUGH = Mode.WALK_THROUGH.value, _("Walk-through")
    HALF_SPEED = Mode.HALF_SPEED.value, _("Half speed")
    LIVE = Mode.LIVE.value, _("Live")
    GAME = Mode.GAME.value, _("Game")


PRACTICE_MODES = [choice for choice in ModeChoice.choices if choice[0] != ModeChoice.GAME.value]


class KindChoice(models.TextChoices):
    WARM_UP = BlockKind.WARM_UP.value, _("Warm-up")
    SKILL = BlockKind.SKILL.value, _("Skill")
    INSTALL = BlockKind.INSTALL.value, _("Install")
    WALK_THROUGH = BlockKind.WALK_THROUGH.value, _("Walk-through")
    LIVE = BlockKind.LIVE.value, _("Live")
    SHOOTING = BlockKind.SHOOTING.value, _("Shooting")
    COOL_DOWN = BlockKind.COOL_DOWN.value, _("Cool-down")
    FREE = BlockKind.FREE.value, _("Free")


class Presence(models.TextChoices):
    PRESENT = "present", _("Present")
    LATE = "late", _("Late")
    ABSENT = "absent", _("Absent")


def in_order(name: str) -> models.CheckConstraint:
    """The rule that a first and a last day stand in this order."""
    return models.CheckConstraint(
        condition=models.Q(last__gte=models.F("first")),
        name=name,
        violation_error_message=_("The last day lies before the first one."),
    )


class Series(models.Model):
    """Practices that were made from one repeating rule, and are changed together."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="series")
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name_plural = "series"

    def __str__(self) -> str:
        return f"series {self.pk} of {self.team}"


class DatedQuerySet(models.QuerySet[Dated]):
    """Practices or games: rows with a day, that may be cancelled."""

    def ahead(self, today: date) -> Self:
        """Those from this day on that are not cancelled, the nearest first."""
        return self.filter(date__gte=today, cancelled=False).order_by("date", "start")


class Practice(models.Model):
    """A practice and its plan, which must fit the booking of the hall where one is given."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="practices")
    date = DayField(_("date"))
    start = models.TimeField(_("start"))
    place = models.CharField(_("place"), max_length=80, blank=True)
    hall_from = models.TimeField(_("hall booked from"), null=True, blank=True)
    hall_until = models.TimeField(_("hall booked until"), null=True, blank=True)
    notes = models.TextField(_("notes"), blank=True, max_length=2000)
    install_minutes = models.PositiveSmallIntegerField(
        _("minutes for installing plays"), default=20, validators=[MaxValueValidator(120)]
    )
    series = models.ForeignKey(
        Series, null=True, blank=True, on_delete=models.SET_NULL, related_name="practices"
    )
    is_changed = models.BooleanField(default=False)  # by itself: a change to its series skips it
    cancelled = models.BooleanField(default=False)
    # What a calendar program needs to follow a change (RFC 5545, 3.8.7.4).
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField(default=timezone.now)

    objects = DatedQuerySet["Practice"].as_manager()

    class Meta:
        ordering = ("date", "start")
        constraints = (
            models.UniqueConstraint(
                fields=("team", "date", "start"),
                name="one_practice_at_a_time",
                violation_error_message=_("There is a practice at that time already."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.date:%Y-%m-%d} {self.start:%H:%M}"


class Block(models.Model):
    """Some minutes of a practice; an install block names the play, the mode and the unit."""

    practice = models.ForeignKey(Practice, on_delete=models.CASCADE, related_name="blocks")
    order = models.PositiveSmallIntegerField()
    kind = models.CharField(_("kind"), max_length=12, choices=KindChoice)
    minutes = models.PositiveSmallIntegerField(
        _("minutes"), validators=[MinValueValidator(1), MaxValueValidator(120)]
    )
    title = models.CharField(_("title"), max_length=80, blank=True)
    notes = models.CharField(_("notes"), max_length=300, blank=True)
    entry = models.ForeignKey(
        PackagePlay, null=True, blank=True, on_delete=models.CASCADE, related_name="blocks"
    )
    drill = models.ForeignKey(
        "practice.Drill", null=True, blank=True, on_delete=models.SET_NULL, related_name="blocks"
    )
    mode = models.CharField(_("mode"), max_length=12, choices=ModeChoice, blank=True)
    contact = models.BooleanField(_("with contact"), default=False)
    equipment = models.CharField(_("equipment"), max_length=80, blank=True)
    unit = models.ForeignKey(Unit, null=True, blank=True, on_delete=models.SET_NULL)
    # Made from the install plan and not edited since: accepting it again replaces these.
    proposed = models.BooleanField(default=False)
    # The reps that an install plan meant it for: [{"mode", "reps", "unit"}], in their order.
    runs = models.JSONField(default=list, blank=True)
    # The open block whose minutes a proposed one has taken, so that they can be given back.
    slot = models.JSONField(null=True, blank=True)
    # Its runs as a page tells them, set by who reads the plan for a page.
    told: Sequence[Any] = ()

    class Meta:
        ordering = ("order", "pk")

    def __str__(self) -> str:
        return self.title or self.get_kind_display()


class Attendance(models.Model):
    practice = models.ForeignKey(Practice, on_delete=models.CASCADE, related_name="attendance")
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="attendance")
    presence = models.CharField(max_length=8, choices=Presence)

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("practice", "player"), name="one_presence_each"),
        )

    def __str__(self) -> str:
        return f"{self.player}: {self.get_presence_display()}"


class Absence(models.Model):
    """Days on which somebody is known to be away, both included; never the reason."""

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="absences")
    first = DayField(_("first day"))
    last = DayField(_("last day"))

    class Meta:
        ordering = ("first", "pk")
        constraints = (in_order("absence_ends_after_it_begins"),)

    def __str__(self) -> str:
        return f"{self.player} {self.first:%Y-%m-%d} to {self.last:%Y-%m-%d}"


class DaysOff(models.Model):
    """Days on which the team does not practise, both included: holidays, a closed hall."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="days_off")
    name = models.CharField(_("name"), max_length=40)
    first = DayField(_("first day"))
    last = DayField(_("last day"))

    class Meta:
        ordering = ("first", "pk")
        verbose_name_plural = "days off"
        constraints = (in_order("days_off_end_after_they_begin"),)

    def __str__(self) -> str:
        return f"{self.name} {self.first:%Y-%m-%d} to {self.last:%Y-%m-%d}"


class PlanPattern(models.Model):
    """A plan kept as a pattern: its blocks without plays, as a list of plain values."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="patterns")
    name = models.CharField(_("name"), max_length=60)
    blocks = models.JSONField()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                fields=("team", "name"),
                name="one_pattern_per_name",
                violation_error_message=_("There is a pattern of that name already."),
            ),
        )

    def __str__(self) -> str:
        return self.name


class Game(models.Model):
    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="games")
    date = DayField(_("date"))
    start = models.TimeField(_("start"))
    opponent = models.CharField(_("opponent"), max_length=60)
    # Whom the team knows by that name; follows the name (practice/opponents/meeting.py).
    met = models.ForeignKey(
        "practice.Opponent", null=True, on_delete=models.SET_NULL, related_name="games"
    )
    place = models.CharField(_("place"), max_length=80, blank=True)
    cancelled = models.BooleanField(default=False)
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField(default=timezone.now)

    objects = DatedQuerySet["Game"].as_manager()

    class Meta:
        ordering = ("date", "start")

    def __str__(self) -> str:
        return f"{self.date:%Y-%m-%d} {self.opponent}"


class FeedLink(models.Model):
    """The secret address of a calendar: a team's, or one player's. See shared.links."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="feed_links")
    player = models.ForeignKey(
        Player, null=True, on_delete=models.CASCADE, related_name="feed_links"
    )
    nonce = models.CharField(max_length=32, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    withdrawn_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"calendar of {self.player or self.team}"
