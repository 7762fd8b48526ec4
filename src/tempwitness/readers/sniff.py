"""What kind of text file it is: encoding, separator and header."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.readers.encoding import as_utf8

if TYPE_CHECKING:
    from tempwitness.readers.problems import Problems

__all__ = ["SEPARATORS", "Text", "look"]

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}


@dataclass(frozen=True, slots=True)
class Text:
    """A delimited text file.

    Parameters
    ----------
    data : bytes
        Its content in UTF-8, without a byte-order mark.
    separator : str
    header : tuple of str
        Names of the columns, stripped.
    encoding : str
        How it was encoded before.
    """

    data: bytes
    separator: str
    header: tuple[str, ...]
    encoding: str = "UTF-8"

    @property
    def understood(self) -> str:
        """How the file is laid out."""
        return f"{self.encoding} text, columns separated by {SEPARATORS[self.separator]}"


def look(raw: bytes, problems: Problems) -> Text:
    """Find out separator and header; one column alone is never accepted.

    Raises
    ------
    InputError
        If the file is empty, its encoding is not known, or its separator is not plain to see.
    """
    text = as_utf8(raw, problems)
    data = text.data
    first = data[: data.find(b"\n") % (len(data) + 1)].split(b"\r", 1)[0]
    line = first.decode("utf-8")
    if not line.strip():
        problems.stop(
            "the file has no header in its first line",
            "begin it with the names of the columns, such as time,temp_f,piece",
            line=1,
        )
    return Text(data, *_separate(line, problems), text.encoding)


def _separate(line: str, problems: Problems) -> tuple[str, tuple[str, ...]]:
    split = {sign: next(csv.reader([line], delimiter=sign)) for sign in SEPARATORS}
    wide = {sign: cells for sign, cells in split.items() if len(cells) > 1}
    timed = {s: c for s, c in wide.items() if any(x.strip().lower() == "time" for x in c)}
    if len(timed or wide) != 1:
        problems.stop(
            f"the columns cannot be told apart: the first line is '{line.strip()[:80]}'",
            "separate them by commas, semicolons or tabs, only one of the three, and name them "
            "in the first line, such as time,temp_f,piece",
            line=1,
        )
    ((sign, cells),) = (timed or wide).items()
    return sign, tuple(cell.strip() for cell in cells)
