"""One line for each change between two looks at a lot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from tempwitness.report.localtime import LocalTime
from tempwitness.report.text_status import left_words
from tempwitness.report.wording import plain, stage_words

if TYPE_CHECKING:
    from tempwitness.model.status import Status

__all__ = ["change_text"]


class Changed(Protocol):
    """What is told of a change; the fields of `tempwitness.outlook.Change`."""

    @property
    def kind(self) -> str: ...
    @property
    def piece(self) -> str: ...
    @property
    def what(self) -> str: ...
    @property
    def now(self) -> str: ...
    @property
    def by(self) -> str | None: ...
    @property
    def left_s(self) -> float | None: ...
    @property
    def do(self) -> str: ...


def change_text(change: Changed, status: Status) -> str:
    """Write a change on one line, with the moment of the look before it."""
    clock = LocalTime(status.zone)
    who = f"{plain(change.piece)}: " if change.piece else ""
    by = clock.short(change.by) if change.by else ""
    left = "" if change.left_s is None else f" ({left_words(change.left_s)} left)"
    title, do = plain(change.what), f" {plain(change.do)}" if change.do else ""
    words = {
        "reading": f"{plain(change.now)} {title} at {by}",
        "stage": f"{stage_words(title)} {change.now} at {by}",
        "answer": f"[{change.now.replace('_', ' ').upper()}] {title}.{do}",
        "deadline": f"BY {by}{left}: {title}.{do}",
        "warning": f"ONLY {left_words(change.left_s or 0.0)} LEFT, by {by}: {title}.{do}",
        "kept": f"no longer due: {title}",
        "ran_out": f"RAN OUT at {by}: {title}",
    }
    return f"{clock.short(status.asked_at)} {who}{words[change.kind]}"
