"""The command that writes a report, on paper or as a page for a browser."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tempwitness.cli.check import checked
from tempwitness.cli.exit_codes import worst_code
from tempwitness.cli.options import bare_options
from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import Location, ReportError

if TYPE_CHECKING:
    from tempwitness.pipeline import Checked
    from tempwitness.readers.options import BareOptions

__all__ = ["report", "write_new"]

_KINDS = {".pdf": "pdf", ".html": "html", ".htm": "html"}


def write_new(target: Path, content: bytes, *, force: bool) -> None:
    """Write a file whole or not at all, and never over another unless told so.

    Raises
    ------
    ReportError
        If the file exists already, or its folder does not.
    """
    if target.exists() and not force:
        raise ReportError(
            "the file exists already and was left as it is",
            location=Location(str(target)),
            hint="choose another name, or add --force to replace it",
        )
    if not target.parent.is_dir():
        raise ReportError(
            "the folder does not exist", location=Location(str(target.parent)), hint="make it first"
        )
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
        part.chmod(0o644)
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


@click.command(context_settings=SETTINGS)
@click.argument("record", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The file to write: a PDF, or a page for a browser if it ends in .html.",
)
@click.option(
    "--format",
    "kind",
    type=click.Choice(["pdf", "html"]),
    help="Kind of file, where the name does not say it.",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    help="Size of the sheets. If omitted, a PDF is letter, a page fits the printer.",
)
@click.option("--at", metavar="TIME", help="Moment of asking; now if omitted: '2026-07-04 22:15'.")
@click.option("--all", "under_all", is_flag=True, help="Add a page: the lot under every code.")
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
@click.option("--exit-zero", is_flag=True, help="Exit with 0 whatever the verdict.")
@bare_options
@click.pass_context
def report(  # noqa: PLR0913 - one parameter an option
    ctx: click.Context,
    /,
    *,
    record: Path,
    output: Path,
    kind: str | None,
    paper: Literal["letter", "a4"] | None,
    at: str | None,
    under_all: bool,
    force: bool,
    exit_zero: bool,
    options: BareOptions | None,
) -> None:
    """Write the report of RECORD as a PDF for the file, the inspector and the wall.

    A name that ends in .html gives the same report as one page for a browser, for a telephone or a
    screen reader; it needs no network.

    \b
    Examples:
      tempwitness report record.toml -o report.pdf
      tempwitness report record.toml -o report.html
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    html = _kind(output, kind) == "html"
    found = checked(record, options, at, under_all=under_all)
    write_new(output, _written(found, paper, html=html), force=force)
    words = found.evaluation.verdict.words
    click.echo(f"{output}: {found.evaluation.lot.id} is {words}", err=True)
    ctx.exit(0 if exit_zero else int(worst_code([found.evaluation.verdict.value])))


def _kind(output: Path, asked: str | None) -> str:
    """Return the kind of file that is asked for, by its name or by the option."""
    named = _KINDS.get(output.suffix.lower())
    if asked and named and asked != named:
        raise ReportError(
            f"the name ends in '{output.suffix}', but --format asks for {asked}",
            location=Location(str(output)),
            hint=f"write another name, or leave --format {asked} out",
        )
    return asked or named or "pdf"


def _written(found: Checked, paper: Literal["letter", "a4"] | None, *, html: bool) -> bytes:
    # Each kind is loaded only where it is asked for.
    if html:
        from tempwitness.report import to_html  # noqa: PLC0415 - help needs none

        return to_html(found.evaluation, found.log, paper=paper)
    from tempwitness.report import to_pdf  # noqa: PLC0415

    return to_pdf(found.evaluation, found.log, paper=paper or "letter")
