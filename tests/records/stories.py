"""The sample records as the tests see them: where they lie and what is expected of them."""

from __future__ import annotations

import json
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

__all__ = ["LATER", "SAMPLES", "Expected", "Story", "printed", "stories"]

SAMPLES = Path(__file__).parents[2] / "sample_records"

#: Moment of asking where a story names none: after all of them.
LATER = "2026-12-31 12:00"

_VERDICTS = Path(__file__).parent / "expected_verdicts.toml"


@dataclass(frozen=True, slots=True)
class Expected:
    """One verdict that was derived by hand, with its arithmetic.

    Parameters
    ----------
    requirement, piece, stage
        Which finding; ``""`` for any piece, 0 for any stage number. All findings that fit must
        have the verdict.
    says : tuple of str
        Words that the finding must hold in its reason, measured value, action or settling
        reading, because a cook has to be told them.
    """

    requirement: str
    verdict: str
    because: str
    piece: str = ""
    stage: int = 0
    says: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Story:
    """A folder of sample_records and what was derived for it by hand.

    Parameters
    ----------
    at : str, optional
        Moment of asking, where the verdict depends on it.
    options : tuple of str
        What the command line says, for a bare table.
    """

    name: str
    file: str
    exit_code: int
    verdict: str
    because: str
    expected: tuple[Expected, ...]
    at: str | None = None
    options: tuple[str, ...] = ()

    @property
    def folder(self) -> Path:
        """Where it lies."""
        return SAMPLES / self.name

    @property
    def path(self) -> Path:
        """The record, or the bare table."""
        return self.folder / self.file

    @property
    def arguments(self) -> list[str]:
        """Arguments of a command after its name and the file."""
        return [*self.options, "--at", self.at or LATER]


@cache
def stories() -> tuple[Story, ...]:
    """Return all stories, in order."""
    table = tomllib.loads(_VERDICTS.read_text(encoding="utf-8"))
    return tuple(_story(name, entry) for name, entry in sorted(table.items()))


def _story(name: str, entry: dict[str, Any]) -> Story:
    findings = tuple(
        Expected(**{**one, "says": tuple(one.get("says", ()))}) for one in entry["finding"]
    )
    return Story(
        name=name,
        file=entry.get("file", "record.toml"),
        exit_code=entry["exit"],
        verdict=entry["verdict"],
        because=entry["because"],
        expected=findings,
        at=entry.get("at"),
        options=tuple(entry.get("options", ())),
    )


def printed(line: str) -> str:
    """Return one line of ``check --json`` as expected.json holds it: an entry a line."""
    tree = json.loads(line)
    parts = [f"{json.dumps(key)}: {_entries(value)}" for key, value in tree.items()]
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _entries(value: object) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(" " + _line(entry) for entry in value) + "\n]"
    return _line(value)


def _line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)
