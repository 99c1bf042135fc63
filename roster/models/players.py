"""Players, their personal links, and the fives that they practise in."""

from __future__ import annotations

from typing import ClassVar, Self

from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models.functions import Cast
from django.utils.translation import gettext_lazy as _

from plays.core.calls import CallName, with_number
from plays.core.play import Quality
from roster.core import people
from roster.core.people import HEIGHTS_CM, RATED, RATINGS
from roster.models.team import Team
from shared.fields import DayField
from shared.speech import language_now

ONE_TO_FIVE = (MinValueValidator(RATINGS[0]), MaxValueValidator(RATINGS[-1]))


class Availability(models.TextChoices):
    """What the staff may ask of somebody; never a diagnosis."""

    AVAILABLE = people.Availability.AVAILABLE.value, _("Available")
    LIMITED = people.Availability.LIMITED.value, _("Limited")
    OUT = people.Availability.OUT.value, _("Out until cleared")


class PlayerQuerySet(models.QuerySet["Player"]):
    def present(self) -> Self:
        """Players of the squad, without those who have left the team."""
        return self.filter(left_on=None)


class Player(models.Model):
    """Somebody who plays. Name or nickname, number and what casting needs; nothing else."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="players")
    name = models.CharField(_("name or nickname"), max_length=40)
    number = models.CharField(
        _("number"),
        max_length=2,
        validators=[RegexValidator(r"^(0|00|[1-9][0-9]?)$", _("Write 0, 00 or 1 to 99."))],
    )
    height_cm = models.PositiveSmallIntegerField(
        _("height in cm"),
        null=True,
        blank=True,
        validators=[MinValueValidator(HEIGHTS_CM[0]), MaxValueValidator(HEIGHTS_CM[1])],
    )
    positions = models.CharField(
        _("usual positions"),
        max_length=9,
        blank=True,
        validators=[RegexValidator(r"^[1-5](,[1-5])*$", _("Write positions such as 1,2."))],
    )
    availability = models.CharField(
        _("availability"), max_length=10, choices=Availability, default=Availability.AVAILABLE
    )
    passing = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    strength = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    speed = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    finishing = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    shooting = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    screening = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    reading = models.PositiveSmallIntegerField(null=True, blank=True, validators=ONE_TO_FIVE)
    # Gate times of a sprint in seconds, and how far behind the first gate it began, in metres.
    sprint_10 = models.FloatField(_("10 m in seconds"), null=True, blank=True)
    sprint_20 = models.FloatField(_("20 m in seconds"), null=True, blank=True)
    sprint_gate = models.FloatField(_("metres behind the gate"), null=True, blank=True)
    # Minutes in a game, as the staff expects them; empty counts as the mean of the others.
    expected_minutes = models.PositiveSmallIntegerField(
        _("expected minutes"), null=True, blank=True, validators=[MaxValueValidator(60)]
    )
    left_on = DayField(null=True, blank=True)
    # What stands in place of the name once the person is erased; chance, so that it leads nowhere.
    anonymous_number = models.PositiveIntegerField(null=True, editable=False)

    objects: ClassVar[PlayerQuerySet] = PlayerQuerySet.as_manager()  # type: ignore[assignment]

    class Meta:
        # By shirt number, as rosters are: names in several alphabets have no one order.
        ordering = (Cast("number", models.IntegerField()), "number", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("team", "number"),
                condition=models.Q(left_on=None),
                name="one_number_per_team",
                violation_error_message=_("Another player of this team wears that number."),
            ),
        )

    def __str__(self) -> str:
        return with_number(self.call_name, language_now())

    @property
    def call_name(self) -> CallName:
        """What the player is called on the floor, with the number that tells two apart."""
        return CallName(self.name, self.number)

    def ratings(self) -> dict[Quality, int | None]:
        """The seven ratings from 1 to 5; None where nobody has rated yet."""
        return {quality: getattr(self, quality.value) for quality in RATED}

    @property
    def is_rated(self) -> bool:
        """Whether anybody has judged anything about the player."""
        return any(rating is not None for rating in self.ratings().values())


class PlayerLink(models.Model):
    """The personal link under which a player's own pages open, on one phone.

    The token of the address is kept as a hash only; the site makes it again from ``nonce`` with
    its secret key, so that a slip can be printed twice. ``phone`` is the hash of a cookie.
    """

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="links")
    nonce = models.CharField(max_length=32, unique=True)
    digest = models.CharField(max_length=64, unique=True)
    is_guardians = models.BooleanField(default=False)
    phone = models.CharField(max_length=64, blank=True)
    opened_at = models.DateTimeField(null=True)
    made_at = models.DateTimeField(auto_now_add=True)
    opens_until = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"link of {self.player}"


class Unit(models.Model):
    """A five that the coach plays and practises together."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="units")
    name = models.CharField(max_length=30)
    members = models.ManyToManyField(Player, related_name="units")

    class Meta:
        ordering = ("name",)
        constraints = (models.UniqueConstraint(fields=("team", "name"), name="one_unit_per_name"),)

    def __str__(self) -> str:
        return self.name
