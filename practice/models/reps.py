"""Reps as they were logged, their sums, and what waits for a decision."""

from __future__ import annotations

import uuid
from typing import ClassVar, Self

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES
from plays.models import Revision
from practice.core.reps.rep import Slip
from practice.core.reps.tap_reader import LONGEST_CALL
from practice.models.dates import (
    Game,
    ModeChoice,
    Practice,
)
from roster.models import PackagePlay, Player, Team, Unit
from shared.fields import MomentField


class SlipChoice(models.TextChoices):
    EARLY = Slip.EARLY.value, _("Too early")
    LATE = Slip.LATE.value, _("Too late")
    WRONG_SPOT = Slip.WRONG_SPOT.value, _("Wrong spot")
    WRONG_READ = Slip.WRONG_READ.value, _("Wrong read")
    PASS = Slip.PASS.value, _("Pass")
    SCREEN = Slip.SCREEN.value, _("Screen")


class RepQuerySet(models.QuerySet["Rep"]):
    def counted(self) -> Self:
        """Reps that nobody took back. An undo counts within its own team only."""
        undos = Undo.objects.filter(
            rep_id=models.OuterRef("pk"), team=models.OuterRef("practice__team")
        )
        return self.exclude(models.Exists(undos))


class Rep(models.Model):
    """One run of one play. The id is made where the tap happens, so that a second send of the
    same rep is the same rep."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    practice = models.ForeignKey(Practice, on_delete=models.CASCADE, related_name="reps")
    entry = models.ForeignKey(PackagePlay, on_delete=models.PROTECT, related_name="reps")
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="reps")
    unit = models.ForeignKey(Unit, null=True, on_delete=models.SET_NULL)
    mode = models.CharField(max_length=12, choices=ModeChoice)
    is_clean = models.BooleanField()
    erred = models.CharField(max_length=1, blank=True)
    slip = models.CharField(max_length=10, choices=SlipChoice, blank=True)
    # Which of the play's calls: "" the first, NULL where nobody said.
    call = models.CharField(max_length=LONGEST_CALL, null=True)  # noqa: DJ001 - two kinds of empty
    at = MomentField()
    logged_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    received_at = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[RepQuerySet] = RepQuerySet.as_manager()  # type: ignore[assignment]

    class Meta:
        ordering = ("-at", "pk")

    def __str__(self) -> str:
        return f"{self.entry} {self.get_mode_display()} {'clean' if self.is_clean else 'error'}"


class RepRole(models.Model):
    """Who was in which role of a rep."""

    rep = models.ForeignKey(Rep, on_delete=models.CASCADE, related_name="roles")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="rep_roles")

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("rep", "role"), name="one_player_per_rep_role"),
            models.UniqueConstraint(fields=("rep", "player"), name="one_role_per_rep_player"),
        )

    def __str__(self) -> str:
        return f"{self.role} {self.player}"


class RepSum(models.Model):
    """How often a player did a role of a play alike in one practice or one game: what readiness
    is made of.

    Made anew from the counted reps and called plays whenever these change
    (``practice.reps.sums``), by mode and result, so that other worths of a rep need no other sums.
    """

    practice = models.ForeignKey(
        Practice, null=True, on_delete=models.CASCADE, related_name="rep_sums"
    )
    game = models.ForeignKey(Game, null=True, on_delete=models.CASCADE, related_name="rep_sums")
    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="rep_sums")
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="rep_sums")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    mode = models.CharField(max_length=12, choices=ModeChoice)
    is_clean = models.BooleanField()  # of this player's own part
    count = models.PositiveIntegerField()
    first_at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("practice", "entry", "player", "role", "mode", "is_clean"),
                name="one_sum_of_a_kind",
            ),
            models.UniqueConstraint(
                fields=("game", "entry", "player", "role", "mode", "is_clean"),
                name="one_sum_of_a_kind_in_a_game",
            ),
            models.CheckConstraint(
                condition=models.Q(practice=None, game__isnull=False)
                | models.Q(practice__isnull=False, game=None),
                name="sum_of_a_practice_or_a_game",
            ),
        )

    def __str__(self) -> str:
        return f"{self.count} x role {self.role}, {self.get_mode_display()}"


class Undo(models.Model):
    """A tap that takes a rep or a called play back. It may arrive before what it names."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    rep_id = models.UUIDField(db_index=True)
    team = models.ForeignKey(Team, null=True, on_delete=models.CASCADE, related_name="undos")
    at = MomentField()
    logged_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    received_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"undo of {self.rep_id}"


class HeldRep(models.Model):
    """A rep or a called play that came in but cannot count as it is: kept as sent until somebody
    decides.

    What speaks against it is worked out afresh whenever it is shown, because attendance,
    package or roster may have been put right meanwhile.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="held_reps")
    tap = models.JSONField()
    logged_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="held_reps"
    )
    received_at = models.DateTimeField(auto_now_add=True)
    counted = models.BooleanField(null=True)  # None: nobody has decided yet
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    decided_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ("received_at", "pk")

    def __str__(self) -> str:
        return f"held rep {self.pk}"
