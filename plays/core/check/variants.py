"""What is found only when another of a play's calls is run, so that the verdict covers them all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from plays.core.check.finding import PlayFinding

Same = tuple[str, str | None, str | None, str | None]


def found_by_call(
    first: Iterable[PlayFinding], others: Mapping[str, Iterable[PlayFinding]]
) -> Iterator[PlayFinding]:
    """Of what is found by other calls, that which is not found by the first.

    A remedy is for the play as it is written, so these carry none to apply.
    """
    known = {_same(finding) for finding in first}
    for call, found in others.items():
        for finding in found:
            if _same(finding) not in known:
                yield replace(finding, variant=call, fix=None)


def _same(finding: PlayFinding) -> Same:
    return finding.code, finding.look, finding.action, finding.counter
