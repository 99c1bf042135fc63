"""Scripts are modules that name each other by their hashed names, and their own tests pass."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from django.core.files.storage import FileSystemStorage

from coachbook.static import StaticFiles
from tests.machine import needs

ROOT = Path(__file__).resolve().parents[2]
HASHED = re.compile(r"\.[0-9a-f]{12}\.js$")


@pytest.fixture
def collected(tmp_path: Path) -> Path:
    """Our static files as a club serves them."""
    place = tmp_path / "static"
    shutil.copytree(ROOT / "static", place)
    source = FileSystemStorage(location=ROOT / "static")
    paths = {
        path.relative_to(place).as_posix(): (source, path.relative_to(place).as_posix())
        for path in place.rglob("*")
        if path.is_file()
    }
    storage = StaticFiles(location=place, base_url="/static/")
    faults = [
        result for _, _, result in storage.post_process(paths) if isinstance(result, Exception)
    ]
    assert faults == []
    return place / "js"


def imports(text: str) -> list[str]:
    return re.findall(r"""^(?:import|export)\b[^;]*?from ["']([^"']+)["'];""", text, re.MULTILINE)


def test_no_module_names_another_by_a_name_that_may_be_stale(collected: Path) -> None:
    hashed = [path for path in collected.glob("*.js") if HASHED.search(path.name)]
    named = {name for path in hashed for name in imports(path.read_text("utf-8"))}
    assert len(hashed) > 10
    assert len(named) > 5
    assert all(HASHED.search(name) and (collected / name).exists() for name in named)


def test_a_module_names_what_it_needs_by_the_name_in_the_manifest(collected: Path) -> None:
    names = json.loads((collected.parent / "staticfiles.json").read_text("utf-8"))["paths"]
    assert "./log_count.js" in imports((ROOT / "static/js/log.js").read_text("utf-8"))
    text = (collected.parent / names["js/log.js"]).read_text("utf-8")
    assert f"./{Path(names['js/log_count.js']).name}" in imports(text)


def test_every_page_loads_its_scripts_as_modules() -> None:
    scripts = [
        tag
        for path in (ROOT / "templates").rglob("*.html")
        for tag in re.findall(r"<script\b[^>]*static 'js/[^>]*>", path.read_text("utf-8"))
    ]
    assert len(scripts) > 6
    assert [tag for tag in scripts if 'type="module"' not in tag] == []


@needs("node")
def test_the_scripts_own_tests_pass() -> None:
    files = sorted(str(path) for path in (ROOT / "tests/js").glob("*.test.js"))
    run = subprocess.run(
        [str(shutil.which("node")), "--test", *files], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout
