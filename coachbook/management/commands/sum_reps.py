"""Make the sums that readiness is made of anew from the reps."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from practice.models import Game, Practice
from practice.reps.sums import remake, remake_games


class Command(BaseCommand):
    help = (
        "Make the sums that readiness is made of anew, for instance after changing the time zone."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        practices = list(Practice.objects.order_by("pk").values_list("pk", flat=True))
        for practice in practices:
            remake([practice])
        games = list(Game.objects.order_by("pk").values_list("pk", flat=True))
        for game in games:
            remake_games([game])
        self.stdout.write(f"Summed the reps of {len(practices)} practices and {len(games)} games.")
