"""The library: plays, and the revisions in which each was written down."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar, Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core import play as core
from plays.core.calls import call_for
from plays.core.document.file import Written, read_own
from plays.core.play import Play as PlayValue
from plays.search import search_text
from shared.speech import language_now
from shared.worker import Work


class Situation(models.TextChoices):
    SIDELINE = core.Situation.SIDELINE.value, _("Sideline inbound")
    BASELINE = core.Situation.BASELINE.value, _("Baseline inbound")
    PRESS_BREAK = core.Situation.PRESS_BREAK.value, _("Press break")
    HALF_COURT = core.Situation.HALF_COURT.value, _("Half court")
    AFTER_TIMEOUT = core.Situation.AFTER_TIMEOUT.value, _("After a time-out")
    LAST_SHOT = core.Situation.LAST_SHOT.value, _("Last shot")


class Formation(models.TextChoices):
    LINE_ACROSS = core.Formation.LINE_ACROSS.value, _("Line across")
    LINE_ALONG = core.Formation.LINE_ALONG.value, _("Line along the sideline")
    STACK = core.Formation.STACK.value, _("Stack")
    BOX = core.Formation.BOX.value, _("Box")
    DIAMOND = core.Formation.DIAMOND.value, _("Diamond")
    FOUR_ACROSS = core.Formation.FOUR_ACROSS.value, _("Four across")
    SPREAD = core.Formation.SPREAD.value, _("Spread")
    OTHER = core.Formation.OTHER.value, _("Other")


class AgeGroup(models.TextChoices):
    U10 = core.AgeGroup.U10.value, "U10"
    U12 = core.AgeGroup.U12.value, "U12"
    U14 = core.AgeGroup.U14.value, "U14"
    U16 = core.AgeGroup.U16.value, "U16"
    U18 = core.AgeGroup.U18.value, "U18"
    ADULT = core.AgeGroup.ADULT.value, _("Adult")


# What the library shows of a play without opening its document.
DESCRIBED = ("name", "series", "situation", "formation", "level", "use", "search", "calls")


class PlayQuerySet(models.QuerySet["Play"]):
    def on_shelf(self) -> Self:
        """Plays that may be carried: published at least once, and not put away."""
        return self.filter(current__isnull=False, put_away=False)

    def with_current(self) -> Self:
        """Each with its current revision, and no document read."""
        return self.select_related("current").defer("current__document", "search")


class Play(models.Model):
    """A play of the library. What the browse page needs is copied from the current revision."""

    key = models.SlugField(max_length=60, unique=True)
    name = models.CharField(max_length=60)
    situation = models.CharField(max_length=16, choices=Situation)
    formation = models.CharField(max_length=16, choices=Formation)
    series = models.CharField(max_length=40, blank=True)
    level = models.CharField(max_length=8, choices=AgeGroup)
    use = models.TextField(blank=True)
    search = models.TextField(blank=True, editable=False)
    # Every call as it is written, where the play has several.
    calls = models.JSONField(default=list, blank=True, editable=False)
    put_away = models.BooleanField(default=False)
    current = models.OneToOneField(
        "Revision", null=True, on_delete=models.PROTECT, related_name="current_of"
    )

    objects: ClassVar[PlayQuerySet] = PlayQuerySet.as_manager()  # type: ignore[assignment]

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name

    def published(self) -> Revision:
        """The current revision. Raises Revision.DoesNotExist before the first publication."""
        if self.current is None:
            raise Revision.DoesNotExist(self.key)
        return self.current

    def describe_from(self, written: Written) -> None:
        """Take over from the document the fields named in DESCRIBED."""
        value = written.play
        self.name, self.series = value.name, value.series
        self.situation, self.formation = value.situation.value, value.formation.value
        self.level, self.use = value.level.value, value.use
        self.search = search_text(written.document)
        self.calls = [value.call, *(v.call for v in value.variants)] if value.variants else []

    def spoken_calls(self) -> list[str]:
        """Its calls, where it has several, as they are said while nobody is cast."""
        return [call_for(call, {}, language_now()) for call in self.calls]


class Revision(models.Model):
    """One state of a play. A published revision never changes; a draft becomes one."""

    play = models.ForeignKey(Play, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    document = models.JSONField()
    content_hash = models.CharField(max_length=64, db_index=True)
    published_at = models.DateTimeField(null=True)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    note = models.CharField(max_length=200, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("-number",)
        constraints = (
            models.UniqueConstraint(fields=("play", "number"), name="one_revision_per_number"),
            models.UniqueConstraint(
                fields=("play",), condition=Q(published_at=None), name="one_draft_per_play"
            ),
        )

    def __str__(self) -> str:
        return f"{self.play} {self.number}"

    @property
    def at(self) -> datetime:
        """When it was published, or made as a draft, on the club's clock."""
        return timezone.localtime(self.published_at or self.made_at)

    @property
    def day(self) -> str:
        """When it was published, or made as a draft: how people tell one from another."""
        return self._dated(gettext("j F Y"))

    @property
    def moment(self) -> str:
        """The same to the minute, where two of one day stand side by side, with its note."""
        said = self._dated(gettext("j F Y, H:i"))
        return f"{said}: {self.note}" if self.note else said

    def _dated(self, written: str) -> str:
        return date_format(self.at, written)

    def value(self) -> PlayValue:
        """The play as the core computes with it."""
        return read_own(self.document)

    def written(self) -> Written:
        """The play with the document that holds it."""
        return Written(self.value(), self.document, self.content_hash)

    def hold(self, written: Written) -> None:
        """Take this play in, without saving."""
        self.document, self.content_hash = written.document, written.content_hash


