"""Which plays a team should carry: what its coach wants, and the search for the best package."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from practice.models.dates import Game
from roster.models import Team
from shared.worker import Work


class PackageWishes(models.Model):
    """What a team's coach wants of a package; what is empty is as usual.

    ``pins`` and ``bans`` are plays of the library, ``occasions`` values of Occasion, ``shares``
    whole parts by defence. ``judged`` is what the check says of the plays on the team's own court
    and at its own pace, by content, and ``judged_by`` what that depends on. ``taken`` are the
    entries that were last taken into the package at once, so that they can be taken back.
    """

    team = models.OneToOneField(Team, on_delete=models.CASCADE, related_name="package_wishes")
    pins = models.JSONField(default=list)
    bans = models.JSONField(default=list)
    occasions = models.JSONField(default=list)
    shares = models.JSONField(default=dict)
    game = models.ForeignKey(Game, null=True, on_delete=models.SET_NULL, related_name="+")
    minutes = models.PositiveSmallIntegerField(null=True)
    judged = models.JSONField(default=dict)
    judged_by = models.CharField(max_length=64, blank=True)
    taken = models.JSONField(default=list)

    class Meta:
        verbose_name_plural = "package wishes"

    def __str__(self) -> str:
        return f"package wishes of {self.team}"


class PackageSearch(Work):
    """A search for the best package; ``found`` is empty until there is an answer."""

    worker = "practice.choosing.search.work"

    team = models.ForeignKey(Team, on_delete=models.CASCADE, related_name="package_searches")
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)
    question_hash = models.CharField(max_length=64)
    share = models.FloatField(default=0.0)
    found = models.JSONField(default=dict)

    class Meta:
        ordering = ("-pk",)
        verbose_name_plural = "package searches"
        constraints = (
            models.UniqueConstraint(
                fields=("team",),
                condition=models.Q(state="running"),
                name="one_package_search_of_a_team",
            ),
        )

    def __str__(self) -> str:
        return f"package search of {self.team}: {self.get_state_display()}"
