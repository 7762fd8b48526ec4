"""What an archive says of itself: program, moments, and where each lot's papers are."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from tempwitness.errors import Location, SealError

__all__ = ["CONTENTS", "Contents", "SealedLot", "from_bytes", "to_bytes"]

CONTENTS = "seal.json"
_SCHEMA = "tempwitness/seal/1"


@dataclass(frozen=True, slots=True)
class SealedLot:
    """One lot: its name, and the members that speak of it."""

    lot: str
    record: str
    evaluation: str
    text: str
    pdf: str


@dataclass(frozen=True, slots=True)
class Contents:
    """What `seal.json` holds.

    Parameters
    ----------
    tool : str
        Program and version.
    sealed_at : datetime
        The moment of sealing, aware.
    asked_at : datetime, optional
        The moment of asking, aware, if one was named.
    paper : str
        Size of the reports' sheets.
    lots : tuple of SealedLot
    """

    tool: str
    sealed_at: datetime
    asked_at: datetime | None
    paper: str
    lots: tuple[SealedLot, ...]


def to_bytes(contents: Contents) -> bytes:
    """Return `seal.json`."""
    tree = {
        "schema": _SCHEMA,
        "tool": contents.tool,
        "sealed_at": contents.sealed_at.isoformat(),
        "asked_at": None if contents.asked_at is None else contents.asked_at.isoformat(),
        "paper": contents.paper,
        "lots": [asdict(lot) for lot in contents.lots],
    }
    return (json.dumps(tree, ensure_ascii=False, indent=1) + "\n").encode("utf-8")


def from_bytes(raw: bytes, file: str) -> Contents:
    """Read `seal.json`.

    Raises
    ------
    SealError
        If it is not what `to_bytes` writes.
    """
    try:
        tree = json.loads(raw)
    except (ValueError, RecursionError):
        raise _wrong(file, "it is not JSON") from None
    schema = tree.get("schema") if isinstance(tree, dict) else None
    if schema != _SCHEMA:
        raise _wrong(file, f"it names the schema {schema!r}, and only {_SCHEMA!r} is understood")
    try:
        return Contents(
            tool=_text(tree["tool"]),
            sealed_at=_moment(tree["sealed_at"]),
            asked_at=None if tree["asked_at"] is None else _moment(tree["asked_at"]),
            paper=_text(tree["paper"]),
            lots=tuple(_lot(entry) for entry in tree["lots"]),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as why:
        raise _wrong(file, f"something is missing in it or is of another kind ({why})") from None


def _lot(entry: dict[str, Any]) -> SealedLot:
    return SealedLot(**{name: _text(value) for name, value in entry.items()})


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r} is not a text")
    return value


def _moment(value: object) -> datetime:
    moment = datetime.fromisoformat(_text(value))
    if moment.tzinfo is None:
        raise ValueError(f"{value!r} has no offset from UTC")
    return moment


def _wrong(file: str, what: str) -> SealError:
    return SealError(
        f"the archive's own account cannot be read: {what}",
        location=Location(f"{file}, {CONTENTS}"),
        hint="copy the archive again from where it was sealed, or use the version that sealed it",
    )
