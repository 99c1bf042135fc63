"""PostgreSQL restarted twice while four phones send: gently, and as if it was killed."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from coachbook.benchmarks.courtside import hall
from tests.coachbook.faulty import Phones, is_well, told_clearly
from tests.machine import needs
from tests.postgresql import Cluster, cluster

COUNT = (
    "from practice.models import Rep; print(' '.join(str(k) for k in "
    "Rep.objects.values_list('pk', flat=True)))"
)


@pytest.mark.alone
@needs("postgresql")
def test_a_database_server_restarted_under_load(tmp_path: Path) -> None:
    with cluster() as server:
        place = hall(
            tmp_path / "data",
            log=tmp_path / "said.txt",
            settings={"COACHBOOK_DATABASE": server.address},
        )
        place.start()
        try:
            phones = Phones(place)
            with phones.sending():
                time.sleep(2)
                for how in ("fast", "immediate"):
                    restart(server, how)
                    before = len(phones.acknowledged)
                    time.sleep(3)
                    assert len(phones.acknowledged) > before + 10  # it came back by itself
            assert is_well(place)
            kept = set(place.run(COUNT).split())
        finally:
            place.kill()
    assert set(phones.acknowledged) <= kept
    assert phones.unanswered == 0
    told_clearly(place, phones.failed, "The server cannot reach its data")


def restart(server: Cluster, how: str) -> None:
    """Away for a second, as after an update of the system."""
    server.stop(how)
    time.sleep(1)
    server.start()
