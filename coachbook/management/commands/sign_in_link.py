"""Print a link that signs somebody in: the way back for who lost the password."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction
from django.utils import timezone

from coachbook.accounts.changes import new_link, path_of
from coachbook.accounts.codes import switch_off
from coachbook.accounts.names import as_sign_in_name
from coachbook.accounts.passkeys import remove_all
from shared.models import User
from shared.record import note_change


class Command(BaseCommand):
    help = "Print a sign-in link, good once within seven days, for a person of the staff."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="the name with which the person signs in")
        parser.add_argument(
            "--without-code",
            action="store_true",
            help="switch the person's one-time codes off and end the passkeys: the phone is lost",
        )

    def handle(self, *args: Any, username: str, without_code: bool, **options: Any) -> None:
        user = User.objects.filter(username=as_sign_in_name(username), is_active=True).first()
        if user is None:
            names = User.objects.order_by("username").values_list("username", flat=True)
            known = ", ".join(names) or "nobody yet"
            raise CommandError(f"Nobody signs in as {username!r}. There are: {known}.")
        with transaction.atomic():
            if without_code and switch_off(None, user):
                self.stderr.write(f"{user} is asked for no code any more.")
            if without_code and remove_all(None, user):
                self.stderr.write(f"No passkey of {user} opens anything any more.")
            made = new_link(user, timezone.now())
            note_change(None, "made sign-in link", user)
        self.stdout.write(path_of(made))
