"""The commands that write blank logs and labels for the day."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tempwitness.cli.settings import SETTINGS

if TYPE_CHECKING:
    from tempwitness.papers.plan import Plan

__all__ = ["labels", "sheets"]

_FILE = click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
_OUTPUT = click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="The PDF to write.",
)
_FORCE = click.option("--force", is_flag=True, help="Replace the file if it exists.")
#: The layouts of labels, named here so that the help needs no drawing library.
_LAYOUTS = ("letter-2x5", "letter-3x10", "a4-2x7", "a4-2x4", "single")


@click.command(context_settings=SETTINGS)
@_FILE
@_OUTPUT
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    default="letter",
    show_default=True,
    help="Size of the sheets.",
)
@_FORCE
def sheets(*, file: Path, output: Path, paper: str, force: bool) -> None:
    """Write blank logs for the day from an event or a record, FILE.

    One page for each step of each food, with its limits and the times at which readings are due;
    then probe checks, discards and corrective actions.

    \b
    Example:
      tempwitness sheets event.toml -o logs.pdf
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.report import write_new  # noqa: PLC0415 - not for help
    from tempwitness.papers import to_sheets  # noqa: PLC0415

    size: Literal["letter", "a4"] = "a4" if paper == "a4" else "letter"
    plan = _plan(file)
    write_new(output, to_sheets(plan, paper=size), force=force)
    count = sum(len(food.steps) for food in plan.foods)
    click.echo(f"{output} is written: {count} logs, and pages for the whole day.", err=True)


@click.command(context_settings=SETTINGS)
@_FILE
@_OUTPUT
@click.option(
    "--layout",
    type=click.Choice(_LAYOUTS),
    default="letter-2x5",
    show_default=True,
    help="Sheet of labels: labels across and down, or single ones of 4 by 2 in.",
)
@click.option(
    "--copies", type=click.IntRange(1, 500), default=1, show_default=True, help="How many of each."
)
@click.option(
    "--first",
    type=click.IntRange(1, 100),
    default=1,
    show_default=True,
    help="Number of the first label that is left on the first sheet.",
)
@_FORCE
def labels(*, file: Path, output: Path, layout: str, copies: int, first: int, force: bool) -> None:
    """Write labels for the day from an event or a record, FILE.

    Date marks for what is kept cold, the day of preparation being day 1, and times of disposal for
    what is held by time. What is not known yet is a line to write on.

    \b
    Example:
      tempwitness labels event.toml -o labels.pdf --copies 6
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.report import write_new  # noqa: PLC0415 - not for help
    from tempwitness.papers import labels_of, to_labels  # noqa: PLC0415

    plan = _plan(file)
    found = labels_of(plan)
    content = to_labels(found, plan, layout=layout, copies=copies, first=first)
    write_new(output, content, force=force)
    click.echo(f"{output} is written: {len(found)} labels, {copies} of each.", err=True)


def _plan(file: Path) -> Plan:
    from tempwitness.papers import planned  # noqa: PLC0415 - not for help
    from tempwitness.readers.toml import read_table  # noqa: PLC0415

    if "lot" not in read_table(file)[0]:
        from tempwitness.readers.event import read_event  # noqa: PLC0415

        return planned(read_event(file))
    from tempwitness.papers.from_record import event_of_record  # noqa: PLC0415
    from tempwitness.readers import read_record  # noqa: PLC0415

    return planned(event_of_record(read_record(file), file))
