"""One piece of advice on a rule file: how grave, where, what, and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from tempwitness.errors import Location

__all__ = ["Grade", "Message"]

#: An error keeps a file from being used, a warning doubts it, a hint asks for more.
Grade = Literal["error", "warning", "hint"]


@dataclass(frozen=True, slots=True)
class Message:
    """One thing to say about a file: how grave, where, what, and how to mend it."""

    grade: Grade
    where: Location | None
    text: str
    mend: str = ""

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        mend = f"\n  to mend it: {self.mend}" if self.mend else ""
        return f"{self.grade}: {place}{self.text}{mend}"
