"""Reports of several lots in one document."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

__all__ = ["records_in"]

_TABLES = ("lot", "food")


def records_in(paths: Iterable[Path]) -> list[Path]:
    """Return the records that are named, and those in the folders that are named.

    Of a folder every record in it and in the folders beneath is taken; rules, changes and tables
    of readings that lie there are left aside.

    Raises
    ------
    InputError
        If a folder holds no record.
    """
    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        inside = [p for p in sorted(path.rglob("*")) if p.is_file() and _is_record(p)]
        if not inside:
            raise InputError(
                "no record lies in this folder",
                location=Location(str(path)),
                hint="write one first: tempwitness new",
            )
        found += inside
    _refuse_twice(found)
    return found


def _is_record(path: Path) -> bool:
    """Whether a file in a folder is a record; other TOML files lie beside them."""
    from tempwitness.readers.toml import read_table  # noqa: PLC0415 - help needs none
    from tempwitness.readers.written import is_record  # noqa: PLC0415

    if path.name.startswith((".", "~")) or not is_record(path):
        return False
    if path.suffix.lower() != ".toml":
        return True
    try:
        table, _ = read_table(path)
    except InputError as why:
        click.echo(f"tempwitness: left aside: {why}", err=True)
        return False
    return all(name in table for name in _TABLES)


def _refuse_twice(found: Sequence[Path]) -> None:
    seen: set[Path] = set()
    for path in found:
        place = path.resolve()
        if place in seen:
            raise InputError(
                "this record is named twice",
                location=Location(str(path)),
                hint="name each record, or its folder, once",
            )
        seen.add(place)
