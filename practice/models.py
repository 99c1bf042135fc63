"""Practices, games, and what was run in them."""

from __future__ import annotations

import uuid
from typing import ClassVar, Self

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES
from plays.models import Revision
from practice.core.plan.plan import BlockKind
from practice.core.reps.rep import Mode, Slip
from roster.models import PackagePlay, Player, Team, Unit
from shared.fields import DayField, MomentField
from shared.worker import Work


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


class SlipChoice(models.TextChoices):
    EARLY = Slip.EARLY.value, _("Too early")
    LATE = Slip.LATE.value, _("Too late")
    WRONG_SPOT = Slip.WRONG_SPOT.value, _("Wrong spot")
    WRONG_READ = Slip.WRONG_READ.value, _("Wrong read")
    PASS = Slip.PASS.value, _("Pass")
    SCREEN = Slip.SCREEN.value, _("Screen")


class Series(models.Model):
    """Practices that were made from one repeating rule, and are changed together."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="series")
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name_plural = "series"

    def __str__(self) -> str:
        return f"series {self.pk} of {self.team}"


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
    # Made from the install plan and not edited since: accepting it again replaces these.
    proposed = models.BooleanField(default=False)

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
        constraints = (
            models.CheckConstraint(
                condition=models.Q(last__gte=models.F("first")),
                name="absence_ends_after_it_begins",
                violation_error_message=_("The last day lies before the first one."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.player} {self.first:%Y-%m-%d} to {self.last:%Y-%m-%d}"


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
    place = models.CharField(_("place"), max_length=80, blank=True)
    cancelled = models.BooleanField(default=False)
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField(default=timezone.now)

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
    """How often a player did a role of a play alike in one practice: what readiness is made of.

    Made anew from the counted reps whenever these change (``practice.reps.sums``), by mode and
    result, so that other worths of a rep need no other sums.
    """

    practice = models.ForeignKey(Practice, on_delete=models.CASCADE, related_name="rep_sums")
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
        )

    def __str__(self) -> str:
        return f"{self.count} x role {self.role}, {self.get_mode_display()}"


class Undo(models.Model):
    """A tap that takes one rep back. It may arrive before the rep that it names."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    rep_id = models.UUIDField(db_index=True)
    team = models.ForeignKey(Team, null=True, on_delete=models.CASCADE, related_name="undos")
    at = MomentField()
    logged_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    received_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"undo of {self.rep_id}"


class HeldRep(models.Model):
    """A rep that came in but cannot count as it is: kept as sent until somebody decides.

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


class ReadinessSettings(models.Model):
    """The club's own parameters of readiness; what is missing keeps its default."""

    assumptions = models.JSONField(default=dict)
    calibration = models.JSONField(null=True)
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
    # Of an improved plan: how far it may fall short of the best, and the approximation's error.
    gap = models.FloatField(null=True)
    approximation = models.FloatField(null=True)
    version = models.PositiveIntegerField(default=0)  # counts every change of the entries
    made_at = models.DateTimeField(default=timezone.now)
    accepted_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"install plan for {self.game}"

    @property
    def gap_percent(self) -> float:
        """By how much of the best the plan may fall short."""
        return 100 * (self.gap or 0.0)

    @property
    def off_percent(self) -> float:
        """By how much of the plan's worth the approximation overrates it."""
        return 100 * (self.approximation or 0.0) / self.worth if self.worth else 0.0


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
