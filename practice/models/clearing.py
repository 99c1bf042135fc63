"""The database's file being cleared of what its rows no longer say."""

from __future__ import annotations

from shared.worker import Work


class Clearing(Work):
    """One clearing of the whole file, begun by every erasure: an earlier one may have missed it."""

    worker = "practice.privacy.clearing.work"

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"clearing of the file: {self.get_state_display()}"
