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
from tempwitness.cli.report_event import records_in
from tempwitness.cli.settings import SETTINGS
from tempwitness.cli.signing import signer, signing_options
from tempwitness.errors import Location, ReportError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.pipeline import Checked
    from tempwitness.readers.options import BareOptions
    from tempwitness.sealing.seal import Sign

__all__ = ["refuse_existing", "report", "write_new"]

_KINDS = {".pdf": "pdf", ".html": "html", ".htm": "html"}


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
@signing_options
@bare_options
@click.pass_context
def report(  # noqa: PLR0913 - one parameter an option
    ctx: click.Context,
    /,
    *,
    records: tuple[Path, ...],
    output: Path,
    kind: str | None,
    paper: Literal["letter", "a4"] | None,
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

    A name that ends in .html gives the same report as one page for a browser, for a telephone or a
    screen reader; it needs no network.

    \b
    Examples:
      tempwitness report record.toml -o report.pdf
      tempwitness report record.toml -o report.html
      tempwitness report fair/ -o fair.pdf
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    html = _kind(output, kind) == "html"
    sign = _signer(sign_key, sign_cert, html=html)
    paths = records_in(records)
    if html and len(paths) > 1:
        raise ReportError(
            "a page for a browser holds one lot",
            location=Location(str(output)),
            hint="write a PDF for several, or a page for each",
        )
    found = [checked(path, options, at, under_all=under_all) for path in paths]
    written = _written(found, paper, html=html)
    write_new(output, written if sign is None else sign(written), force=force)
    for one in found:
        words = one.evaluation.verdict.words
        click.echo(f"{output}: {one.evaluation.lot.id} is {words}", err=True)
    verdicts = [one.evaluation.verdict.value for one in found]
    ctx.exit(0 if exit_zero else int(worst_code(verdicts)))


def _signer(key: Path | None, certificate: Path | None, *, html: bool) -> Sign | None:
    if html and (key is not None or certificate is not None):
        raise ReportError("only a PDF can be signed", hint="leave --sign-key and --sign-cert out")
    return signer(key, certificate)


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


def _written(
    found: Sequence[Checked], paper: Literal["letter", "a4"] | None, *, html: bool
) -> bytes:
    # Each kind is loaded only where it is asked for.
    first = found[0]
    if html:
        from tempwitness.report import to_html  # noqa: PLC0415 - help needs none

        return to_html(first.evaluation, first.log, paper=paper)
    from tempwitness.report import to_event_pdf, to_pdf  # noqa: PLC0415

    if len(found) == 1:
        return to_pdf(first.evaluation, first.log, paper=paper or "letter")
    return to_event_pdf([(one.evaluation, one.log) for one in found], paper=paper or "letter")
