"""Teams, their people, the plays they carry and who plays which role."""

from __future__ import annotations

from typing import ClassVar, Self, cast

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models.functions import Cast
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from plays.core import play
from plays.core.calls import CallName, call_for, with_number
from plays.core.play import ROLES, Quality, Role
from plays.models import AgeGroup, Play, Revision
from roster.core import people
from roster.core.cast import DEPTHS, Assignment
from roster.core.coverage.stand_in import five_of
from roster.core.people import HEIGHTS_CM, RATED, RATINGS
from shared.core.language import language
from shared.fields import DayField
from shared.worker import Work

ONE_TO_FIVE = (MinValueValidator(RATINGS[0]), MaxValueValidator(RATINGS[-1]))


class RuleSet(models.TextChoices):
    FIBA = play.RuleSet.FIBA.value, "FIBA"
    NFHS = play.RuleSet.NFHS.value, _("NFHS (84 ft court)")
    NFHS_94 = play.RuleSet.NFHS_94.value, _("NFHS (94 ft court)")
    NCAA = play.RuleSet.NCAA.value, "NCAA"
    NBA = play.RuleSet.NBA.value, "NBA"
    WNBA = play.RuleSet.WNBA.value, "WNBA"


class Duty(models.TextChoices):
    HEAD = "head", _("Head coach")
    ASSISTANT = "assistant", _("Assistant")


class Availability(models.TextChoices):
    """What the staff may ask of somebody; never a diagnosis."""

    AVAILABLE = people.Availability.AVAILABLE.value, _("Available")
    LIMITED = people.Availability.LIMITED.value, _("Limited")
    OUT = people.Availability.OUT.value, _("Out until cleared")


class Priority(models.IntegerChoices):
    CORE = 1, _("Core")
    REGULAR = 2, _("Regular")
    SPARE = 3, _("Spare")


class Team(models.Model):
    """One team in one season."""

    name = models.CharField(_("name"), max_length=60)
    season = models.CharField(_("season"), max_length=20)
    age_group = models.CharField(_("age group"), max_length=8, choices=AgeGroup)
    rule_set = models.CharField(_("rule set"), max_length=8, choices=RuleSet)
    language = models.CharField(
        _("language of the sheets"), max_length=5, choices=settings.LANGUAGES, default="en"
    )
    # What the team has measured of its own pace: plays.core.team_pace.TeamPace as JSON.
    pace = models.JSONField(default=dict, blank=True)
    staff: models.ManyToManyField[models.Model, Staff] = models.ManyToManyField(
        settings.AUTH_USER_MODEL, through="Staff", related_name="teams"
    )

    class Meta:
        ordering = ("name", "season")

    def __str__(self) -> str:
        return f"{self.name} {self.season}"


class Staff(models.Model):
    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="staff_places")
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="staff_places"
    )
    duty = models.CharField(max_length=10, choices=Duty)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("team", "user"), name="one_duty_per_team"),)

    def __str__(self) -> str:
        return f"{self.user} ({self.get_duty_display()})"


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
        return with_number(self.call_name, language(get_language() or "en"))

    @property
    def call_name(self) -> CallName:
        """What the player is called on the floor, with the number that tells two apart."""
        return CallName(self.name, self.number)

    def ratings(self) -> dict[Quality, int | None]:
        """The seven ratings from 1 to 5; None where nobody has rated yet."""
        return {quality: getattr(self, quality.value) for quality in RATED}


class PlayerLink(models.Model):
    """The personal link under which a player reads their own sheet.

    Only ``nonce`` is kept; the address carries a signature as well (see shared.links).
    """

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="links")
    nonce = models.CharField(max_length=32, unique=True)
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
        people = {c.player_id: c.player for c in self.castings.all()}
        out = {pk for pk, who in people.items() if who.availability == Availability.OUT}
        five = five_of([c.value() for c in self.castings.all()], out)
        names = {role: people[pk].call_name for role, pk in five.items()}  # type: ignore[index]
        return call_for(self.call, names, language(get_language() or "en"))


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


