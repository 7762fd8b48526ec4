"""A wheel and a source archive, built once, and the wheel installed into a folder."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def run(*arguments: str | Path, cwd: Path | None = None) -> str:
    """Run this interpreter with some arguments and return what it printed."""
    done = subprocess.run(  # noqa: S603 - our own interpreter
        [sys.executable, *map(str, arguments)],
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-1000:] + done.stderr[-3000:]
    return done.stdout


def _built(kind: str, folder: Path) -> Path:
    run("-m", "build", f"--{kind}", "--no-isolation", "--outdir", folder, ROOT)
    (file,) = folder.iterdir()
    return file


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel."""
    return _built("wheel", tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="session")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the source archive."""
    return _built("sdist", tmp_path_factory.mktemp("archive"))


@pytest.fixture(scope="session")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the wheel into a folder of its own; its requirements are those of this run."""
    target = tmp_path_factory.mktemp("installed")
    run(
        *("-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-index"),
        *("--no-deps", "--target", target, wheel),
    )
    return target
