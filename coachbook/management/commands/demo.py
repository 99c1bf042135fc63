"""Serve the demo club from a scratch database."""

from __future__ import annotations

import os
from datetime import timedelta
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from coachbook import serving
from coachbook.accounts.changes import new_link, path_of
from coachbook.demo.build import build_demo
from practice.models import Game
from roster.models import Duty, Player
from roster.squad.links import link_for, path_of_player
from shared.models import Club, User


class Command(BaseCommand):
    help = "Build the demo club in a scratch database (the folder .demo) and serve it."
    requires_system_checks = "__all__"

    def add_arguments(self, parser: CommandParser) -> None:
        serving.add_address(parser)
        parser.add_argument("--fresh", action="store_true", help="build the demo club anew")

    def handle(
        self, *args: Any, host: str, port: int, fresh: bool, hall: bool, **options: Any
    ) -> None:
        host = serving.listening(host, port, hall=hall)
        serving.prepare()
        if fresh or self._is_stale():
            self._build()
        self._print_links(serving.address(host, port))
        serving.serve(host, port)

    def _is_stale(self) -> bool:
        """Whether there is no demo club yet, or its last game is over."""
        ahead = Game.objects.filter(date__gte=timezone.localdate())
        return not Club.objects.exists() or not ahead.exists()

    def _build(self) -> None:
        self.stdout.write("Building the demo club ...")
        self.stdout.flush()
        call_command("flush", interactive=False, verbosity=0)
        build_demo(timezone.localdate())

    def _print_links(self, address: str) -> None:
        self.stdout.write(f"\nThe demo club is at {address}\n")
        for label, duty in (("Head coach", Duty.HEAD), ("Assistant", Duty.ASSISTANT)):
            user = User.objects.filter(staff_places__duty=duty).order_by("pk")[0]
            link = new_link(user, timezone.now(), lasts=timedelta(days=1), once=False)
            self.stdout.write(f"{label + ':':12}{address}{path_of(link)}")
        player = Player.objects.present().order_by("team", "pk")[0]
        link_path = path_of_player(link_for(player, timezone.now()))
        self.stdout.write(f"{'Player:':12}{address}{link_path}")
        serving.write_hall(self.stdout, "demo")
        self.stdout.write(f"\nScratch data: {os.environ['COACHBOOK_DATA']}. Stop with Ctrl-C.")
        self.stdout.flush()
