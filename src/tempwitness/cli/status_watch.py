"""Looking again and again at a growing record, and telling what changed."""

from __future__ import annotations

import json
import os
import subprocess
import time
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

import click

from tempwitness.cli.report import write_new
from tempwitness.errors import Location, ReportError, TempwitnessError
from tempwitness.outlook import Change, Kind, changes
from tempwitness.report import status_text, to_calendar, to_json
from tempwitness.report.calendar import PRODUCT
from tempwitness.report.text_changes import change_text

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from tempwitness.model.status import Status

__all__ = ["CHANGE_SCHEMA", "Telling", "follow", "written"]

CHANGE_SCHEMA = "tempwitness/change/1"

#: Longest that a command may take before it is ended [s].
_PATIENCE = 60


def written(status: Status, *, as_json: bool, width: int, colour: bool) -> str:
    """Write a status whole, as text with its line end or as JSON without one."""
    return to_json(status) if as_json else status_text(status, width=width, colour=colour)


@dataclass(frozen=True, slots=True)
class Telling:
    """Where changes are told.

    Parameters
    ----------
    as_json : bool
    command : list of str
        Program and arguments, run at every change other than a plain reading; empty for none.
    calendar : Path, optional
        File to which the deadlines are written.
    """

    as_json: bool
    command: list[str]
    calendar: Path | None

    def tell(self, status: Status, found: Sequence[Change]) -> None:
        """Print changes, write the calendar anew and run the command."""
        lines = [self._line(change, status) for change in found]
        for line in lines:
            click.echo(line)
        self.write_calendar(status)
        if self.command and any(change.kind is not Kind.READING for change in found):
            _run(self.command, lines, status)

    def _line(self, change: Change, status: Status) -> str:
        if not self.as_json:
            return change_text(change, status)
        head = {"schema": CHANGE_SCHEMA, "lot": status.lot, "asked_at": status.asked_at}
        return json.dumps({**head, **asdict(change)}, ensure_ascii=False, allow_nan=False)

    def write_calendar(self, status: Status) -> None:
        """Write the deadlines, over an older calendar of this program but over nothing else."""
        if self.calendar is None:
            return
        if self.calendar.exists() and PRODUCT.encode() not in self.calendar.read_bytes()[:400]:
            raise ReportError(
                "the file exists and is no calendar that this program wrote, so it was left as "
                "it is",
                location=Location(str(self.calendar)),
                hint="choose another name",
            )
        write_new(self.calendar, to_calendar(status).encode(), force=True)


def _run(command: list[str], lines: Sequence[str], status: Status) -> None:
    """Run the command, and say on standard error if it failed; the watch goes on."""
    try:
        done = subprocess.run(  # noqa: S603 - the user's own words, and no shell sees them
            command,
            input="\n".join(lines) + "\n",
            env={**os.environ, "TEMPWITNESS_VERDICT": status.verdict.value},
            encoding="utf-8",
            timeout=_PATIENCE,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        click.echo(f"tempwitness: --run: {error}", err=True)
        return
    if done.returncode:
        click.echo(f"tempwitness: --run ended with status {done.returncode}", err=True)


def follow(
    first: Status,
    look: Callable[[], Status],
    telling: Telling,
    *,
    every: float,
    warn: Sequence[float],
    sleep: Callable[[float], None] | None = None,
) -> Status:
    """Look again until nothing runs any more, and tell what changed.

    A record that cannot be read at a look, because it is just being written, is looked at again;
    the trouble is named once.

    Parameters
    ----------
    first : Status
    look : callable
        Returns the status of the present moment.
    telling : Telling
    every : float
        Time between two looks [s].
    warn : sequence of float
        Times before a deadline at which it is named again [s].
    sleep : callable, optional
        Waits so many seconds; ``time.sleep`` if omitted.

    Returns
    -------
    Status
        The last one.
    """
    before, trouble = first, ""
    while not before.over:
        (sleep or time.sleep)(every)
        try:
            after = look()
        except (TempwitnessError, OSError) as error:
            if str(error) != trouble:
                click.echo(f"tempwitness: not readable at this moment: {error}", err=True)
            trouble = str(error)
            continue
        trouble = ""
        found = changes(before, after, warn)
        if found:
            telling.tell(after, found)
        before = after
    return before
