"""Erase personal data of seasons that ended long enough ago, or say what would go."""

from __future__ import annotations

from argparse import ArgumentParser
from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from practice.privacy.retention import KEPT_FOR, expire, expiry_of
from roster.models import Team


class Command(BaseCommand):
    help = "Say whose personal data goes, by team; with --erase let it go where its day has come."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--erase", action="store_true", help="erase what is due")
        parser.add_argument(
            "--days", type=int, default=KEPT_FOR.days, help="days after the season's last day"
        )

    def handle(self, *args: Any, erase: bool, days: int, **options: Any) -> None:
        for team in Team.objects.all():
            expiry = expiry_of(team, timedelta(days=days))
            if expiry is None:
                self.stdout.write(f"{team}: the season has no last day, so nothing goes.")
                continue
            due = expiry.is_due(timezone.localdate())
            self.stdout.write(f"{team}: {len(expiry.players)} players, from {expiry.day} on.")
            if due and erase:
                self.stdout.write(f"{team}: {expire(expiry, None)} players erased.")
