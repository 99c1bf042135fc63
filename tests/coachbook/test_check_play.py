"""The command that checks play files: what it prints, and how it ends."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from coachbook.demo.files import demo_play
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.document.file import write_play
from plays.core.play import AgeGroup

STATUS = {None: 0, "note": 0, "warning": 1, "serious": 2}


def run(*arguments: str) -> tuple[int, str]:
    out = StringIO()
    try:
        call_command("check_play", *arguments, stdout=out)
    except SystemExit as ended:
        return int(ended.code or 0), out.getvalue()
    return 0, out.getvalue()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for key in ("breakwater", "lamp-row"):
        (tmp_path / f"{key}.json").write_bytes(write_play(demo_play(key)))
    return tmp_path


@pytest.mark.parametrize("key", ["breakwater", "lamp-row"])
@pytest.mark.parametrize("age", ["U10", "U14", "adult"])
def test_findings_and_status_are_those_of_the_check(key: str, age: str, folder: Path) -> None:
    play = demo_play(key)
    report = checked(play, Setting(AgeGroup(age), defence=usual_defence(play)))
    status, said = run(str(folder / f"{key}.json"), "--age", age)
    assert status == STATUS[report.worst and report.worst.value]
    for finding in report.findings:
        assert finding.sentence in said
        assert finding.remedy in said


def test_a_folder_ends_with_the_worst_of_its_files(folder: Path) -> None:
    single = [run(str(path), "--age", "U10")[0] for path in folder.glob("*.json")]
    status, said = run(str(folder), "--age", "U10")
    assert status == max(single) == 2
    assert "lamp-row.json" in said


def test_json_is_for_machines(folder: Path) -> None:
    status, said = run(str(folder), "--json", "--age", "U10", "--defence", "switch")
    found = json.loads(said)
    assert [each["status"] for each in found]
    assert max(each["status"] for each in found) == status
    assert {each["report"]["defence"] for each in found} == {"switch"}
    assert {each["report"]["age"] for each in found} == {"U10"}


def test_rules_put_the_play_on_that_court(folder: Path) -> None:
    _, said = run(str(folder / "breakwater.json"), "--json", "--rules", "NFHS")
    assert json.loads(said)[0]["report"]["rule_set"] == "NFHS"


def test_a_file_that_is_no_play_is_told_apart(folder: Path) -> None:
    (folder / "zero.json").write_text("{}")
    status, said = run(str(folder))
    assert status == 3
    assert "zero.json" in said


def test_it_speaks_another_language(folder: Path) -> None:
    english = run(str(folder / "breakwater.json"), "--age", "U10")[1]
    spanish = run(str(folder / "breakwater.json"), "--age", "U10", "--language", "es")[1]
    assert english != spanish


@pytest.mark.parametrize("wrong", [["nowhere"], ["--effort", "3"], ["--language", "tlh"], []])
def test_a_call_that_makes_no_sense_is_no_finding(wrong: list[str], tmp_path: Path) -> None:
    paths = [] if wrong == ["nowhere"] else [str(tmp_path)]
    with pytest.raises(CommandError) as error:
        call_command("check_play", *paths, *wrong)
    assert error.value.returncode == 64
