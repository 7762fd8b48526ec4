"""Questions of ``tempwitness new`` about what was read and done: files, steps, readings, probes."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from tempwitness.cli.new_ask import Asker, refuse, refuse_doubles, say
from tempwitness.drafting.lines import Days, reading_line, step_line
from tempwitness.drafting.tables import Seen, add_column, header_of, see, settle_columns, unclear
from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Event, StageName
from tempwitness.readers.moments import parse_moment
from tempwitness.readers.timeline import Frame
from tempwitness.readers.zones import find_zone

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.cli.new_given import Given
    from tempwitness.drafting.draft import Draft, Table

__all__ = ["Log", "ask_log"]

_COLUMN = (
    "  Column '{0}' holds: F or C, with its piece or place if it has one (F:left, F:air), or time, "
    "piece, place, probe, step, note, or ignore"
)


@dataclass(slots=True)
class Log:
    """What was read and done, before the probes are known."""

    seen: list[Seen] = field(default_factory=list)
    notes: list[Table] = field(default_factory=list)
    readings: list[Table] = field(default_factory=list)

    @property
    def pieces(self) -> tuple[str, ...]:
        """Pieces that the files name."""
        return tuple(dict.fromkeys(p for file in self.seen for p in file.pieces))


def ask_log(asker: Asker, given: Given, draft: Draft, files: Sequence[Path], folder: Path) -> Log:
    """Look at the files, and ask for steps and readings.

    Parameters
    ----------
    asker : Asker
    given : Given
    draft : Draft
        The lot as answered so far.
    files : sequence of Path
        Files of readings.
    folder : Path
        Folder of the record; paths in it count from there.

    Raises
    ------
    InputError
        If an option or a file cannot be understood.
    """
    day = draft.head.get("date")
    begin = day if isinstance(day, date) else None
    frame = Frame(find_zone(str(draft.head["zone"])), begin)
    log = Log()
    _refuse_unused(given, files)
    found = {path: _file(asker, given, path, folder, frame) for path in files}
    log.seen = _with_pieces(asker, given, found, folder, frame)
    days = Days(begin)
    log.notes = _steps(asker, given, days, log.pieces)
    first = min((parse_moment(n["at"]).seconds for n in log.notes), default=None)
    log.readings = _readings(asker, given, Days(begin, floor=first, halves=days.halves), log.pieces)
    return log


def _refuse_unused(given: Given, files: Sequence[Path]) -> None:
    """Refuse what was said of columns and files that are not there: it would go unheard."""
    refuse_doubles("--column", given.column)
    refuse_doubles("--piece", given.piece)
    names = {name for path in files for name in header_of(path)}
    for text in given.column:
        name, sign, _ = text.rpartition("=")
        if not sign or name not in names:
            raise refuse(
                "--column",
                f"'{text}' is not NAME=WHAT for a column of the files",
                f"their columns are {', '.join(sorted(names))}" if names else "name a file",
            )
    for text in given.piece:
        name, sign, piece = text.rpartition("=")
        if not sign or not piece or Path(name) not in files:
            raise refuse(
                "--piece",
                f"'{text}' is not FILE=NAME for a file that was named",
                f"the files are {', '.join(map(str, files))}" if files else "name a file",
            )


def _file(asker: Asker, given: Given, path: Path, folder: Path, frame: Frame) -> Seen:
    table: Table = {"path": Path(os.path.relpath(path, folder)).as_posix()}
    say(f"{path}:")
    _columns(asker, given, path, table)
    if given.time_format:
        table["time_format"] = given.time_format
    seen = _read(asker, path, folder, table, frame)
    for line in (f"{seen.rows} rows", *seen.understood):
        say(f"  {line}")
    return seen


def _with_pieces(
    asker: Asker, given: Given, found: Mapping[Path, Seen], folder: Path, frame: Frame
) -> list[Seen]:
    """Ask which piece each file speaks of; needed as soon as one of them names its piece."""
    told = {Path(n): p for n, _, p in (text.rpartition("=") for text in given.piece)}
    needed = bool(told) or any(seen.pieces for seen in found.values())
    whole = []
    for path, seen in found.items():
        if path in told and not seen.unnamed:
            raise refuse("--piece", f"the columns of {path} say themselves whose they are")
        piece = None
        if seen.unnamed and (path in told or len(found) > 1):
            leave = "" if needed else " (Enter if the lot is one piece)"
            piece = asker.one(
                f"Piece whose readings {path} holds{leave}",
                f"--piece '{path}=NAME'",
                told.get(path, ""),
                str,
                needed=needed,
            )
            needed = needed or piece is not None
        whole.append(see(folder, {**seen.table, "piece": piece}, frame) if piece else seen)
    _refuse_some(whole)
    return whole


def _refuse_some(whole: Sequence[Seen]) -> None:
    """Refuse readings without a piece beside readings with one: nothing says whose they are."""
    loose = [str(seen.table["path"]) for seen in whole if seen.unnamed]
    if loose and any(seen.pieces for seen in whole):
        raise refuse(
            "--piece",
            f"some files name their piece, but not {', '.join(loose)}",
            f"add --piece '{loose[0]}=NAME'",
        )


def _columns(asker: Asker, given: Given, path: Path, table: Table) -> None:
    header = header_of(path)
    told = {name: what for name, _, what in (text.rpartition("=") for text in given.column)}
    told = {name: what for name, what in told.items() if name in header}
    while True:
        _each_column(asker, table, header, told)
        try:
            settle_columns(table, header)
        except ValueError as why:
            if told or not asker.asks:
                raise refuse("--column", str(why)) from None
            say(f"  {why}")
            table.pop("columns", None)
            table.pop("ignore", None)
        else:
            return


def _each_column(
    asker: Asker, table: Table, header: Sequence[str], told: Mapping[str, str]
) -> None:
    for name in dict.fromkeys((*unclear(header), *told)):
        asker.one(
            _COLUMN.format(name),
            f"--column '{name}=F'",
            told.get(name, ""),
            partial(_add_column, table, name),
            needed=True,
        )


def _add_column(table: Table, name: str, answer: str) -> bool:
    add_column(table, name, answer)
    return True


def _read(asker: Asker, path: Path, folder: Path, table: Table, frame: Frame) -> Seen:
    """Read a file; where its times are the trouble, a terminal is asked for their pattern."""
    try:
        return see(folder, table, frame)
    except InputError as why:
        if not asker.asks or "time_format" in table or not _of_times(why):
            raise
        say(f"  {why}")

    def patterned(pattern: str) -> Seen:
        return see(folder, {**table, "time_format": pattern}, frame)

    question = "  Pattern of its times, such as %m/%d/%Y %H:%M or %m/%d/%Y %I:%M %p"
    found = asker.one(question, f"--time-format for {path}", "", patterned, needed=True)
    return found if found is not None else see(folder, table, frame)


def _of_times(why: InputError) -> bool:
    """Whether a pattern of the times would answer what a reader asked."""
    return "time that can be read" in why.message or any(
        option in why.hint for option in ("--day-order", "--time-format")
    )


def _steps(asker: Asker, given: Given, days: Days, pieces: Sequence[str]) -> list[Table]:
    question = (
        "What was done, one line each: 06:00 cook into the smoker (a blank line ends it).\n"
        f"  steps: {', '.join(s.value for s in StageName)}\n"
        f"  else: {', '.join(e.value for e in Event)}\n"
        "  may follow: method=ice_bath, piece=left, event=sliced, and words of your own"
    )
    return asker.lines(question, "--step", given.step, lambda t: step_line(t, days, pieces))


def _readings(asker: Asker, given: Given, days: Days, pieces: Sequence[str]) -> list[Table]:
    question = (
        "Readings by hand, one line each: 14:00 165 F (a blank line ends it).\n"
        "  may follow: place=surface (or air, medium), probe=pen, piece=left"
    )
    return asker.lines(
        question, "--reading", given.reading, lambda t: reading_line(t, days, pieces)
    )
