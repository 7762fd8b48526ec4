"""The bytes of a file that a person named."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["bytes_of"]


def bytes_of(path: Path, *, name: str, hint: str = "check its name and folder") -> bytes:
    """Return a file's bytes.

    Parameters
    ----------
    path : Path
    name : str
        The file as the person named it, for the message.
    hint : str

    Raises
    ------
    InputError
        If it cannot be opened, or is a device, which may have no end.
    """
    try:
        if path.is_char_device() or path.is_block_device():
            why_not = "it is a device, not a file"
        else:
            return path.read_bytes()
    # A name that no file can have, such as one with a NUL sign, is a ValueError.
    except (OSError, ValueError) as why:
        why_not = (why.strerror if isinstance(why, OSError) else None) or str(why)
    raise InputError(f"the file cannot be opened ({why_not})", location=Location(name), hint=hint)
