"""Where a play, or one possession of it, can be seen on film: a link and a time, no video."""

from __future__ import annotations

from typing import Final
from urllib.parse import urlsplit

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from practice.models.games import CalledPlay
from roster.models import PackagePlay

LONGEST_LINK: Final = 300
LONGEST_FILM: Final = 6 * 3600  # seconds


class FilmLink(models.Model):
    """A film elsewhere at so many seconds, for a carried play; ``called`` where it is of a game."""

    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="films")
    called = models.ForeignKey(
        CalledPlay, null=True, on_delete=models.CASCADE, related_name="films"
    )
    address = models.CharField(_("link"), max_length=LONGEST_LINK)
    seconds = models.PositiveSmallIntegerField(_("time"), default=0)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("entry", "address", "seconds"),
                condition=models.Q(called=None),
                name="one_film_of_a_play",
            ),
            models.UniqueConstraint(
                fields=("called", "address", "seconds"), name="one_film_of_a_possession"
            ),
        )

    def __str__(self) -> str:
        return f"{self.host} {self.time}"

    @property
    def host(self) -> str:
        """The site that the link leads to."""
        return urlsplit(self.address).hostname or ""

    @property
    def time(self) -> str:
        """Hours where there are any, minutes and seconds."""
        minutes, seconds = divmod(self.seconds, 60)
        hours, rest = divmod(minutes, 60)
        return f"{hours}:{rest:02d}:{seconds:02d}" if hours else f"{rest}:{seconds:02d}"
