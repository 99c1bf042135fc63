"""What a run leaves out for want of a tool is told with what brings it."""

from __future__ import annotations

from tests import machine


def test_each_missing_tool_is_counted_whatever_pytest_writes_around_the_reason() -> None:
    reasons = [
        "('tests/browser/test_pages.py', 40, 'Skipped: this machine lacks chromium')",
        "('tests/a.py', 3, 'Skipped: this machine lacks chromium, poppler')",
        "this machine lacks node",
        "('tests/a.py', 9, 'Skipped: only on PostgreSQL')",
    ]
    assert machine.skipped_for_want(reasons) == [
        "2 tests were skipped for want of chromium: apt-get install chromium",
        "1 tests were skipped for want of node: apt-get install nodejs",
        "1 tests were skipped for want of poppler: apt-get install poppler-utils",
    ]