class CastLock(models.Model):
    """This player stays in this role, at this depth or, with 0, at any."""

    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="locks")
    role = models.CharField(_("role"), max_length=1, choices=[(role, role) for role in ROLES])
    depth = models.PositiveSmallIntegerField(
        _("depth"), default=0, choices=[(0, _("any")), *((depth, str(depth)) for depth in DEPTHS)]
    )
    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="locks")

    class Meta:
        ordering = ("entry", "role", "depth", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("entry", "role", "depth", "player"),
                name="one_lock_of_a_kind",
                violation_error_message=_("That is locked already."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.player} in role {self.role} of {self.entry.play.name}"


class CastBan(models.Model):
    """This player is never proposed for a role; without a play or a role, for none of them."""

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="bans")
    entry = models.ForeignKey(
        PackagePlay, null=True, blank=True, on_delete=models.CASCADE, related_name="bans"
    )
    role = models.CharField(
        _("role"), max_length=1, blank=True, choices=[(role, role) for role in ROLES]
    )

    class Meta:
        ordering = ("player", "entry", "role", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("player", "entry", "role"),
                name="one_ban_of_a_kind",
                violation_error_message=_("That is ruled out already."),
            ),
            models.UniqueConstraint(
                fields=("player", "role"),
                condition=models.Q(entry=None),
                name="one_ban_everywhere",
                violation_error_message=_("That is ruled out already."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.player} not in role {self.role or 'any'}"


class KeptApart(models.Model):
    """Two players who are never on the floor together; the lower key comes first."""

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="kept_apart")
    one = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="+")
    other = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="+")

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("one", "other"), name="kept_apart_once"),
            models.CheckConstraint(
                condition=models.Q(one__lt=models.F("other")), name="kept_apart_in_order"
            ),
        )

    def __str__(self) -> str:
        return f"{self.one} and {self.other}"


class CastStep(models.Model):
    """One change of a team's cast: who made it, when, and what it takes to undo it.

    ``changes`` is a list of {"entry", "role", "depth", "before", "after"}, players by primary
    key, None for a hole.
    """

    class Kind(models.TextChoices):
        HAND = "hand", _("cast by hand")
        ACCEPTED = "accepted", _("accepted a suggestion")
        LEFT = "left", _("left the team")
        UNDONE = "undone", _("undid a change")

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="cast_steps")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    at = models.DateTimeField(auto_now_add=True)
    kind = models.CharField(max_length=10, choices=Kind)
    changes = models.JSONField()
    undone = models.BooleanField(default=False)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.at:%Y-%m-%d %H:%M}"


class CastProposal(Work):
    """A cast for the whole package, being worked out beside the requests, or ready.

    ``answer`` is a list of [entry, role, depth, player]; ``declined`` the changes that the
    coach has turned down.
    """

    class State(models.TextChoices):
        RUNNING = "running", _("working")
        DONE = "done", _("done")
        CANCELLED = "cancelled", _("stopped")
        FAILED = "failed", _("failed")
        CLOSED = "closed", _("put away")

    worker = "roster.cast.search.search"
    grace = 0.0  # what the search has found is in the row already

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="proposals")
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    asked_at = models.DateTimeField(auto_now_add=True)
    state = models.CharField(max_length=10, choices=State, default=State.RUNNING)
    depth = models.PositiveSmallIntegerField(default=2, choices=[(2, "2"), (3, "3")])
    question_hash = models.CharField(max_length=64)
    stage = models.CharField(max_length=10, default="quick")
    ending = models.CharField(max_length=10, blank=True)
    seconds = models.FloatField(default=0.0)
    limit = models.FloatField(default=10.0)
    answer = models.JSONField(default=list)
    declined = models.JSONField(default=list)
    quick_value = models.FloatField(default=0.0)
    value = models.FloatField(default=0.0)
    bound = models.FloatField(null=True)
    conflict = models.JSONField(default=list)

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("team",),
                condition=models.Q(state="running"),
                name="one_search_at_a_time",
            ),
        )

    def __str__(self) -> str:
        return f"{self.team}: {self.get_state_display()}"


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
