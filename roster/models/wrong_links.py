"""How often somebody tried links that open nothing."""

from __future__ import annotations

from django.db import models


class WrongLinks(models.Model):
    """The wrong links that came from one network address since ``since``.

    In the database, not in a cache: however many processes serve the site, they count together.
    ``address`` is a keyed hash; who it was cannot be read back.
    """

    address = models.CharField(max_length=64, unique=True)
    since = models.DateTimeField()
    tries = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"{self.tries} wrong links"
