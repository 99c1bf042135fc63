"""What a coach wants of a cast, how it was changed, and what is proposed."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES
from roster.core.cast import DEPTHS
from roster.models.package import PackagePlay
from roster.models.players import (
    Player,
)
from roster.models.team import Team
from shared.worker import Work


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
