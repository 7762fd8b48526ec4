"""The sheet that lies in every archive, for somebody who has it and not the program."""

from __future__ import annotations

from datetime import UTC
from typing import TYPE_CHECKING

from tempwitness.sealing.manifest import MANIFEST

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

__all__ = ["HONEST", "read_me", "written"]

#: What a seal is worth, printed wherever one is made or verified.
HONEST = (
    "A hash shows whether something was changed after it was sealed. It does not show who wrote "
    "it, nor that the readings are true.",
    "Whoever can write the archive can seal other contents: only a hash that was written down or "
    "sent elsewhere when it was made ties the two together.",
    "The local health authority decides what it accepts.",
)


def read_me(tool: str, sealed_at: str, lots: Sequence[str], keep: Sequence[str]) -> bytes:
    """Return the text of the sheet.

    Parameters
    ----------
    tool : str
        Program and version.
    sealed_at : str
        Moment of sealing, as it is printed.
    lots : sequence of str
        A line for each lot.
    keep : sequence of str
        How long it is kept.
    """
    parts = [
        "SEALED RECORD",
        "",
        f"Sealed by {tool} at {sealed_at}:",
        *(f"  {line}" for line in lots),
        "",
        *keep,
        "",
        "What is in here",
        "  records/      each record with its readings and local changes, byte by byte",
        "  rules/        the rules by which they were judged",
        "  evaluations/  the answers as JSON, one file a lot",
        "  reports/      the same answers as text and PDF",
        "  seal.json     version of the program and the moment of asking",
        f"  {MANIFEST}  the SHA-256 of every member but itself",
        "",
        "How to check it",
        "  with the program, which also judges everything again from these contents:",
        "    tempwitness verify FILE.zip",
        "  without it, in the unpacked folder:",
        f"    sha256sum -c {MANIFEST}        (Linux)",
        f"    shasum -a 256 -c {MANIFEST}    (Mac)",
        "  The hash of the manifest itself is the line to write down or to send:",
        f"    sha256sum {MANIFEST}",
        "",
        "What it is worth",
        *(f"  {line}" for line in HONEST),
        "",
    ]
    return "\n".join(parts).encode("utf-8")


def written(moment: datetime) -> str:
    """Write a moment to the minute, in UTC, which needs no zone to be read.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> written(datetime(2026, 7, 4, 22, 15, tzinfo=UTC))
    '2026-07-04 22:15 UTC'
    """
    return f"{moment.astimezone(UTC):%Y-%m-%d %H:%M} UTC"
