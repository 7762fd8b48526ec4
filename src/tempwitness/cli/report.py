"""The command that writes a report on paper."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tempwitness.cli.check import checked
from tempwitness.cli.exit_codes import worst_code
from tempwitness.cli.options import bare_options
from tempwitness.cli.report_event import records_in
from tempwitness.cli.settings import SETTINGS
from tempwitness.cli.signing import signer, signing_options
from tempwitness.errors import Location, ReportError

if TYPE_CHECKING:
    from tempwitness.pipeline import Checked
    from tempwitness.readers.options import BareOptions

__all__ = ["refuse_existing", "report", "write_new"]


def refuse_existing(target: Path, *, force: bool) -> None:
    """Refuse to write over a file, or into a folder that does not exist.

    Raises
    ------
    ReportError
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


def write_new(target: Path, content: bytes, *, force: bool) -> None:
    """Write a file whole or not at all, and never over another unless told so.

    Raises
    ------
    ReportError
        If the file exists already, or its folder does not.
    """
    refuse_existing(target, force=force)
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
@click.argument("records", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True))
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The PDF to write.",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    default="letter",
    show_default=True,
    help="Size of the sheets.",
)
@click.option("--at", metavar="TIME", help="Moment of asking; now if omitted: '2026-07-04 22:15'.")
@click.option("--all", "under_all", is_flag=True, help="Add a page: the lot under every code.")
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
@click.option("--exit-zero", is_flag=True, help="Exit with 0 whatever the verdict.")
@signing_options
@bare_options
@click.pass_context
def report(  # noqa: PLR0913 - one parameter an option
    ctx: click.Context,
    /,
    *,
    records: tuple[Path, ...],
    output: Path,
    paper: str,
    at: str | None,
    under_all: bool,
    force: bool,
    exit_zero: bool,
    sign_key: Path | None,
    sign_cert: Path | None,
    options: BareOptions | None,
) -> None:
    """Write the report of RECORDS as a PDF for the file, the inspector and the wall.

    Several records, or a folder of them, become one document: all lots with the worst first,
    statements of corrective action to sign, what was discarded, then each lot's report.

    \b
    Examples:
      tempwitness report record.toml -o report.pdf
      tempwitness report fair/ -o fair.pdf
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    sign = signer(sign_key, sign_cert)
    found = [checked(p, options, at, under_all=under_all) for p in records_in(records)]
    size: Literal["letter", "a4"] = "a4" if paper == "a4" else "letter"
    pdf = _drawn(found, size)
    write_new(output, pdf if sign is None else sign(pdf), force=force)
    for one in found:
        words = one.evaluation.verdict.words
        click.echo(f"{output}: {one.evaluation.lot.id} is {words}", err=True)
    verdicts = [one.evaluation.verdict.value for one in found]
    ctx.exit(0 if exit_zero else int(worst_code(verdicts)))


def _drawn(found: list[Checked], paper: Literal["letter", "a4"]) -> bytes:
    """Draw one lot's report, or the document of several."""
    from tempwitness.report import to_event_pdf, to_pdf  # noqa: PLC0415 - help needs none

    if len(found) == 1:
        return to_pdf(found[0].evaluation, found[0].log, paper=paper)
    return to_event_pdf([(one.evaluation, one.log) for one in found], paper=paper)
