"""What the clock on the wall did during a record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.figures import duration_words

if TYPE_CHECKING:
    from tempwitness.evaluate.subject import Subject

__all__ = ["clocks_changed"]


def clocks_changed(subject: Subject) -> tuple[str, ...]:
    """Say that the clocks were put back or forward during the record, if they were."""
    stages = subject.log.stages
    if not stages:
        return ()
    first = subject.local.when(min(s.start for s in stages)).utcoffset()
    last = subject.local.when(max(s.end for s in stages)).utcoffset()
    if first is None or last is None or first == last:
        return ()
    change = (last - first).total_seconds()
    way = "forward" if change > 0 else "back"
    return (
        f"The clocks in {subject.log.raw.lot.zone} were put {way} by "
        f"{duration_words(abs(change))} during this record. Every duration counts the time that "
        "passed, not the difference of two clock times.",
    )
