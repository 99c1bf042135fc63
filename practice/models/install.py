"""The club's numbers about learning, and the plan of what is installed before a game."""

from __future__ import annotations

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES
from practice.core.learning.lesson import GameLesson
from practice.models.dates import (
    Game,
)
from roster.models import PackagePlay
from shared.core.numbers import hundredths
from shared.worker import Work


class ReadinessSettings(models.Model):
    """The club's own parameters of readiness; what is missing keeps its default."""

    assumptions = models.JSONField(default=dict)
    calibration = models.JSONField(null=True)
    games = models.JSONField(null=True)  # what games say of the check's index
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name_plural = "readiness settings"

    def __str__(self) -> str:
        return "readiness settings"


class Calibrating(Work):
    """One run of the worker that fits readiness to the club's reps, from these parameters."""

    worker = "practice.readiness.calibrating.work"

    language = models.CharField(max_length=5)
    assumptions = models.JSONField(default=dict)

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("state",), condition=models.Q(state="running"), name="one_calibrating"
            ),
        )

    def __str__(self) -> str:
        return f"calibrating {self.pk}: {self.get_state_display()}"


class InstallPlan(models.Model):
    """The proposal for the practices before a game: reps, and what they are worth."""

    game = models.OneToOneField(Game, on_delete=models.CASCADE, related_name="install_plan")
    entries = models.JSONField(default=list)  # practice, play, unit, mode, reps, locked
    worth = models.FloatField(default=0.0)
    gap = models.FloatField(null=True)  # of an improved plan: how far it may fall short of the best
    version = models.PositiveIntegerField(default=0)  # counts every change of the entries
    made_at = models.DateTimeField(default=timezone.now)
    accepted_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"install plan for {self.game}"

    @property
    def least_percent(self) -> int | None:
        """How much of the best plan's worth this one has at least, rounded down.

        None where nobody knows, and where it is worth nothing.
        """
        if self.gap is None or self.worth <= 0:
            return None
        return hundredths(1 - self.gap)


class LessonInPlan(models.Model):
    """Something that a game showed, put into the install plan of a later one: its play weighs more.

    It names no player: a role went wrong, or the play did.
    """

    planned = models.ForeignKey(Game, on_delete=models.CASCADE, related_name="lessons_in_plan")
    shown = models.ForeignKey(Game, on_delete=models.CASCADE, related_name="lessons_given")
    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="lessons_in_plan")
    lesson = models.CharField(max_length=12, choices=[(each, each) for each in GameLesson])
    role = models.CharField(max_length=1, blank=True, choices=[(role, role) for role in ROLES])
    times = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("planned", "shown", "entry", "lesson", "role"),
                name="one_lesson_in_a_plan",
            ),
        )

    def __str__(self) -> str:
        return f"{self.entry} {self.role} {self.lesson}"


class Improvement(Work):
    """One run of the worker that improves a plan: what it was asked, and how far it is."""

    class State(models.TextChoices):
        RUNNING = "running", _("Running")
        DONE = "done", _("Done")
        CANCELLED = "cancelled", _("Cancelled")
        OVERTAKEN = (
            "overtaken",
            _("The plan was changed meanwhile, so this result was put aside"),
        )
        FAILED = "failed", _("Failed")

    worker = "practice.install.improving.work"

    plan = models.ForeignKey(InstallPlan, on_delete=models.CASCADE, related_name="improvements")
    state = models.CharField(max_length=10, choices=State, default=State.RUNNING)
    of_version = models.PositiveIntegerField()
    seconds = models.PositiveSmallIntegerField(default=60)
    share = models.FloatField(default=0.0)
    worth = models.FloatField(null=True)
    bound = models.FloatField(null=True)
    began_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ("-began_at", "-pk")

    def __str__(self) -> str:
        return f"improvement of {self.plan}: {self.get_state_display()}"
