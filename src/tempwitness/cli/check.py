"""The command that judges records."""

from __future__ import annotations

import os
import shutil
import sys
from datetime import MAXYEAR, MINYEAR, datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import click

from tempwitness.cli.exit_codes import worst_code
from tempwitness.cli.options import bare_options
from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.pipeline import Checked
    from tempwitness.readers.options import BareOptions

__all__ = ["check", "checked", "moment_of", "moment_option", "terminal_colour"]


def moment_option(text: str | None, zone: str) -> datetime | None:
    """Read the moment of asking; a time without an offset is in the record's zone."""
    if text is None:
        return None
    try:
        moment = datetime.fromisoformat(text)
        # At the ends of the calendar a moment has no date in every zone.
        if not MINYEAR + 1 <= moment.year <= MAXYEAR - 2:
            raise ValueError(text)  # noqa: TRY301 - said below as for any other text
    except ValueError:
        raise InputError(
            f"'{text}' is not a moment",
            location=Location("command line", key="--at"),
            hint="write the date and the time: --at '2026-07-04 22:15'",
        ) from None
    return moment if moment.tzinfo else moment.replace(tzinfo=ZoneInfo(zone))


def checked(
    path: Path, options: BareOptions | None, at: str | None, *, under_all: bool = False
) -> Checked:
    """Check one record at the moment that was asked for."""
    from tempwitness.pipeline import check as check_record  # noqa: PLC0415 - help needs neither

    moment = moment_of(path, at, options)
    return check_record(path, options, at=moment, under_all=under_all)


def moment_of(path: Path, at: str | None, options: BareOptions | None = None) -> datetime | None:
    """Read the moment of asking, in the zone of a record where it bears no offset."""
    if at is None:
        return None
    from tempwitness.readers import read_any  # noqa: PLC0415 - as above

    zone = read_any(path, options).lot.zone if "+" not in at[10:] else "UTC"
    return moment_option(at, zone)


@click.command(context_settings=SETTINGS)
@click.argument(
    "records", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True, dir_okay=False)
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document a line and record.")
@click.option("--csv", "as_csv", is_flag=True, help="Print the findings as a CSV table.")
@click.option("--full", is_flag=True, help="Also print what is met and what does not apply.")
@click.option("--all", "under_all", is_flag=True, help="Also judge it under every other code.")
@click.option("--at", metavar="TIME", help="Moment of asking; now if omitted: '2026-07-04 22:15'.")
@click.option("--width", type=click.IntRange(30, 200), help="Columns of the text.")
@click.option("--exit-zero", is_flag=True, help="Exit with 0 whatever the verdict.")
@bare_options
@click.pass_context
def check(  # noqa: PLR0913 - one parameter an option
    ctx: click.Context,
    /,
    *,
    records: tuple[Path, ...],
    as_json: bool,
    as_csv: bool,
    full: bool,
    under_all: bool,
    at: str | None,
    width: int | None,
    exit_zero: bool,
    options: BareOptions | None,
) -> None:
    """Judge RECORDS: each requirement met, not met or not shown.

    A record is a TOML file, or a workbook from 'new workbook'; a bare table of readings (CSV, TSV,
    XLSX) also works, together with --food, --form, --weight, --code and --zone.

    \b
    Examples:
      tempwitness check record.toml
      tempwitness check probe.csv --food "lamb shoulder" --form intact --weight "9 lb" \\
          --code us/food-code/2022 --zone America/Chicago
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.report import to_csv, to_json  # noqa: PLC0415 - help needs none

    if as_json and as_csv:
        raise click.UsageError("--json and --csv do not go together; ask for one of them", ctx)

    evaluations = []
    for path in records:
        evaluation = checked(path, options, at, under_all=under_all).evaluation
        evaluations.append(evaluation)
        if as_json:
            click.echo(to_json(evaluation))
        elif not as_csv:
            click.echo(_text(evaluation, width, full=full, first=len(evaluations) == 1))
    if as_csv:
        click.echo(to_csv(evaluations), nl=False)
    ctx.exit(0 if exit_zero else int(worst_code(e.verdict.value for e in evaluations)))


def _text(evaluation: Evaluation, width: int | None, *, full: bool, first: bool) -> str:
    from tempwitness.report import to_text  # noqa: PLC0415 - help needs none

    columns = width or min(shutil.get_terminal_size((80, 24)).columns, 100)
    text = to_text(evaluation, width=columns, colour=terminal_colour(), full=full)
    return text if first else f"\n{'=' * min(columns, 80)}\n{text}"


def terminal_colour() -> bool:
    """Colour only for a terminal, and never against NO_COLOR; it carries no meaning of its own."""
    unwanted = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return sys.stdout.isatty() and not unwanted
