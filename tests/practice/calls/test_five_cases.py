"""The file that the phone's tests read says what the server's code answers today."""

from __future__ import annotations

from tests.practice.calls.five_cases import FILE, cases, text


def test_the_cases_of_the_file_are_the_servers_answers() -> None:
    assert FILE.read_text("utf-8") == text(), "python -m tests.practice.calls.five_cases"


def test_the_cases_hold_what_is_easy_and_what_is_not() -> None:
    steps = [step for each in cases()["squads"] for step in each["steps"]]
    fillings = [filling for step in steps for filling in step["fillings"]]
    can = sum(None not in each["five"] for each in fillings)
    assert len(fillings) / 10 < can < len(fillings) * 0.9
    assert any("share" in each["why"] for each in fillings)
    assert any("throw in" in each["why"] for each in fillings)
    assert any(before for step in steps for _, _, before, _ in step["moves"])
    assert any("role " in call for step in steps for calls in step["calls"] for call in calls)
