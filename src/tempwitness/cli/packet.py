"""The command that writes the papers for a permit."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tempwitness.cli.settings import SETTINGS

if TYPE_CHECKING:
    from tempwitness.papers.plan import Plan

__all__ = ["packet"]

_FEW = 6


@click.command(context_settings=SETTINGS)
@click.argument("event", type=click.Path(path_type=Path, exists=True, dir_okay=False))
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
@click.option(
    "--fill",
    "form",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Fill this form of the authority (PDF) in place of making the packet.",
)
@click.option(
    "--map",
    "map_file",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Which answer goes into which field of the form (TOML).",
)
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
def packet(
    *,
    event: Path,
    output: Path,
    paper: str,
    form: Path | None,
    map_file: Path | None,
    force: bool,
) -> None:
    """Write the packet for the permit of an event from its file EVENT.

    Every limit comes from the food code that the file names. What the file does not say stands in
    the packet as a question. The county's own form prevails; --fill fills one that is a PDF with
    fields.

    \b
    Example:
      tempwitness packet event.toml -o packet.pdf
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.report import write_new  # noqa: PLC0415 - not for help
    from tempwitness.papers import planned  # noqa: PLC0415
    from tempwitness.readers.event import read_event  # noqa: PLC0415

    if (form is None) is not (map_file is None):
        raise click.UsageError(_missing_half(form))
    plan = planned(read_event(event))
    if form is not None and map_file is not None:
        write_new(output, _filled(form, map_file, plan, output), force=force)
        return
    from tempwitness.papers import to_packet  # noqa: PLC0415

    size: Literal["letter", "a4"] = "a4" if paper == "a4" else "letter"
    write_new(output, to_packet(plan, paper=size), force=force)
    _say_open(plan, output)


def _missing_half(form: Path | None) -> str:
    if form is None:
        return "--map goes with --fill FORM.pdf"
    from tempwitness.papers.fill import field_names  # noqa: PLC0415

    names = ", ".join(field_names(form)) or "none that can be filled"
    return f"--fill goes with --map MAP.toml. The fields of {form} are: {names}"


def _say_open(plan: Plan, output: Path) -> None:
    from tempwitness.readers.event.questions import questions  # noqa: PLC0415

    asked = questions(plan.file.table)
    if not asked:
        click.echo(f"{output} is written; nothing is left to be answered.", err=True)
        return
    click.echo(f"{output} is written; still to be answered: {len(asked)}.", err=True)
    for question in asked[:_FEW]:
        click.echo(f"  {question.about}: {question.asks} [{question.key}]", err=True)
    if len(asked) > _FEW:
        click.echo(f"  … and {len(asked) - _FEW} more, on page 2.", err=True)


def _filled(form: Path, map_file: Path, plan: Plan, output: Path) -> bytes:
    from tempwitness.papers import fill_form  # noqa: PLC0415
    from tempwitness.readers.event.form_map import read_map  # noqa: PLC0415

    done = fill_form(form, read_map(map_file), plan, str(map_file))
    click.echo(
        f"{output}: filled from {plan.file.file}. Read it through and sign it by hand.", err=True
    )
    for words, names in (
        ("left blank, the event file does not answer", done.left_blank),
        ("left blank, the answer is longer than the field takes", done.too_long),
        ("not in the map", done.unmapped),
    ):
        if names:
            click.echo(f"  {words}: {', '.join(names)}", err=True)
    return done.content
