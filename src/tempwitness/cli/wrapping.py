"""Text wrapped to the width of the terminal."""

from __future__ import annotations

import os
import re
import textwrap
from functools import cache

__all__ = ["fitted", "width", "wrapped"]

_NARROWEST, _USUAL, _WIDEST = 40, 80, 100
_GLUE = "\N{NO-BREAK SPACE}"  # keeps a figure and its unit on one line
_BEFORE_UNIT = re.compile(r" (?=°)|(?<=\d) (?=(?:h|min|s|d|lb|kg)\b)")


def wrapped(text: str, indent: int, hanging: int = 2) -> list[str]:
    """Wrap a text to the width of the terminal.

    Parameters
    ----------
    text : str
    indent : int
        Columns left free before the first line.
    hanging : int
        How much further the lines after it stand.
    """
    return fitted(text, width(), indent, hanging)


def fitted(text: str, columns: int, indent: int = 0, hanging: int = 2) -> list[str]:
    """Wrap a text to a width of its own; no figure is torn from its unit."""
    pad = " " * indent
    if indent + len(text) <= columns:
        return [pad + text]
    lines = textwrap.wrap(
        _BEFORE_UNIT.sub(_GLUE, text),
        columns,
        initial_indent=pad,
        subsequent_indent=pad + " " * hanging,
        break_on_hyphens=False,
        break_long_words=False,
    )
    return [line.replace(_GLUE, " ") for line in lines]


@cache
def width() -> int:
    """Return the width to wrap to: ``COLUMNS``, the terminal's own, or the usual 80."""
    asked = os.environ.get("COLUMNS", "")
    try:
        columns = int(asked) if asked.isdigit() else os.get_terminal_size().columns
    except OSError:
        columns = _USUAL
    return min(max(columns, _NARROWEST), _WIDEST)
