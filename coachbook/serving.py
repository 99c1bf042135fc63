"""Starting the site from one command: prepare what is stale, then serve."""

from __future__ import annotations

import hashlib
import io
import signal
import socket
from collections.abc import Iterator
from pathlib import Path

import segno
from django.conf import settings
from django.core.management import CommandError, CommandParser, call_command
from django.core.management.base import OutputWrapper
from django.db import connection, connections
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from shared.phones import hall_host, is_loopback

THREADS = 8


def prepare() -> None:
    """Bring the database and the collected static files up to date; quick when they are."""
    executor = MigrationExecutor(connection)
    check_not_newer(executor.loader)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        call_command("migrate", interactive=False, verbosity=0)
    stamp = settings.STATIC_ROOT / "collected.stamp"
    now = _static_state()
    if not stamp.exists() or stamp.read_text("utf-8") != now:
        call_command("collectstatic", interactive=False, verbosity=0, clear=True)
        stamp.write_text(now, "utf-8")


def check_not_newer(loader: MigrationLoader) -> None:
    """Raise CommandError where a later version of Coachbook has changed the database already."""
    known = set(loader.disk_migrations)
    for migration in loader.disk_migrations.values():
        known |= {(app, name) for app, name in migration.replaces}
    applied = {key for key in loader.applied_migrations if key[0] in loader.migrated_apps}
    if unknown := sorted(applied - known):
        names = ", ".join(f"{app}.{name}" for app, name in unknown)
        raise CommandError(
            f"The database was written by a newer version: it knows {names}, which this version "
            "does not. Start the newer version again, or put back the backup that was made "
            "before the update. Nothing was changed."
        )


def close_database() -> None:
    """Close the last connection, so that the database is one file again and no log beside it."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connections.close_all()


def check_reachable(host: str, port: int) -> None:
    """Raise CommandError where nobody could open the site, saying how to mend it."""
    if not 1 <= port <= 65_535:
        raise CommandError(f"--port {port}: write a number from 1 to 65535.")
    if _only_any(host) and _only_loopback():
        raise CommandError(
            f"--host {host} listens to the whole network, but the site answers only to "
            f"{', '.join(settings.ALLOWED_HOSTS)}. Name the address that people will open, "
            "for instance COACHBOOK_HOSTS=192.168.1.20, or start with --hall instead."
        )
    if host not in settings.ALLOWED_HOSTS and not _only_any(host):
        settings.ALLOWED_HOSTS.append(host)
    _check_free(host, port)


def address(host: str, port: int) -> str:
    """The address to print: behind a proxy the one that people open, where it is named."""
    if settings.HTTPS and settings.CSRF_TRUSTED_ORIGINS:
        return str(settings.CSRF_TRUSTED_ORIGINS[0]).rstrip("/")
    if _only_any(host):
        host = "127.0.0.1"
    shown = f"[{host}]" if ":" in host else host
    return f"http://{shown}:{port}"


def add_address(parser: CommandParser) -> None:
    """The options of a command that serves: --host, --port and --hall."""
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on")
    parser.add_argument("--port", default=8000, type=int, help="port to listen on")
    parser.add_argument(
        "--hall",
        action="store_true",
        help="let phones in the same network in: listen at every address of this machine",
    )


def listening(host: str, port: int, *, hall: bool) -> str:
    """Where to listen, checked; with ``hall`` at every address, so that phones get in.

    Remembers the address under which they find the site. Raises CommandError, with the remedy.
    """
    found = hall_host(settings.ALLOWED_HOSTS)
    if hall and found is None:
        raise CommandError(
            "--hall: this machine has no address in a local network. Connect it to the hall's "
            "network first, or name its address: --host 192.168.1.20."
        )
    if hall and found:
        settings.ALLOWED_HOSTS.append(found)
        host = "0.0.0.0"  # noqa: S104 - asked for by --hall
    check_reachable(host, port)
    reached = found if _only_any(host) else host
    if reached and not is_loopback(reached):
        settings.HALL_ADDRESS = address(reached, port)
    return host


def write_hall(out: OutputWrapper, command: str) -> None:
    """Say how phones find the site: the address and its QR code, or how to let them in."""
    if settings.HALL_ADDRESS:
        out.write(f"\nPhones in the hall open {settings.HALL_ADDRESS}")
        out.write(_code_for_a_terminal(settings.HALL_ADDRESS, getattr(out, "encoding", None)))
    elif not settings.HTTPS:
        out.write(
            f"Phones cannot open this address. To let those in the hall in: "
            f"python3 manage.py {command} --hall"
        )


def _code_for_a_terminal(text: str, encoding: str | None) -> str:
    """A QR code of half blocks; nothing for a terminal whose letters have none."""
    drawn = io.StringIO()
    segno.make(text, error="m").terminal(out=drawn, compact=True)
    try:
        drawn.getvalue().encode(encoding or "utf-8")
    except UnicodeEncodeError:
        return ""
    return drawn.getvalue()


def serve(host: str, port: int) -> None:
    """Serve until interrupted or told to end (SIGTERM); then close the database."""
    from coachbook.gate import open_gate  # noqa: PLC0415 - only the serving commands pay for it
    from coachbook.wsgi import application  # noqa: PLC0415
    from plays.checking import begin  # noqa: PLC0415

    signal.signal(signal.SIGTERM, _end)
    begin()  # an update may have made the check of the library stale; a worker looks
    try:
        open_gate(application, host, port, threads=THREADS, proxy=settings.PROXY).run()
    finally:
        close_database()


def _end(*_: object) -> None:
    raise SystemExit(0)


def _only_any(host: str) -> bool:
    return host in {"0.0.0.0", "::"}  # noqa: S104 - compared, not bound


def _only_loopback() -> bool:
    return all(is_loopback(name) for name in settings.ALLOWED_HOSTS)


def _check_free(host: str, port: int) -> None:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            raise CommandError(
                f"Cannot listen on {host} port {port} ({error.strerror}). "
                f"Is it running already? Otherwise choose another: --port {port + 1}."
            ) from error


def _static_state() -> str:
    """A digest of names, sizes and times of everything static."""
    digest = hashlib.sha256()
    for path in _static_files():
        facts = path.stat()
        digest.update(f"{path}|{facts.st_size}|{facts.st_mtime_ns}\n".encode())
    return digest.hexdigest()


def _static_files() -> Iterator[Path]:
    for folder in settings.STATICFILES_DIRS:
        yield from sorted(path for path in Path(folder).rglob("*") if path.is_file())
