"""The commands that show, explain, compare and check rules."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tempwitness.cli.rules_text import (
    explain_text,
    list_text,
    place_text,
    show_text,
)
from tempwitness.cli.settings import SETTINGS
from tempwitness.model.vocabulary import Topic
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.raw import find_requirements, raw_code

if TYPE_CHECKING:
    from datetime import datetime

__all__ = ["rules"]

_FEW = 3
_FEWEST = 2


@click.group(context_settings=SETTINGS)
def rules() -> None:
    """Show, explain, compare and check the rules."""


@rules.command("list", context_settings=SETTINGS)
@click.option("--place", metavar="PATH", help="Only what is known of a place: us/wa.")
@click.option(
    "--on",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DAY",
    help="Of that place, only what is in force on a day: 2026-07-04.",
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def list_codes(*, place: str | None, day: datetime | None, as_json: bool) -> None:
    """List the codes that can be named in a record, or those of a place."""
    if place is not None:
        _list_place(place, day, as_json=as_json)
        return
    if day is not None:
        raise click.UsageError("--on goes with --place")
    codes = [raw_code(code_id) for code_id in code_ids()]
    if as_json:
        _print_json([{**code["head"], "requirements": len(code["requirements"])} for code in codes])
        return
    click.echo(list_text(codes))


def _list_place(place: str, day: datetime | None, *, as_json: bool) -> None:
    """Print which codes are in force in a place, with the texts that adopt them."""
    from tempwitness.rulebook.places import adoptions_of  # noqa: PLC0415 - needs the models

    found = [a for a in adoptions_of(place) if day is None or a.holds_on(day.date())]
    if as_json:
        _print_json([a.model_dump(mode="json") for a in found])
        return
    if not found:
        click.echo(f"No code is known to be in force in {place} on that day.")
    for adoption in found:
        click.echo(place_text(adoption.model_dump(mode="json")))


@rules.command(context_settings=SETTINGS)
@click.argument("code")
@click.option("--stage", help="Only requirements of this stage, such as hot_hold.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def show(code: str, stage: str | None, *, as_json: bool) -> None:
    """Show every requirement of CODE with its figures and sections."""
    written = raw_code(code)
    if stage:
        kept = [r for r in written["requirements"] if stage in r.get("stages", [])]
        written = {**written, "requirements": kept}
    if as_json:
        _print_json(written)
        return
    click.echo(show_text(written))


@rules.command(context_settings=SETTINGS)
@click.argument("requirement")
def explain(requirement: str) -> None:
    """Explain one REQUIREMENT, such as 'us/food-code/2022#hot-hold'.

    It says what is asked and why, where that is written and how far it is confirmed, and gives
    invented examples of what keeps it and what breaks it.
    """
    found = find_requirements(requirement)
    if len(found) > 1:
        names = [f"{code_id}#{requirement}" for code_id, _ in found]
        some = ", ".join(names[:_FEW]) + (" …" if len(names) > _FEW else "")
        raise click.UsageError(
            f"'{requirement}' stands in {len(names)} codes; say which, such as {some}"
        )
    code_id, written = found[0]
    click.echo(explain_text(raw_code(code_id)["head"], written))


@rules.command(context_settings=SETTINGS)
@click.argument("codes", nargs=-1, required=True)
@click.option(
    "--topic",
    "topics",
    multiple=True,
    type=click.Choice([topic.value for topic in Topic]),
    help="Only the table of this topic; may be given again.",
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def compare(codes: tuple[str, ...], topics: tuple[str, ...], *, as_json: bool) -> None:
    """Compare what two or more CODES ask, one table a topic.

    Rows are foods, stages and conditions in which codes can be compared; a row says which figure
    is the strictest where all are of one form and direction.
    """
    from tempwitness.cli.compare_text import compare_text  # noqa: PLC0415 - only this command
    from tempwitness.rulebook.comparison.tables import tables  # noqa: PLC0415 - the same

    asked = list(dict.fromkeys(codes))
    if len(asked) < _FEWEST:
        raise click.UsageError("name at least two codes to compare")
    written = [raw_code(code) for code in asked]
    found = tables(written, [Topic(topic) for topic in topics] or list(Topic))
    if as_json:
        from tempwitness.rulebook.comparison.document import document  # noqa: PLC0415 - the same

        _print_json(document(written, found))
        return
    click.echo(compare_text(written, found))


@rules.command(context_settings=SETTINGS)
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.pass_context
def lint(ctx: click.Context, file: Path) -> None:
    """Check a local override FILE and say how to mend it.

    Exit status 2 if it holds an error; warnings and hints leave it at 0.
    """
    from tempwitness.rulebook.lint import lint_file  # noqa: PLC0415 - needs the models

    messages = lint_file(file)
    for message in messages:
        click.echo(str(message))
    errors = sum(message.grade == "error" for message in messages)
    if not messages:
        click.echo(f"{file}: nothing to mend")
    if errors:
        ctx.exit(2)


def _print_json(value: object) -> None:
    import json  # noqa: PLC0415 - it would cost the texts a tenth of their time

    click.echo(json.dumps(value, default=_plain, ensure_ascii=False, indent=2))


def _plain(value: Any) -> Any:  # noqa: ANN401 - whatever TOML holds beyond JSON
    if isinstance(value, Decimal):
        return float(value)
    return str(value)
