"""What a start of the command line loads: help and rules must not wait for the heavy libraries."""

from __future__ import annotations

import subprocess
import sys

import pytest

_HEAVY = ("numpy", "openpyxl", "pandas", "pydantic", "pyhanko", "reportlab")


def loaded(*arguments: str) -> set[str]:
    """Return the top-level packages that a command loads, as Python itself reports them."""
    done = subprocess.run(  # noqa: S603 - our own interpreter and program
        [sys.executable, "-X", "importtime", "-m", "tempwitness", *arguments],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in lines}


@pytest.mark.parametrize(
    "arguments",
    [
        ("--help",),
        ("--version",),
        ("check", "--help"),
        ("report", "--help"),
        ("read", "--help"),
        ("status", "--help"),
        ("new", "--help"),
        ("new", "workbook", "--help"),
        ("seal", "--help"),
        ("verify", "--help"),
        ("plan", "rest", "--help"),
        ("new", "event", "--help"),
        ("packet", "--help"),
        ("sheets", "--help"),
        ("labels", "--help"),
        ("rules", "list"),
        ("rules", "show", "us/food-code/2022"),
        ("rules", "explain", "us/food-code/2022#hot-hold"),
        ("rules", "compare", "us/food-code/2022", "trade/smoking"),
    ],
    ids=" ".join,
)
def test_a_light_command_loads_no_heavy_library(arguments: tuple[str, ...]) -> None:
    packages = loaded(*arguments)
    assert "click" in packages
    assert sorted(packages.intersection(_HEAVY)) == []
