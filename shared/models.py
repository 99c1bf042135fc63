"""The club, the people who sign in, and the record of who changed what."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any, ClassVar, NoReturn

from django.contrib.auth.models import AbstractUser, UserManager
from django.db import models
from django.utils.translation import gettext_lazy as _

from shared.worker import Work


class AskedOf(models.TextChoices):
    """Of whom a club asks a second step to sign in: each choice has those of the ones before."""

    NOBODY = "", _("Nobody has to: whoever wants to")
    RUNNERS = "runners", _("Who runs the club")
    LEADERS = "leaders", _("Also head coaches and who keeps the library")
    STAFF = "staff", _("All the staff")


class Club(models.Model):
    """The one club of this installation. Its existence means that the set-up is done."""

    name = models.CharField(_("name"), max_length=80)
    asks_second_step = models.CharField(
        max_length=8, choices=AskedOf, default=AskedOf.NOBODY, blank=True
    )

    def __str__(self) -> str:
        return self.name


class User(AbstractUser):
    """Somebody of the staff. Players have no account: they open a personal link."""

    # One name, as people call each other.
    first_name = None  # type: ignore[assignment]
    last_name = None  # type: ignore[assignment]
    name = models.CharField(_("name"), max_length=60)
    runs_club = models.BooleanField(_("runs the club: teams and staff"), default=False)
    keeps_library = models.BooleanField(_("keeps the play library"), default=False)
    is_guest = models.BooleanField(_("guest of the library"), default=False)  # shared.guests
    second_step_by = models.DateTimeField(null=True)  # the club asks for it: the end of the grace

    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]
    objects: ClassVar[UserManager[User]] = UserManager()  # type: ignore[assignment]

    def __str__(self) -> str:
        return self.name or self.username

    @property
    def may_edit_library(self) -> bool:
        return self.runs_club or self.keeps_library


class SignInLink(models.Model):
    """A link that signs a person of the staff in: an invitation, or a way back in.

    Only ``nonce`` is kept; the address also carries a signature made with the secret key, so
    that a copy of the database opens nothing.
    """

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="sign_in_links")
    nonce = models.CharField(max_length=32, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    opens_until = models.DateTimeField()
    once = models.BooleanField(default=True)
    used_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.user} until {self.opens_until:%Y-%m-%d %H:%M}"

    def is_open(self, now: datetime) -> bool:
        return now < self.opens_until and not (self.once and self.used_at)


class OneTimeCodes(models.Model):
    """That somebody says a one-time code of their phone after the password.

    Only ``nonce`` is kept; the secret that the phone has is made of it and the secret key, so
    that a copy of the database says no code. ``last_step`` is the last half minute, counted from
    1970, whose code has been used; ``missed`` counts wrong codes since the last right one.
    """

    user = models.OneToOneField(User, on_delete=models.CASCADE, related_name="one_time_codes")
    nonce = models.CharField(max_length=32)
    last_step = models.BigIntegerField()
    missed = models.PositiveIntegerField(default=0)
    on_since = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"{self.user} since {self.on_since:%Y-%m-%d}"


class RecoveryCode(models.Model):
    """One code on paper that stands for the phone, once; kept as a hash with the secret key."""

    codes = models.ForeignKey(OneTimeCodes, on_delete=models.CASCADE, related_name="recovery")
    digest = models.CharField(max_length=64)
    used_at = models.DateTimeField(null=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("codes", "digest"), name="each_recovery_code_once"),
        )

    def __str__(self) -> str:
        return f"recovery code of {self.codes.user}"


class Passkey(models.Model):
    """A key on somebody's device that signs them in, after a look, a finger or a number there.

    ``credential``, ``public_key`` and ``handle``, by which the device knows the account, are in
    base64url. ``sign_count`` is what the device said last of how often the key was used, 0 where
    it does not count; ``last_challenge`` is the digest of the question that was answered last.
    """

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="passkeys")
    name = models.CharField(_("name"), max_length=60)
    credential = models.CharField(max_length=1364, unique=True)  # 1,023 bytes: WebAuthn, 4
    public_key = models.TextField()
    handle = models.CharField(max_length=43)
    sign_count = models.BigIntegerField(default=0)
    last_challenge = models.CharField(max_length=64, default="")
    made_at = models.DateTimeField(auto_now_add=True)
    used_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return self.name


class Mailing(Work):
    """A mail that was asked for, sent in the background so that no page's time tells of whom.

    Kept for a day, so that who asks often can be told from who asks once. ``user`` is who wants
    to be reached at the address in ``said``; None where a way back in is asked for, and ``said``
    is then the sign-in name as it was typed.
    """

    worker = "coachbook.accounts.mail.work"
    user = models.ForeignKey(User, null=True, on_delete=models.CASCADE, related_name="mailings")
    said = models.CharField(max_length=254)
    asked_from = models.GenericIPAddressField(null=True)
    asked_at = models.DateTimeField(auto_now_add=True, db_index=True)
    language = models.CharField(max_length=8)

    def __str__(self) -> str:
        return f"mail asked for {self.asked_at:%Y-%m-%d %H:%M}"


class OpenSession(models.Model):
    """A device on which somebody is signed in, as its owner sees it.

    ``key`` is the session's own, as the framework's table has it; that table alone says whether
    the session still lives.
    """

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="open_sessions")
    key = models.CharField(max_length=40, unique=True)
    agent = models.CharField(max_length=300)  # what the browser says of itself
    began_at = models.DateTimeField(auto_now_add=True)
    seen_at = models.DateTimeField()

    class Meta:
        ordering = ("-seen_at", "-pk")

    def __str__(self) -> str:
        return f"{self.user} since {self.began_at:%Y-%m-%d %H:%M}"


class AppendOnlyError(TypeError):
    """Somebody has tried to change or to delete what the record says."""


class Lines(models.QuerySet["Change"]):
    """Lines to read and to add. What else happens to one, happens in shared.record."""

    def update(self, **_values: Any) -> NoReturn:
        raise AppendOnlyError

    def delete(self) -> NoReturn:
        raise AppendOnlyError

    def _raw_delete(self, _using: str | None) -> NoReturn:
        raise AppendOnlyError

    def bulk_create(self, objs: Iterable[Change], *args: Any, **options: Any) -> list[Change]:
        if options.get("update_conflicts"):
            raise AppendOnlyError
        return super().bulk_create(objs, *args, **options)


class Change(models.Model):
    """One line of the record: who did what to which thing, and what it was before.

    Append-only: here, and by a trigger of the database for who, what and when.
    """

    at = models.DateTimeField(auto_now_add=True, db_index=True)
    user = models.ForeignKey(User, null=True, on_delete=models.PROTECT)  # None: a command
    verb = models.CharField(max_length=40)
    subject = models.CharField(max_length=120)
    team = models.PositiveBigIntegerField(null=True)
    before = models.JSONField(null=True)
    after = models.JSONField(null=True)

    objects = models.Manager.from_queryset(Lines)()

    class Meta:
        ordering = ("-at", "-pk")
        indexes = (models.Index(fields=("team", "-id"), name="changes_of_a_team"),)

    def __str__(self) -> str:
        return f"{self.verb} {self.subject}"

    def save(self, *args: Any, **options: Any) -> None:
        """Add the line. Raises AppendOnlyError for one that is there already."""
        if not self._state.adding:
            raise AppendOnlyError
        super().save(*args, **options)

    def delete(self, *_args: Any, **_options: Any) -> NoReturn:
        raise AppendOnlyError


class SentForm(models.Model):
    """A form that has been sent, and where that led: see shared.once."""

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="sent_forms")
    key = models.UUIDField()
    answer = models.CharField(max_length=1000)  # an address, with what it is asked for
    at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("user", "key"), name="each_form_once"),)

    def __str__(self) -> str:
        return f"form {self.key} of {self.user}"
