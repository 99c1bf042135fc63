"""What was called in a game, by whom it was run, and who was out that day."""

from __future__ import annotations

import uuid
from typing import ClassVar, Final, Self

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core.defence.words import TACTICS
from plays.core.play import ROLES
from plays.models import Revision
from practice.core.reps.called import (
    LAST_PERIOD,
    LONGEST_CLOCK,
    MOST_POINTS,
    SEEN,
    CallResult,
    Take,
)
from practice.core.reps.tap_reader import LONGEST_CALL, LONGEST_ID
from practice.models.dates import Game
from practice.models.reps import Undo
from roster.models import PackagePlay, Player
from shared.fields import MomentField

# In the check's words, read in the language of the page.
DEFENCE_CHOICES: Final = [(tactic.value, _(TACTICS[tactic])) for tactic in SEEN]


class TakenChoice(models.TextChoices):
    LOOK = Take.LOOK.value, _("A look")
    NONE = Take.NONE.value, _("No look taken")
    BROKEN = Take.BROKEN.value, _("Broken")


class CallResultChoice(models.TextChoices):
    POINTS = CallResult.POINTS.value, _("Shot")
    FOUL = CallResult.FOUL.value, _("Foul drawn")
    TURNOVER = CallResult.TURNOVER.value, _("Turnover")
    FIVE_SECONDS = CallResult.FIVE_SECONDS.value, _("Five seconds")
    RESET = CallResult.RESET.value, _("Reset, played on")


class CalledPlayQuerySet(models.QuerySet["CalledPlay"]):
    def counted(self) -> Self:
        """Those that nobody took back. An undo counts within its own team only."""
        undos = Undo.objects.filter(
            rep_id=models.OuterRef("pk"), team=models.OuterRef("game__team")
        )
        return self.exclude(models.Exists(undos))


class CalledPlay(models.Model):
    """One possession in which a play was called; see ``practice.core.reps.called``.

    The id is made on the phone, so that a second send of the same tap is the same row.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    game = models.ForeignKey(Game, on_delete=models.CASCADE, related_name="called")
    entry = models.ForeignKey(PackagePlay, on_delete=models.PROTECT, related_name="called")
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="called")
    # Which of the play's calls: "" the first, NULL where nobody said.
    call = models.CharField(max_length=LONGEST_CALL, null=True)  # noqa: DJ001 - two kinds of empty
    defence = models.CharField(_("defence"), max_length=10, choices=DEFENCE_CHOICES, blank=True)
    taken = models.CharField(_("what was taken"), max_length=6, choices=TakenChoice)
    look = models.CharField(_("look"), max_length=LONGEST_ID, blank=True)  # an id of the revision
    result = models.CharField(_("result"), max_length=12, choices=CallResultChoice)
    # NULL where the possession went on, or nobody said what the free throws gave.
    points = models.PositiveSmallIntegerField(
        _("points"), null=True, blank=True, validators=[MaxValueValidator(MOST_POINTS)]
    )
    erred = models.CharField(_("who erred"), max_length=1, blank=True)
    period = models.PositiveSmallIntegerField(
        _("period"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(LAST_PERIOD)],
    )
    clock = models.PositiveSmallIntegerField(  # seconds left of the period
        _("clock"), null=True, blank=True, validators=[MaxValueValidator(LONGEST_CLOCK)]
    )
    at = MomentField()
    logged_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    received_at = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[CalledPlayQuerySet] = CalledPlayQuerySet.as_manager()  # type: ignore[assignment]

    class Meta:
        ordering = ("-at", "pk")
        indexes = (
            models.Index(fields=("entry", "defence", "look"), name="called_by_look"),
            models.Index(fields=("game", "at"), name="called_in_game"),
        )

    def __str__(self) -> str:
        return f"{self.entry} {self.get_result_display()}"


class CalledRole(models.Model):
    """Who was in which role of a called play."""

    called = models.ForeignKey(CalledPlay, on_delete=models.CASCADE, related_name="roles")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="called_roles")

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("called", "role"), name="one_player_per_called_role"),
            models.UniqueConstraint(fields=("called", "player"), name="one_called_role_per_player"),
        )

    def __str__(self) -> str:
        return f"{self.role} {self.player}"


class SquadMark(models.Model):
    """Whether somebody is in a game's squad; it has the last word over an announced absence."""

    game = models.ForeignKey(Game, on_delete=models.CASCADE, related_name="squad_marks")
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="squad_marks")
    is_out = models.BooleanField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("game", "player"), name="one_squad_mark_each"),
        )

    def __str__(self) -> str:
        return f"{self.player}: {'out' if self.is_out else 'in'}"
