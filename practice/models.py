"""Practices, games, and what was run in them."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES
from plays.models import Revision
from practice.core.plan import BlockKind
from practice.core.reps import Mode, Slip
from roster.models import PackagePlay, Player, Team, Unit


class ModeChoice(models.TextChoices):
    WALK_THROUGH = Mode.WALK_THROUGH.value, _("Walk-through")
    HALF_SPEED = Mode.HALF_SPEED.value, _("Half speed")
    LIVE = Mode.LIVE.value, _("Live")
    GAME = Mode.GAME.value, _("Game")


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


class SlipChoice(models.TextChoices):
    EARLY = Slip.EARLY.value, _("Too early")
    LATE = Slip.LATE.value, _("Too late")
    WRONG_SPOT = Slip.WRONG_SPOT.value, _("Wrong spot")
    WRONG_READ = Slip.WRONG_READ.value, _("Wrong read")
    PASS = Slip.PASS.value, _("Pass")
    SCREEN = Slip.SCREEN.value, _("Screen")


class Practice(models.Model):
    """A practice and its plan, which must fit the booking of the hall where one is given."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="practices")
    date = models.DateField(_("date"))
    start = models.TimeField(_("start"))
    place = models.CharField(_("place"), max_length=80, blank=True)
    hall_from = models.TimeField(_("hall booked from"), null=True, blank=True)
    hall_until = models.TimeField(_("hall booked until"), null=True, blank=True)
    notes = models.TextField(_("notes"), blank=True, max_length=2000)

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
    mode = models.CharField(_("mode"), max_length=12, choices=ModeChoice, blank=True)
    contact = models.BooleanField(_("with contact"), default=False)
    equipment = models.CharField(_("equipment"), max_length=80, blank=True)
    unit = models.ForeignKey(Unit, null=True, blank=True, on_delete=models.SET_NULL)

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


class Game(models.Model):
    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="games")
    date = models.DateField(_("date"))
    start = models.TimeField(_("start"))
    opponent = models.CharField(_("opponent"), max_length=60)
    place = models.CharField(_("place"), max_length=80, blank=True)

    class Meta:
        ordering = ("date", "start")

    def __str__(self) -> str:
        return f"{self.date:%Y-%m-%d} {self.opponent}"


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
    at = models.DateTimeField()
    logged_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    received_at = models.DateTimeField(auto_now_add=True)

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


class Undo(models.Model):
    """A tap that takes one rep back. It may arrive before the rep that it names."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    rep_id = models.UUIDField(db_index=True)
    at = models.DateTimeField()
    logged_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    received_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"undo of {self.rep_id}"
