"""A team's drills: what is done in a block that is for no play."""

from __future__ import annotations

from hashlib import sha256
from typing import Final

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from roster.models import Team

USUAL_MINUTES: Final = 8  # within the 7 to 10 that practice/core/plan/load.py names


class DrillQuerySet(models.QuerySet["Drill"]):
    def without_picture(self) -> DrillQuerySet:
        """For a page, which shows a picture by its address and needs no byte of it."""
        return self.defer("picture")


class Drill(models.Model):
    """A drill of a team: how long, what for, how it goes, and perhaps a picture of it (JPEG)."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="drills")
    name = models.CharField(_("name"), max_length=60)
    minutes = models.PositiveSmallIntegerField(
        _("minutes"),
        default=USUAL_MINUTES,
        validators=[MinValueValidator(1), MaxValueValidator(120)],
    )
    purpose = models.CharField(_("what it is for"), max_length=120, blank=True)
    equipment = models.CharField(_("equipment"), max_length=80, blank=True)
    text = models.TextField(_("how it goes"), max_length=1500, blank=True)
    picture = models.BinaryField(default=b"")
    # Of its bytes, blank without one: in the address, so that a browser may keep the picture.
    picture_mark = models.CharField(max_length=12, blank=True)

    objects = DrillQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                fields=("team", "name"),
                name="one_drill_per_name",
                violation_error_message=_("There is a drill of that name already."),
            ),
        )

    def __str__(self) -> str:
        return self.name

    @property
    def is_told(self) -> bool:
        """Whether there is more to see of it than its name."""
        return bool(self.text or self.picture_mark)

    def show(self, picture: bytes) -> None:
        """Take a picture, or none; not saved yet."""
        self.picture = picture
        self.picture_mark = sha256(picture).hexdigest()[:12] if picture else ""
