"""An installed wheel works from anywhere and says the same as the repository."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tempwitness.version import VERSION

ROOT = Path(__file__).resolve().parents[2]
RECORD = ROOT / "sample_records" / "01-lamb-all-day" / "record.toml"


def ask(path: Path, cwd: Path, *arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """Run Python with a folder put before everything else that it can import from."""
    return subprocess.run(  # noqa: S603 - our own interpreter
        [sys.executable, *map(str, arguments)],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(path)},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_installed_package_uses_its_own_rules(installed: Path, tmp_path: Path) -> None:
    program = "from tempwitness.rulebook.files import rules_folder; print(rules_folder())"
    done = ask(installed, tmp_path, "-c", program)
    assert Path(done.stdout.strip()) == installed / "tempwitness" / "_rules"


def test_the_repository_uses_the_rules_at_its_top_level(tmp_path: Path) -> None:
    program = "from tempwitness.rulebook.files import rules_folder; print(rules_folder())"
    done = ask(ROOT / "src", tmp_path, "-c", program)
    assert Path(done.stdout.strip()) == ROOT / "rules"


def test_a_record_is_checked_from_another_folder(installed: Path, tmp_path: Path) -> None:
    done = ask(installed, tmp_path, "-m", "tempwitness", "check", "--json", RECORD)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["verdict"] == "met"


def test_the_installed_package_says_the_same_as_the_repository(
    installed: Path, tmp_path: Path
) -> None:
    arguments = ("-m", "tempwitness", "check", "--json", RECORD)
    there, here = (ask(p, tmp_path, *arguments).stdout for p in (installed, ROOT / "src"))
    assert there
    assert there == here


@pytest.mark.parametrize(
    ("name", "start"), [("lamb.pdf", b"%PDF-"), ("lamb.html", b"<!DOCTYPE html>")]
)
def test_the_installed_package_writes_a_report(
    installed: Path, tmp_path: Path, name: str, start: bytes
) -> None:
    done = ask(installed, tmp_path, "-m", "tempwitness", "report", RECORD, "-o", name)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / name).read_bytes().startswith(start)


@pytest.mark.parametrize("command", [["rules", "list"], ["rules", "show", "us/food-code/2022"]])
def test_the_installed_rules_can_be_shown(
    installed: Path, tmp_path: Path, command: list[str]
) -> None:
    done = ask(installed, tmp_path, "-m", "tempwitness", *command)
    assert done.returncode == 0, done.stderr
    assert "FDA Food Code" in done.stdout


def test_the_version_is_the_same_everywhere(wheel: Path) -> None:
    changes = (ROOT / "docs" / "changelog.md").read_text(encoding="utf-8")
    latest = next(line for line in changes.splitlines() if line.startswith("## "))
    assert latest.split()[1] == VERSION
    assert wheel.name.split("-")[1] == VERSION
