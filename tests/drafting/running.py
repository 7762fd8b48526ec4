"""Run ``tempwitness new`` as a script does, and as a person at a terminal does."""

from __future__ import annotations

import contextlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from tempwitness.cli.main import cli
from tempwitness.errors import TempwitnessError

LAMB = (
    *("--food", "lamb shoulder", "--lot", "lamb", "--form", "intact", "--weight", "9 lb"),
    *("--code", "us/food-code/2022", "--zone", "America/Chicago", "--date", "2026-07-04"),
)


@dataclass(frozen=True, slots=True)
class Told:
    """What a run left behind; ``status`` is that of the error boundary: 2 for a refusal."""

    status: int
    out: str
    err: str


def new(folder: Path, *arguments: str, typed: str | None = None) -> Told:
    """Run the command in a folder; `typed` is what a person types, one answer a line."""
    with contextlib.chdir(folder):
        result = CliRunner().invoke(cli, ["new", *arguments], input=typed)
    if isinstance(result.exception, TempwitnessError):
        return Told(2, result.stdout, f"{result.stderr}{result.exception}")
    return Told(result.exit_code, result.stdout, result.stderr)


def verdicts(record: Path) -> list[tuple[str, ...]]:
    """Every finding of a record by what it says, in order."""
    return [
        (f["requirement"], f["stage"], f["piece"], f["verdict"], f["measured"])
        for f in evaluated(record)["findings"]
    ]


def evaluated(record: Path) -> dict[str, Any]:
    """The evaluation of a record as a document."""
    result = CliRunner().invoke(cli, ["check", "--json", "--exit-zero", str(record)])
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found