class TracedPhoto(models.Model):
    """A photo that is traced in the editor: as JPEG, and straightened to the half court.

    ``corners`` are shares of its width and height, none before they are marked. In the database,
    so that every process sees it; publishing or discarding the draft deletes it.
    """

    play = models.OneToOneField(Play, on_delete=models.CASCADE, related_name="traced")
    photo = models.BinaryField()
    corners = models.JSONField(default=list)
    laid = models.BinaryField(default=b"")
    changed_at = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        return f"photo of {self.play}"


class SharedPlay(models.Model):
    """A link by which anybody reads a play, or without one every play on the shelf.

    Only ``nonce`` is kept; the address also carries a signature made with the secret key, so
    that a copy of the database opens nothing.
    """

    play = models.ForeignKey(Play, null=True, on_delete=models.CASCADE, related_name="shared")
    nonce = models.CharField(max_length=32, unique=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    made_at = models.DateTimeField(auto_now_add=True)
    opens_until = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{self.play or 'library'} until {self.opens_until:%Y-%m-%d}"


class Checking(Work):
    """One run of the worker that reckons missing check results; ``left`` is how many it saw."""

    worker = "plays.check.results.work"

    left = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("state",), condition=Q(state="running"), name="one_checking_at_a_time"
            ),
        )

    def __str__(self) -> str:
        return f"checking {self.pk}: {self.get_state_display()}"


class Tuning(Work):
    """A search for what would make a play better, within the limits that a keeper has set.

    ``question`` holds the limits and the looks, ``pace`` how fast everybody is, ``content`` what
    the revision held then; ``found`` is the answer, empty until there is one.
    """

    worker = "plays.tuning.work.work"

    play = models.ForeignKey(Play, on_delete=models.CASCADE, related_name="tunings")
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE)
    content = models.CharField(max_length=64)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    team = models.PositiveBigIntegerField(null=True)
    question = models.JSONField()
    pace = models.JSONField()
    share = models.FloatField(default=0.0)
    found = models.JSONField(default=dict)

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("play",), condition=Q(state="running"), name="one_tuning_of_a_play"
            ),
        )

    def __str__(self) -> str:
        return f"tuning of {self.play}: {self.get_state_display()}"


class CheckResult(models.Model):
    """What the check found for one content, age group and defence: kept, since it is reckoned.

    ``code`` says which state of the computing made it; a row of another state is stale.
    """

    content_hash = models.CharField(max_length=64)
    age = models.CharField(max_length=8, choices=AgeGroup)
    defence = models.CharField(max_length=8)
    code = models.CharField(max_length=16)
    serious = models.PositiveSmallIntegerField()
    warnings = models.PositiveSmallIntegerField()
    notes = models.PositiveSmallIntegerField()
    margin = models.FloatField(null=True)  # of the best look that is in time, in seconds
    look = models.CharField(max_length=60, blank=True)
    word = models.CharField(max_length=16, blank=True)
    there = models.PositiveSmallIntegerField()  # looks that are open or contested
    looks = models.PositiveSmallIntegerField()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("content_hash", "age", "defence", "code"), name="one_result_per_check"
            ),
        )

    def __str__(self) -> str:
        return f"{self.content_hash[:8]} {self.age} {self.defence}"

    @property
    def suits(self) -> bool:
        """Nothing serious against it, and a look to throw (or none planned)."""
        return self.serious == 0 and (self.there > 0 or self.looks == 0)
