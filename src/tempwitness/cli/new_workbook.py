"""The command that writes a record's workbook, to be filled in."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import InputError, Location, ReportError

__all__ = ["workbook"]

_SUFFIX = ".xlsx"


@click.command(context_settings=SETTINGS)
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The workbook to write (.xlsx).",
)
@click.option(
    "--from",
    "record",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="A record (TOML) whose entries it is filled with.",
)
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
def workbook(*, output: Path, record: Path | None, force: bool) -> None:
    """Write a record as a workbook, with lists to choose from and a sheet for the readings.

    Filled in and saved, it is judged like any record. Its sheets and columns have the names of the
    record's tables and keys, and what it says can be written back without loss.

    \b
    Examples:
      tempwitness new workbook -o lamb.xlsx
      tempwitness check lamb.xlsx
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.report import refuse_existing, write_new  # noqa: PLC0415 - not for help

    if output.suffix.lower() != _SUFFIX:
        raise ReportError(
            f"a workbook's name ends in {_SUFFIX}",
            location=Location(str(output)),
            hint=f"write it to {output.with_suffix(_SUFFIX)}",
        )
    refuse_existing(output, force=force)
    write_new(output, _filled(record), force=force)
    if record is not None and record.parent.resolve() != output.parent.resolve():
        click.echo(f"Paths in it count from its folder; those of {record} may not.", err=True)
    click.echo(f"Next: fill it in, then tempwitness check {shlex.quote(str(output))}", err=True)


def _filled(record: Path | None) -> bytes:
    try:
        from tempwitness.drafting.book import book_of  # noqa: PLC0415 - an extra
    except ImportError:
        raise InputError(
            "workbooks need a library that is not installed",
            hint='run: pip install "tempwitness[excel]" – or write a record: tempwitness new',
        ) from None
    if record is None:
        return book_of()
    from tempwitness.readers.toml import read_table  # noqa: PLC0415 - few ask for it
    from tempwitness.readers.written import written_record  # noqa: PLC0415

    written_record(record)  # a faulty record is refused by its own lines, not by cells
    return book_of(read_table(record)[0])
