"""The command that seals records into one archive."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tempwitness.cli.check import moment_of
from tempwitness.cli.report import refuse_existing, write_new
from tempwitness.cli.settings import SETTINGS
from tempwitness.cli.signing import signer, signing_options

if TYPE_CHECKING:
    from tempwitness.sealing.seal import Sealed

__all__ = ["seal"]

_EPILOG = """\b
Exit status:
  0  sealed, whatever the answer of the lots
  2  could not run, and nothing was written

A hash shows whether something was changed after it was sealed. It shows neither who wrote it nor
that the readings are true. The local health authority decides what it accepts."""


@click.command(context_settings=SETTINGS, epilog=_EPILOG)
@click.argument(
    "records", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True, dir_okay=False)
)
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The archive to write (.zip).",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    default="letter",
    show_default=True,
    help="Size of the reports' sheets.",
)
@click.option("--at", metavar="TIME", help="Moment of asking; now if omitted: '2026-07-04 22:15'.")
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
@signing_options
def seal(
    *,
    records: tuple[Path, ...],
    output: Path,
    paper: str,
    at: str | None,
    force: bool,
    sign_key: Path | None,
    sign_cert: Path | None,
) -> None:
    """Seal RECORDS with all they rest on into one archive that anybody can check later.

    It holds every record with its readings and local changes, the rules used, the answers, the
    reports, and a list of SHA-256 hashes. The hash of that list is printed: write it into the log
    book or send it to somebody, today.

    \b
    Example:
      tempwitness seal lamb.toml beans.toml -o fair.zip
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    refuse_existing(output, force=force)
    sign = signer(sign_key, sign_cert)
    from tempwitness.sealing.seal import seal as sealed  # noqa: PLC0415 - help needs none

    size: Literal["letter", "a4"] = "a4" if paper == "a4" else "letter"
    done = sealed(records, at=moment_of(records[0], at), paper=size, sign=sign)
    write_new(output, done.archive, force=force)
    _tell(output, done)


def _tell(output: Path, done: Sealed) -> None:
    from tempwitness.cli.verify_text import wrapped  # noqa: PLC0415 - help needs none
    from tempwitness.sealing.paper import HONEST  # noqa: PLC0415 - as above

    lots = "1 lot" if len(done.lots) == 1 else f"{len(done.lots)} lots"
    click.echo(f"{output}: {lots} sealed, {done.members} members")
    for name, words in done.lots:
        click.echo(f"  {name}: {words}")
    click.echo("Write this line into the log book, or send it to somebody, today:")
    click.echo(f"  {output.name} manifest SHA-256 {done.manifest_sha256}")
    for line in (*done.keep, *HONEST):
        click.echo(wrapped(line))
