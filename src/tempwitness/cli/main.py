"""The command line: commands loaded when they are called, and one boundary for errors."""

from __future__ import annotations

import io
import os
import sys
from importlib import import_module
from typing import TYPE_CHECKING

import click

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.cli.settings import SETTINGS
from tempwitness.errors import TempwitnessError
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["cli", "main"]

#: Command, the module that holds it, and its line in the list of commands.
_COMMANDS = {
    "check": ("check", "Judge records: what is met, not met or not shown, and what to do."),
    "labels": ("day", "Write date marks and times of disposal as labels (PDF)."),
    "new": ("new", "Write a record or an event file by answering questions, or a workbook."),
    "packet": ("packet", "Write the papers for an event's permit (PDF)."),
    "plan": ("plan", "Look ahead: will a rest, a cooling or a reheating do?"),
    "read": ("read", "Show row by row what was understood of a file, and what was doubted."),
    "report": ("report", "Write a record's report for paper or a browser (PDF, HTML)."),
    "sheets": ("day", "Write blank logs for the day, limits and due times printed (PDF)."),
    "status": ("status", "Show what is due now, how long it will last, and what can be saved."),
    "rules": ("rules", "List, show, explain, compare and lint the rules."),
    "seal": ("seal", "Put records, rules and answers into one archive that can be checked later."),
    "verify": ("verify", "Check a sealed archive and judge it again from its own contents."),
}

_EPILOG = """\b
Exit status:
  0  met
  1  not met
  2  could not run: usage, unreadable input, invalid rules
  3  not shown, still open, or a limit is needed
  70 internal error (please report it)
  130 interrupted

The local health authority decides; this program does not overrule it."""


class _LazyGroup(click.Group):
    """A group that imports a command only when it is called, and lists the others from a table."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        del ctx
        return sorted(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        if cmd_name not in _COMMANDS:
            return None
        module = import_module(f"tempwitness.cli.{_COMMANDS[cmd_name][0]}")
        command: click.Command = getattr(module, cmd_name)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args[0] not in _COMMANDS and not args[0].startswith("-"):
            from difflib import get_close_matches  # noqa: PLC0415 - only a mistake needs it

            near = get_close_matches(args[0], _COMMANDS, n=1)
            hint = f"Did you mean '{near[0]}'?" if near else f"Commands: {', '.join(_COMMANDS)}."
            raise click.UsageError(f"No such command '{args[0]}'. {hint}", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl([(name, _COMMANDS[name][1]) for name in sorted(_COMMANDS)])


@click.group(
    cls=_LazyGroup,
    epilog=_EPILOG,
    context_settings=SETTINGS,
)
@click.version_option(VERSION, message="tempwitness %(version)s")
def cli() -> None:
    """Check probe readings of smoked and roasted lots against a food code.

    Each requirement is answered met, not met or not shown, with the evidence, the section and
    what to do next.

    \b
    Try:
      tempwitness check sample_records/01-lamb-all-day/record.toml
      tempwitness report sample_records/01-lamb-all-day/record.toml -o lamb.pdf
      tempwitness rules show us/food-code/2022
    """  # noqa: D301 - click's mark for text that must not be rewrapped


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and exit with the status that `ExitCode` documents."""
    for stream in (sys.stdout, sys.stderr):
        _make_able_to_write(stream)
    sys.exit(_run(arguments))


def _make_able_to_write(stream: object) -> None:
    """Write UTF-8 into files and pipes, and let no terminal stumble over a sign that it lacks."""
    if not isinstance(stream, io.TextIOWrapper):
        return
    if stream.isatty():
        stream.reconfigure(errors="replace")
    else:
        stream.reconfigure(encoding="utf-8")


def _run(arguments: Sequence[str] | None) -> int:
    try:
        result = cli.main(
            args=None if arguments is None else list(arguments),
            prog_name="tempwitness",
            standalone_mode=False,
        )
    except (click.ClickException, TempwitnessError, OSError) as error:
        _say(error)
        return ExitCode.COULD_NOT_RUN
    except SystemExit:
        # So click leaves, quietly, when the reader of the output went away. Its own status 1
        # would say "not met"; an answer that was not read to its end is none.
        return ExitCode.COULD_NOT_RUN
    except (click.Abort, KeyboardInterrupt):
        click.echo("tempwitness: interrupted", err=True)
        return ExitCode.INTERRUPTED
    except Exception as error:
        if os.environ.get("TEMPWITNESS_DEBUG"):
            raise
        click.echo(
            f"tempwitness: internal error ({type(error).__name__}: {error}). Nothing was judged. "
            "Please report it; TEMPWITNESS_DEBUG=1 prints the details.",
            err=True,
        )
        return ExitCode.INTERNAL_ERROR
    return result if isinstance(result, int) else ExitCode.MET


def _say(error: click.ClickException | TempwitnessError | OSError) -> None:
    if isinstance(error, click.ClickException):
        error.show()
    elif isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        click.echo(f"tempwitness: {where}{error.strerror or error}", err=True)
    else:
        click.echo(f"tempwitness: {error}", err=True)
