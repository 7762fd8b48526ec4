"""What stood on record and what was made of it, as an evaluation tells it."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "ChangeMade",
    "CorrectionMade",
    "DoubtfulReading",
    "NoteMade",
    "ProbeSummary",
    "SourceFile",
]


@dataclass(frozen=True, slots=True)
class NoteMade:
    """What a person wrote down: moment (ISO 8601), piece (empty for all), step or event, words."""

    at: str
    piece: str
    step: str
    event: str
    method: str
    text: str
    source: str
    line: int


@dataclass(frozen=True, slots=True)
class DoubtfulReading:
    """Readings that were kept but must not decide by themselves."""

    source: str
    lines: str
    at: str
    reading: str
    flag: str
    code: str
    reason: str


@dataclass(frozen=True, slots=True)
class CorrectionMade:
    """A correction of a probe's readings."""

    probe: str
    start: str | None
    end: str | None
    added: str
    reason: str


@dataclass(frozen=True, slots=True)
class ProbeSummary:
    """A probe, what is stated of it or assumed, and its checks."""

    id: str
    kind: str
    accuracy: str
    checks: tuple[str, ...]
    resolution: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file that was read, with its hash and how it was understood."""

    name: str
    sha256: str
    rows: int
    understood: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChangeMade:
    """Something in a file that was not taken as it stands, or left out, and why.

    Parameters
    ----------
    lines : str
        Line, or first and last line; ``""`` for the file as a whole.
    used : str
        What was taken in its place; ``""`` for nothing.
    """

    source: str
    lines: str
    column: str
    written: str
    used: str
    reason: str
