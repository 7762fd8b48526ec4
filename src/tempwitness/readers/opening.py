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
        If it cannot be opened.
    """
    try:
        return path.read_bytes()
    except OSError as why:
        raise InputError(
            f"the file cannot be opened ({why.strerror or why})",
            location=Location(name),
            hint=hint,
        ) from None
