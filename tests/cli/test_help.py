"""Help texts, and help for those who mistyped."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click
import pytest
from click.testing import CliRunner

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.cli.main import cli
from tests.cli.running import alone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.cli.conftest import Run

WIDEST = 96


def commands(group: click.Group, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Yield the path of every command."""
    yield path
    context = click.Context(group)
    for name in group.list_commands(context):
        found = group.get_command(context, name)
        if isinstance(found, click.Group):
            yield from commands(found, (*path, name))
        else:
            yield (*path, name)


ALL = list(commands(cli))


def test_the_commands_are_those_that_are_documented() -> None:
    assert {path[0] for path in ALL if path} >= {
        *("check", "labels", "new", "packet", "plan", "read", "report", "rules", "seal", "sheets"),
        *("status", "verify"),
    }
    assert {path[1] for path in ALL if path[:1] == ("plan",) and len(path) > 1} == {
        *("cool", "readings", "reheat", "rest")
    }
    assert {path[1] for path in ALL if path[:1] == ("rules",) and len(path) > 1} == {
        *("compare", "explain", "lint", "list", "show")
    }


@pytest.mark.parametrize("path", ALL, ids=" ".join)
def test_every_help_text_fits_and_says_something(path: tuple[str, ...]) -> None:
    shown = CliRunner().invoke(cli, [*path, "--help"], env={"COLUMNS": "200"})
    assert shown.exit_code == 0
    assert max(map(len, shown.output.splitlines())) <= WIDEST
    assert len(shown.output.split("\n\n")) >= 3  # usage, what it does, options


@pytest.mark.parametrize("path", ALL, ids=" ".join)
def test_every_option_and_argument_is_explained(path: tuple[str, ...]) -> None:
    group: click.Command = cli
    context = click.Context(cli)
    for name in path:
        assert isinstance(group, click.Group)
        found = group.get_command(context, name)
        assert found is not None
        group = found
    options = [p for p in group.params if isinstance(p, click.Option)]
    assert [p.name for p in options if not p.help and not p.hidden] == []
    arguments = [p for p in group.params if isinstance(p, click.Argument)]
    text = group.help or ""
    assert [a.human_readable_name for a in arguments if a.human_readable_name not in text] == []


def test_the_list_of_commands_names_every_exit_status() -> None:
    shown = CliRunner().invoke(cli, ["--help"]).output
    named = {int(word) for word in shown.partition("Exit status")[2].split() if word.isdigit()}
    assert named == {int(code) for code in ExitCode}


def test_the_one_line_of_a_command_is_in_its_own_help_too(run: Run) -> None:
    for name in ("check", "report", "read", "rules"):
        assert name in run("--help").out
        assert run(name, "--help").status == 0


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        (["chexk", "x.toml"], "check"),
        (["rules", "shw"], "show"),
        (["check", "--jsno", "x"], "--json"),
        (["rules", "show", "us/food-code/2023"], "us/food-code/2022"),
    ],
    ids=["command", "subcommand", "option", "code"],
)
def test_a_slip_of_the_finger_gets_the_nearest_word(run: Run, typed: list[str], meant: str) -> None:
    ran = run(*typed)
    assert ran.status == 2
    assert f"'{meant}'" in ran.err or f" {meant}?" in ran.err or f"mean {meant} or" in ran.err


def test_the_version_is_printed() -> None:
    ran = alone("--version")
    assert ran.status == 0
    assert ran.out.startswith("tempwitness ")
    assert ran.err == ""


def test_the_local_authority_is_named_before_anything_is_checked() -> None:
    shown = CliRunner().invoke(cli, ["--help"]).output
    assert "The local health authority decides" in shown
