"""The plays that a team carries, who plays which role in them, and what is to be taught."""

from __future__ import annotations

from typing import ClassVar, Self, cast

from django.conf import settings
from django.core.validators import MaxValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core.calls import call_for
from plays.core.play import ROLES, Role
from plays.models import Play, Revision
from plays.values import play_value
from roster.core.cast import DEPTHS, Assignment
from roster.core.coverage.stand_in import five_of
from roster.models.players import (
    Availability,
    Player,
    Unit,
)
from roster.models.team import Team
from shared.fields import DayField
from shared.speech import language_now
from shared.worker import Work


class Priority(models.IntegerChoices):
    CORE = 1, _("Core")
    REGULAR = 2, _("Regular")
    SPARE = 3, _("Spare")


class PackageQuerySet(models.QuerySet["PackagePlay"]):
    def carried(self) -> Self:
        """What the team carries now, without plays that it has dropped."""
        return self.filter(dropped_on=None)

    def with_cast(self) -> Self:
        """With castings and their players at hand: two more queries, however many plays."""
        return self.prefetch_related("castings__player")


class PackagePlay(models.Model):
    """A play that a team carries, under the team's own call.

    A dropped play keeps its row: reps and old sheets point at it.
    """

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="package")
    play = models.ForeignKey(Play, on_delete=models.PROTECT, related_name="carried")
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="carried")
    call = models.CharField(_("call"), max_length=60)
    signal = models.CharField(_("hand signal"), max_length=80, blank=True)
    priority = models.PositiveSmallIntegerField(
        _("priority"), choices=Priority, default=Priority.REGULAR
    )
    ready_by = DayField(_("ready by"), null=True, blank=True)
    setup_minutes = models.PositiveSmallIntegerField(
        _("minutes to set it up"), null=True, blank=True, validators=[MaxValueValidator(20)]
    )
    # The five that runs this play first, where the coach has said so.
    unit = models.ForeignKey(
        Unit, null=True, blank=True, on_delete=models.SET_NULL, related_name="entries"
    )
    # Counted up with every change of the cast, so that two coaches never overwrite silently.
    cast_version = models.PositiveIntegerField(default=0)
    # The revision whose needs the cast was made for, while that is not the one carried.
    cast_for = models.ForeignKey(Revision, null=True, on_delete=models.SET_NULL, related_name="+")
    dropped_on = DayField(null=True)

    objects: ClassVar[PackageQuerySet] = PackageQuerySet.as_manager()  # type: ignore[assignment]

    class Meta:
        ordering = ("priority", "call", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("team", "play"),
                name="one_place_in_the_package",
                violation_error_message=_("The team carries this play already."),
            ),
        )

    def __str__(self) -> str:
        return self.call

    def spoken(self) -> str:
        """The call as this cast hears it; where somebody is out, with the name of who steps in."""
        return self.heard("")

    def heard(self, call: str) -> str:
        """Another call of the play as this cast hears it; "" is the team's own for the first."""
        people = {c.player_id: c.player for c in self.castings.all()}
        out = {pk for pk, who in people.items() if who.availability == Availability.OUT}
        five = five_of([c.value() for c in self.castings.all()], out)
        names = {role: people[pk].call_name for role, pk in five.items()}  # type: ignore[index]
        return call_for(call or self.call, names, language_now())

    @property
    def further(self) -> tuple[str, ...]:
        """The calls beside the first, as this cast hears them; lists read their plays ahead."""
        return tuple(heard for _, heard in self.calls()[1:])

    def calls(self) -> tuple[tuple[str, str], ...]:
        """Every call, as reps keep it and as this cast hears it; empty where there is but one."""
        further = [variant.call for variant in play_value(self.revision).variants]
        return tuple((call, self.heard(call)) for call in ("", *further)) if further else ()


class Casting(models.Model):
    """One player in one role of one play, at one depth."""

    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="castings")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    depth = models.PositiveSmallIntegerField(choices=[(depth, str(depth)) for depth in DEPTHS])
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="castings")

    class Meta:
        ordering = ("entry", "role", "depth")
        constraints = (
            models.UniqueConstraint(fields=("entry", "role", "depth"), name="one_player_per_slot"),
            models.UniqueConstraint(
                fields=("entry", "depth", "player"),
                name="one_role_per_depth",
                violation_error_message=_("Nobody can fill two roles at the same depth of a play."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.role}.{self.depth} {self.player}"

    def value(self) -> Assignment:
        """As the core computes with it, by primary keys."""
        return Assignment(self.entry_id, cast("Role", self.role), self.depth, self.player_id)


class GotIt(models.Model):
    """A player's word that they have read their part of one revision of a play."""

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="got")
    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="got")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="+")
    said_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("player", "entry", "role", "revision"), name="said_once_for_a_revision"
            ),
        )

    def __str__(self) -> str:
        return f"{self.player} has role {self.role} of {self.entry}"


class Lesson(models.Model):
    """A role of a play that the staff wants to teach somebody: a wish to the install plan."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="lessons")
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="lessons")
    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="lessons")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    done = models.BooleanField(default=False)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("player", "entry", "role"),
                condition=models.Q(done=False),
                name="one_open_wish",
            ),
        )

    def __str__(self) -> str:
        return f"{self.player}: role {self.role} of {self.entry}"


class Printing(Work):
    """A paper of a team being made beside the requests; the file itself is kept as a piece."""

    worker = "roster.sheets.printing.work"

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="printings")
    kind = models.CharField(max_length=10)
    paper = models.CharField(max_length=10)
    due = models.BooleanField(default=False)
    share = models.FloatField(default=0.0)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{self.kind} of {self.team}: {self.get_state_display()}"

    @property
    def percent(self) -> int:
        return round(100 * self.share)


class ShelfPrinting(Work):
    """A playbook of plays of the library being made for one of the staff.

    ``plays`` are keys of plays, ``language`` is the reader's. The file itself is kept as a piece.
    """

    worker = "roster.sheets.shelf.work"

    made_for = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="shelf_printings"
    )
    plays = models.JSONField(default=list)
    paper = models.CharField(max_length=10)
    language = models.CharField(max_length=8)
    share = models.FloatField(default=0.0)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"playbook for {self.made_for}: {self.get_state_display()}"

    @property
    def percent(self) -> int:
        return round(100 * self.share)
