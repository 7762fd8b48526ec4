"""The command that writes a record by asking for it."""

from __future__ import annotations

import shlex
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tempwitness.cli.new_given import Given, given_options
from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import InputError, Location, ReportError

if TYPE_CHECKING:
    from tempwitness.cli.new_ask import Asker
    from tempwitness.drafting.draft import Draft

__all__ = ["new", "refuse_early"]

_EPILOG = """\b
Examples:
  tempwitness new -o lamb.toml
  tempwitness new pit.csv meat.csv -o lamb.toml
  tempwitness new workbook -o lamb.xlsx     a workbook, see: tempwitness new workbook --help
  tempwitness new event -o supper.toml      an event file, see: tempwitness new event --help
  tempwitness new -o beans.toml --food beans --lot 'pit beans' \\
      --code us/food-code/2022 --zone America/Chicago --date 2026-07-11 \\
      --step '15:00 hot_hold' --reading '15:00 160 F'"""


#: Other kinds of file, by the first word: the module and the command in it.
_KINDS = {
    "event": ("tempwitness.cli.new_event", "event"),
    "workbook": ("tempwitness.cli.new_workbook", "workbook"),
}


class _New(click.Command):
    """The command for records, which hands ``new event`` and the like on to their own."""

    def make_context(
        self,
        info_name: str | None,
        args: list[str],
        parent: click.Context | None = None,
        **extra: Any,  # noqa: ANN401 - whatever click hands on
    ) -> click.Context:
        """Return the context of the command that the first word names."""
        kind = args[0] if args else ""
        if kind in _KINDS and not Path(kind).exists():
            module, name = _KINDS[kind]
            command: click.Command = getattr(import_module(module), name)
            return command.make_context(f"{info_name} {kind}", args[1:], parent, **extra)
        return super().make_context(info_name, args, parent, **extra)


@click.command(cls=_New, epilog=_EPILOG, context_settings=SETTINGS)
@click.argument("readings", nargs=-1, type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The record to write (TOML).",
)
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
@given_options
def new(
    *,
    readings: tuple[Path, ...],
    output: Path,
    force: bool,
    **answers: Any,  # noqa: ANN401 - one for each option of given_options
) -> None:
    """Write a record by answering questions, around the files READINGS if there are any.

    One question is asked at a time. What an option answers is not asked; without a terminal
    nothing is. What stays open is left out of the record, with a comment that says what it decides.
    """
    from tempwitness.cli.new_ask import Asker, say, terminal  # noqa: PLC0415 - not for help
    from tempwitness.cli.report import write_new  # noqa: PLC0415
    from tempwitness.drafting.compose import compose, left_open  # noqa: PLC0415

    refuse_early(output, "a record", force=force)
    draft = _answered(Asker(terminal()), Given(**answers), readings, output.parent)
    write_new(output, compose(draft).encode("utf-8"), force=force)
    _reread(output)
    files, typed, notes = len(draft.files), len(draft.readings), len(draft.notes)
    say(f"{output} is written: files {files}, readings by hand {typed}, notes {notes}.")
    if found := left_open(draft):
        say(f"Left open, each with a comment in the file: {', '.join(found)}.")
    say(f"Next: tempwitness check {shlex.quote(str(output))}")


def refuse_early(output: Path, what: str, *, force: bool) -> None:
    """Refuse before the first question what would be refused after the last."""
    if output.suffix.lower() != ".toml":
        raise ReportError(
            f"the name of {what} ends in .toml",
            location=Location(str(output)),
            hint=f"write it to {output.with_suffix('.toml')}",
        )
    if output.exists() and not force:
        raise ReportError(
            "the file exists already and was left as it is",
            location=Location(str(output)),
            hint="choose another name, or add --force to replace it",
        )
    if not output.parent.is_dir():
        raise ReportError(
            "the folder does not exist", location=Location(str(output.parent)), hint="make it first"
        )


def _answered(asker: Asker, given: Given, files: tuple[Path, ...], folder: Path) -> Draft:
    from datetime import date  # noqa: PLC0415

    from tempwitness.cli.new_log import ask_log  # noqa: PLC0415 - these load numpy
    from tempwitness.cli.new_lot import ask_lot  # noqa: PLC0415
    from tempwitness.cli.new_probes import ask_probes  # noqa: PLC0415

    draft = ask_lot(asker, given)
    log = ask_log(asker, given, draft, files, folder)
    begin = draft.head.get("date")
    ask_probes(asker, given, draft, log, begin if isinstance(begin, date) else None)
    draft.notes = log.notes
    draft.pieces = [{"id": name} for name in log.pieces]
    return draft


def _reread(output: Path) -> None:
    """Read what was written; the answers are kept in the file even if they do not fit together."""
    from tempwitness.readers import read_record  # noqa: PLC0415

    try:
        read_record(output)
    except InputError as why:
        raise InputError(
            f"the answers were written, but cannot be read as a record yet: {why.message}",
            location=why.location,
            hint=f"{why.hint or 'mend it in an editor'}; then: "
            f"tempwitness check {shlex.quote(str(output))}",
        ) from None
