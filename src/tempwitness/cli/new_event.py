"""The command that writes an event file by asking for it, or from the last one."""

from __future__ import annotations

import os
import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import InputError

if TYPE_CHECKING:
    from tempwitness.drafting.event import Tables

__all__ = ["event"]

_EPILOG = """\b
Examples:
  tempwitness new event -o supper.toml
  tempwitness new event -o supper.toml --name 'Harvest Supper' --date 2026-10-03 \\
      --code us/food-code/2022 --zone America/Chicago --food 'lamb shoulder' --food beans
  tempwitness new event --from spring.toml -o autumn.toml --name 'Autumn Fair' \\
      --date 2026-10-17"""


@click.command(epilog=_EPILOG, context_settings=SETTINGS)
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The event file to write (TOML).",
)
@click.option(
    "--from",
    "last",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Take over what an earlier event file says, but for its days.",
)
@click.option("--name", default="", metavar="NAME", help="Name of the event.")
@click.option("--date", "days", multiple=True, metavar="DAY", help="A day: 2026-10-03. Repeatable.")
@click.option("--code", default="", metavar="ID", help="Food code: us/food-code/2022.")
@click.option("--place", default="", metavar="PATH", help="In place of the code: us/wa.")
@click.option("--zone", default="", metavar="ZONE", help="Time zone: America/Chicago.")
@click.option("--food", "foods", multiple=True, metavar="NAME", help="A food. Repeatable.")
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
def event(
    *,
    output: Path,
    last: Path | None,
    force: bool,
    **given: Any,  # noqa: ANN401 - one for each option that answers
) -> None:
    """Write an event file: one question at a time, or from the last event.

    At a terminal each answer may be left open with Enter; without one, only options answer. What
    stays open stands in the file as a comment, and in the packet as a question.
    """
    from tempwitness.cli.new import refuse_early  # noqa: PLC0415 - not for help
    from tempwitness.cli.new_ask import Asker, say, terminal  # noqa: PLC0415
    from tempwitness.cli.new_event_ask import ask_event  # noqa: PLC0415
    from tempwitness.cli.report import write_new  # noqa: PLC0415
    from tempwitness.drafting.event import compose_event  # noqa: PLC0415

    refuse_early(output, "an event file", force=force)
    asker = Asker(terminal())
    tables = ask_event(asker, given, _taken_over(last, output), from_last=last is not None)
    write_new(output, compose_event(tables).encode("utf-8"), force=force)
    left = _reread(output)
    say(f"{output} is written; still to be answered: {left}.")
    say(f"Next: tempwitness packet {shlex.quote(str(output))} -o packet.pdf")


def _taken_over(last: Path | None, output: Path) -> Tables:
    if last is None:
        return {}
    from tempwitness.drafting.event import from_last  # noqa: PLC0415
    from tempwitness.readers.event import read_event  # noqa: PLC0415
    from tempwitness.readers.toml import read_table  # noqa: PLC0415

    read_event(last)  # refuses what could not be read again
    table, _ = read_table(last)
    if table.get("overrides"):
        # Such files are counted from the folder of the file that names them.
        there = os.path.relpath(last.parent, output.parent)
        table["overrides"] = [Path(there, name).as_posix() for name in table["overrides"]]
    return from_last(table)


def _reread(output: Path) -> int:
    """Read what was written; the answers are kept in the file even if they do not fit together."""
    from tempwitness.readers.event import read_event  # noqa: PLC0415
    from tempwitness.readers.event.questions import questions  # noqa: PLC0415

    try:
        return len(questions(read_event(output).table))
    except InputError as why:
        raise InputError(
            f"the answers were written, but cannot be read as an event yet: {why.message}",
            location=why.location,
            hint=why.hint or "mend it in an editor",
        ) from None
