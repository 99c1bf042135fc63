"""A PostgreSQL server of a test's own: a cluster in a scratch folder, on a loopback port."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from coachbook.benchmarks.courtside import free_port
from tests.machine import program

USER = "postgres"  # root may not run a server; Debian's package brings this account


@dataclass(frozen=True)
class Cluster:
    """A server that runs, and can be stopped and started."""

    home: Path
    port: int
    listens: str = "127.0.0.1"
    options: str = ""  # of the server's command line

    @property
    def address(self) -> str:
        """What COACHBOOK_DATABASE takes."""
        return f"postgresql://coachbook@127.0.0.1:{self.port}/postgres"

    def start(self) -> None:
        said = f"-p {self.port} -h {self.listens} -k {self.home} {self.options}"
        self._control("start", "-l", str(self.home / "log"), "-o", said)

    def stop(self, how: str) -> None:
        """``fast`` ends the sessions; ``immediate`` is as if it was killed."""
        self._control("stop", "-m", how)

    def _control(self, *words: str) -> None:
        _run("pg_ctl", "-D", str(self.home / "data"), "-w", "-s", *words)


@contextmanager
def cluster(
    prepare: Callable[[Path], str] | None = None, *, listens: str = "127.0.0.1"
) -> Iterator[Cluster]:
    """A new cluster, gone afterwards. What it acknowledges is on the disk, as in a real one.

    ``prepare`` furnishes its folder before it starts, and says further options of the server.
    """
    home = Path(
        tempfile.mkdtemp(prefix="coachbook-postgresql-")
    )  # its socket's path has to be short
    if os.getuid() == 0:
        shutil.chown(home, USER)
    made = Cluster(home, free_port(), listens)
    try:
        data = str(home / "data")
        _run("initdb", "-D", data, "-U", "coachbook", "-A", "trust", "-E", "UTF8", "--no-sync")
        if prepare is not None:
            made = replace(made, options=prepare(home))
        made.start()
        yield made
        made.stop("immediate")
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _run(name: str, *words: str) -> None:
    binaries = Path(str(program("postgresql"))).resolve().parent
    account = {"user": USER, "group": USER, "extra_groups": []} if os.getuid() == 0 else {}
    subprocess.run(
        [str(binaries / name), *words],
        check=True,
        cwd="/",
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        **account,  # type: ignore[call-overload]
    )
