"""The command that says what is due now."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tempwitness.cli.check import moment_option, terminal_colour
from tempwitness.cli.exit_codes import worst_code
from tempwitness.cli.options import bare_options
from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from tempwitness.model.status import Status
    from tempwitness.readers.options import BareOptions

__all__ = ["status"]

_EVERY = 30


@click.command(context_settings=SETTINGS)
@click.argument("record", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@click.option("--at", metavar="TIME", help="Any moment; now if omitted: '2026-07-04 22:15'.")
@click.option("--width", type=click.IntRange(24, 200), help="Columns of the text.")
@click.option(
    "--watch",
    type=click.IntRange(1, 86400),
    is_flag=False,
    flag_value=_EVERY,
    metavar="[SECONDS]",
    help=f"Look again every {_EVERY} s, or so many, and print only what changed. "
    "Put it behind RECORD.",
)
@click.option(
    "--warn",
    multiple=True,
    type=click.IntRange(1, 1440),
    default=(60, 30, 10),
    metavar="MINUTES",
    help="With --watch: name a deadline again so long before it.  [default: 60, 30, 10]",
)
@click.option(
    "--run",
    "command",
    metavar="COMMAND",
    help="With --watch: run COMMAND at a change other than a plain reading. No shell sees it; "
    "the lines that were printed come on its standard input.",
)
@click.option(
    "--calendar",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write the deadlines as a calendar file (.ics).",
)
@click.option("--exit-zero", is_flag=True, help="Exit with 0 whatever the verdict.")
@bare_options
@click.pass_context
def status(  # noqa: PLR0913 - one parameter an option
    ctx: click.Context,
    /,
    *,
    record: Path,
    as_json: bool,
    at: str | None,
    width: int | None,
    watch: int | None,
    warn: tuple[int, ...],
    command: str | None,
    calendar: Path | None,
    exit_zero: bool,
    options: BareOptions | None,
) -> None:
    """Show where the lot of RECORD stands: what is due, how long it will last, what can be saved.

    RECORD is a record or a bare table of readings, as for check. Nothing that was written down
    after the moment of asking is looked at.

    \b
    Examples:
      tempwitness status record.toml
      tempwitness status record.toml --at '2026-07-04 22:15' --calendar lamb.ics
      tempwitness status record.toml --watch 60 --run './ring.sh loud'
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.status_watch import Telling, follow, written  # noqa: PLC0415

    words = _command(ctx, command, watch=watch)
    if watch is not None and at is not None:
        raise click.UsageError("--watch looks at the present; --at names another moment", ctx)
    columns = width or min(shutil.get_terminal_size((80, 24)).columns, 100)

    def look() -> Status:
        return _status(record, options, at)

    found = look()
    telling = Telling(as_json=as_json, command=words, calendar=calendar)
    click.echo(written(found, as_json=as_json, width=columns, colour=terminal_colour()), nl=as_json)
    telling.write_calendar(found)
    if watch is not None:
        found = follow(found, look, telling, every=watch, warn=[60.0 * m for m in warn])
    ctx.exit(0 if exit_zero else int(worst_code([found.verdict.value])))


def _command(ctx: click.Context, command: str | None, *, watch: int | None) -> list[str]:
    """Split the command to run as a shell would, without one, and see that it is there."""
    if command is None:
        return []
    if watch is None:
        raise click.UsageError("--run needs --watch: it is run when something changes", ctx)
    try:
        words = shlex.split(command)
    except ValueError as error:
        raise click.UsageError(f"--run: {error}; check the quotation marks", ctx) from None
    if not words or shutil.which(words[0]) is None:
        name = words[0] if words else ""
        raise InputError(
            f"'{name}' is no program that can be run",
            location=Location("command line", key="--run"),
            hint="name a program with its arguments; pipes and other shell signs need 'sh -c …'",
        )
    return words


def _status(record: Path, options: BareOptions | None, at: str | None) -> Status:
    from tempwitness.pipeline import standing  # noqa: PLC0415 - help needs neither
    from tempwitness.readers import read_any  # noqa: PLC0415

    if at is None:
        return standing(record, options).status
    zone = read_any(record, options).lot.zone if "+" not in at[10:] else "UTC"
    return standing(record, options, at=moment_option(at, zone)).status
