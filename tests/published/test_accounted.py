"""Every worked example and every trap is tested here or left out with a reason."""

from __future__ import annotations

import csv
import re
from pathlib import Path

HERE = Path(__file__).parent
EXAMPLES = {f"V-{n:02}" for n in range(1, 57)}
TRAPS = {f"T-{n:02}" for n in range(1, 46)}


def carried() -> set[str]:
    """Numbers that ids of parameters, names of tests and their first lines carry."""
    text = "\n".join(p.read_text(encoding="utf-8") for p in HERE.glob("test_[vt]*.py"))
    examples = re.findall(r'id="(V-\d\d)|"""(V-\d\d)', text)
    named = {f"T-{n}" for n in re.findall(r"def test_t(\d\d)_", text)}
    return {a or b for a, b in examples} | named


def left_out() -> dict[str, str]:
    with (HERE / "left_out.csv").open(encoding="utf-8", newline="") as file:
        return {row["id"]: row["reason"] for row in csv.DictReader(file)}


def test_nothing_is_forgotten_and_nothing_is_both() -> None:
    assert carried() | set(left_out()) == EXAMPLES | TRAPS
    assert not carried() & set(left_out())


def test_every_omission_has_its_reason() -> None:
    assert all(len(reason) > 20 for reason in left_out().values())
