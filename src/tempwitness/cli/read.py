"""The command that shows what was understood of a file, and what was doubted."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tempwitness.cli.options import bare_options
from tempwitness.cli.settings import SETTINGS

if TYPE_CHECKING:
    from tempwitness.readers.options import BareOptions

__all__ = ["read"]

_EPILOG = """\b
Examples:
  tempwitness read lamb.toml
  tempwitness read pit.csv --zone America/Chicago --limit 20
  tempwitness read pit.csv --zone Europe/London --day-order day-first"""


@click.command(epilog=_EPILOG, context_settings=SETTINGS)
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@click.option("--limit", type=click.IntRange(min=0), metavar="N", help="Show only N rows.")
@bare_options
def read(*, file: Path, as_json: bool, limit: int | None, options: BareOptions | None) -> None:
    """Show row by row what was understood of FILE, what was changed and what was doubted.

    FILE is a record (TOML) or a bare table of readings (CSV, TSV, a workbook, JSON lines). A table
    needs --zone if its times bear no offset from UTC. Nothing is judged here.
    """
    from tempwitness.calibration import correct  # noqa: PLC0415 - help needs none of these
    from tempwitness.cli.read_text import as_document, as_text  # noqa: PLC0415
    from tempwitness.quality import qualify  # noqa: PLC0415
    from tempwitness.readers import read_any  # noqa: PLC0415

    log = correct(qualify(read_any(file, options, only_shown=True)))
    if as_json:
        document: dict[str, Any] = as_document(log, limit)
        click.echo(json.dumps(document, ensure_ascii=False, allow_nan=False))
    else:
        for line in as_text(log, limit):
            click.echo(line)
