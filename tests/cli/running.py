"""Run the command line, in this process or in one of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from tempwitness.cli.main import main

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

PROGRAM = (sys.executable, "-m", "tempwitness")


@dataclass(frozen=True, slots=True)
class Ran:
    """What a run left behind."""

    status: int
    out: str
    err: str


def in_process(capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Return a function that runs the command line here and catches its exit."""

    def run(*arguments: str | Path) -> Ran:
        with pytest.raises(SystemExit) as left:
            main([str(a) for a in arguments])
        said = capsys.readouterr()
        return Ran(int(left.value.code or 0), said.out, said.err)

    return run


def alone(*arguments: str | Path, cwd: Path | None = None, **environment: str) -> Ran:
    """Run the command line in a process of its own."""
    done = subprocess.run(  # noqa: S603 - our own interpreter
        [*PROGRAM, *map(str, arguments)],
        cwd=cwd,
        env={**os.environ, **environment},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)
