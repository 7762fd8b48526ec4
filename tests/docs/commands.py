"""The page of commands, from their own help texts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click
from click.testing import CliRunner

from tempwitness.cli.main import cli

if TYPE_CHECKING:
    from collections.abc import Iterator

_COLUMNS = "80"


def paths(group: click.Group, before: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Yield the words that call each command, groups before their members."""
    yield before
    context = click.Context(group)
    for name in group.list_commands(context):
        found = group.get_command(context, name)
        if isinstance(found, click.Group):
            yield from paths(found, (*before, name))
        else:
            yield (*before, name)
            if name == "new":
                # Handed on by the command itself.
                yield (*before, name, "event")
                yield (*before, name, "workbook")


def commands_page() -> str:
    """Return the page."""
    parts = ["# Commands\n"]
    for path in paths(cli):
        words = " ".join(("tempwitness", *path))
        parts.append(f"## `{words}`\n\n```text\n{_help(path)}\n```\n")
    return "\n".join(parts)


def _help(path: tuple[str, ...]) -> str:
    shown = CliRunner().invoke(
        cli, [*path, "--help"], prog_name="tempwitness", env={"COLUMNS": _COLUMNS}
    )
    assert shown.exit_code == 0, shown.output
    return "\n".join(line.rstrip() for line in shown.output.strip("\n").splitlines())
