"""TOML as text, for the few kinds of values that a record holds.

The standard library reads TOML but does not write it. Everything that a person typed is escaped, so
that no name can end its own quotes or begin a table.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, time

from tempwitness.errors import InputError

__all__ = ["Value", "entry", "key", "text", "value"]

Value = str | bool | int | float | date | time | Sequence["Value"] | Mapping[str, "Value"]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t"}


def text(words: str) -> str:
    r"""Return words as a basic string of TOML, with its quotes.

    Raises
    ------
    InputError
        If they hold half a character, as badly encoded command lines do; TOML cannot hold one.

    Examples
    --------
    >>> print(text('the "big" one'))
    "the \"big\" one"
    """
    if any(0xD800 <= ord(sign) <= 0xDFFF for sign in words):
        shown = words.encode("utf-8", "replace").decode("utf-8")
        raise InputError(
            f"'{shown}' holds something that is not a character",
            hint="type it again; the terminal must be set to UTF-8",
        )
    return f'"{"".join(map(_sign, words))}"'


def _sign(sign: str) -> str:
    if sign in _SHORT:
        return _SHORT[sign]
    # Control characters may not stand in a string; those of the upper range may, but hide.
    hidden = ord(sign) < 0x20 or 0x7F <= ord(sign) < 0xA0
    return f"\\u{ord(sign):04X}" if hidden else sign


def key(name: str) -> str:
    """Return a key, in quotes only where it needs them.

    Examples
    --------
    >>> key("left_f"), key("Probe 1")
    ('left_f', '"Probe 1"')
    """
    return name if _BARE.fullmatch(name) else text(name)


def value(held: Value) -> str:
    """Return a value on one line; tables within are written inline.

    Examples
    --------
    >>> value({"at": "2026-07-04 05:30", "read": "32 F"})
    '{ at = "2026-07-04 05:30", read = "32 F" }'
    """
    if isinstance(held, str):
        return text(held)
    if isinstance(held, bool):
        return "true" if held else "false"
    if isinstance(held, date | time):
        return held.isoformat()
    if isinstance(held, int | float):
        return str(held)
    if isinstance(held, Mapping):
        inside = ", ".join(entry(name, part) for name, part in held.items())
        return f"{{ {inside} }}" if inside else "{}"
    return f"[{', '.join(value(part) for part in held)}]"


def entry(name: str, held: Value) -> str:
    """Return a key and its value.

    Examples
    --------
    >>> entry("form", ["injected", "ground"])
    'form = ["injected", "ground"]'
    """
    return f"{key(name)} = {value(held)}"
