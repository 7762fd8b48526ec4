"""Rows of a table that are no readings: repeated headers, summaries, events, broken lines.

Whatever is not taken as it stands is listed with its line, and what could be half a line is
refused: a number that lost its end looks like any other.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.logs import Change
from tempwitness.readers.grid import one_line
from tempwitness.readers.headers import Kind, heading
from tempwitness.readers.layout import is_names
from tempwitness.readers.widths import fit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.readers.columns import Plan
    from tempwitness.readers.grid import Row
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.sniff import Text

__all__ = ["MARKS", "tidy"]

# Words that a recorder writes by itself, and that say nothing about the food.
MARKS = frozenset(
    {
        "logged", "log", "mark", "marked", "marker", "start", "started", "stop", "stopped", "end",
        "end of data", "end of file", "end of log", "eof", "resumed", "paused", "power on",
        "power off", "recording started", "recording stopped",
    }
)  # fmt: skip
_SUMMARY = re.compile(
    r"(?:max(?:imum)?|min(?:imum)?|avg|average|mean|median|count|total|sum|std\.?(?: ?dev\.?)?|"
    r"standard deviation|range|number of (?:readings|samples))\s*[:.=]?"
    r"(?:\s*[+-]?[\d.,]+\s*\S{0,2})?",
    re.I,
)
_SAYS = re.compile(r"\w")


def tidy(
    rows: Sequence[Row],
    text: Text,
    plan: Plan,
    problems: Problems,
    changes: list[Change],
) -> list[Row]:
    """Leave out what is no reading and list it; refuse what could be half a line.

    Parameters
    ----------
    rows : sequence of Row
        Rows below the header.
    text : Text
        The file that they come from.
    plan : Plan
        What its columns hold.
    problems : Problems
        Takes the refusals.
    changes : list of Change
        Takes what was left out.

    Returns
    -------
    list of Row
        Rows as wide as the header.
    """
    body = _Body(text, plan, problems, changes)
    kept = [row for row in rows if not body.is_no_row(row)]
    kept = fit(kept, text, plan, problems)
    problems.check()
    kept = [row for row in kept if not body.is_event(row)]
    problems.check()
    return kept


@dataclass(frozen=True, slots=True)
class _Body:
    """Rows below a header."""

    text: Text
    plan: Plan
    problems: Problems
    changes: list[Change]

    def is_no_row(self, row: Row) -> bool:
        """Whether a row is a header again, a summary or a remark across the table."""
        line, cells = row
        if self._timed(cells):
            return False
        filled = [cell for cell in cells if cell]
        if self._is_header(line, cells):
            self._leave_out(line, cells, "the header stands here again")
        elif _SUMMARY.fullmatch(filled[0]):
            self._leave_out(line, cells, "a summary of the readings, not a reading")
        elif len(filled) == 1 and (filled[0].lower() in MARKS or not _SAYS.search(filled[0])):
            self._leave_out(line, cells, "a mark of the recorder or a rule, not a reading")
        elif len(filled) == 1 and cells[0] and not any(sign.isdigit() for sign in cells[0]):
            self._refuse_words(line, cells[0])
        else:
            return False
        return True

    def _timed(self, cells: Sequence[str]) -> bool:
        at = self.plan.words["time"]
        return at < len(cells) and cells[at][:1].isdigit()

    def _refuse_words(self, line: int, words: str) -> None:
        """Words without a time may tell that a probe was moved: they are not passed over."""
        self.problems.add(
            f"the line holds nothing but the words '{words}', and no time",
            "give it its time and put the words into a column 'note', or delete the line if they "
            "say nothing about the food or the probes",
            line=line,
        )

    def _is_header(self, line: int, cells: Sequence[str]) -> bool:
        names = self._lower(cells)
        heads = self.text.layout.heads if self.text.layout is not None else ()
        if any(names == self._lower(head) for head in (*heads, self.text.header)):
            return True
        at = self.plan.words["time"]
        timed = at < len(cells) and heading(cells[at]).kind in (Kind.TIME, Kind.DATE)
        if timed or is_names(cells):
            self.problems.stop(
                f"a header stands here again, and it differs: '{' | '.join(filter(None, cells))}' "
                f"where line {self.text.line} has "
                f"'{' | '.join(filter(None, self.text.header))}'",
                "keep what was recorded under each header in a file of its own",
                line=line,
            )
        return False

    def _lower(self, cells: Sequence[str]) -> list[str]:
        lower = [one_line(cell).lower() for cell in cells]
        while lower and not lower[-1]:
            lower.pop()
        return lower

    def is_event(self, row: Row) -> bool:
        """Whether a row holds a recorder's mark and nothing else; beside readings it is noted."""
        line, cells = row
        words = self.plan.words
        degrees = [c.column for c in self.plan.cells]
        marked = [at for at in degrees if cells[at].lower() in MARKS]
        if "event" in words and cells[words["event"]].lower() in MARKS:
            marked.append(words["event"])
        if not marked:
            return False
        said = ", ".join(dict.fromkeys(cells[at] for at in marked))
        whole = list(cells)
        for at in marked:
            cells[at] = ""
        if "note" in words or "event" in words:
            self._note(line, cells, marked, said)
            return False
        if any(cells[at] for at in degrees):
            for at in marked:
                name = self.text.header[at]
                reason = "a mark of the recorder, no temperature"
                self._add(line, name, said, "", reason)
            return False
        self._leave_out(line, whole, "a mark of the recorder without a reading")
        return True

    def _note(self, line: int, cells: list[str], marked: Sequence[int], said: str) -> None:
        words = self.plan.words
        if "note" in words:
            at = words["note"]
            cells[at] = f"{cells[at]}; {said}" if cells[at] else said
        else:
            at = words["event"]
            cells[at] = cells[at] or "remark"
        name = self.text.header[marked[0]]
        reason = "a mark of the recorder, no temperature: kept as a note"
        self._add(line, name, said, cells[at], reason)

    def _leave_out(self, line: int, cells: Sequence[str], reason: str) -> None:
        self._add(line, "", " | ".join(filter(None, cells)), "", reason)

    def _add(self, line: int, column: str, written: str, used: str, reason: str) -> None:
        self.changes.append(Change(self.problems.file, line, column, written, used, reason))
