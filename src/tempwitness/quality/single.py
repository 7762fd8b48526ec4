"""Tests that look at one reading, or at two of the same moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.logs import Bools, Ints
    from tempwitness.quality.noted import NotedStage
    from tempwitness.quality.settings import Figures, Span
    from tempwitness.quality.trace import Trace

__all__ = ["bounded", "missing", "out_of_range", "rough", "same_moment"]

_WHY_CORE = "food that still holds water does not pass its boiling point"


def missing(trace: Trace, figures: Figures) -> None:
    """Flag cells without a number: empty ones, and words.

    A word such as "HI" says that something was read and perhaps that it was too much. That must
    stay unknown, and not be bridged by the readings around it.
    """
    rows = np.flatnonzero(np.isnan(trace.degrees))
    if not len(rows):
        return
    text = trace.channel.text
    words = [("" if text is None else text[row]).strip() for row in rows.tolist()]
    blank = np.array([not any(sign.isalnum() for sign in word) for word in words], np.bool_)
    speaks = np.array([word.lower() in figures.speaks for word in words], np.bool_)
    trace.mark(rows[blank], Flag.MISSING, "missing", "no temperature was written down")
    for found, flag, what in (
        (~blank & ~speaks, Flag.MISSING, "is no temperature"),
        (~blank & speaks, Flag.SUSPECT, "speaks of a temperature without telling it"),
    ):
        for word in dict.fromkeys(words[i] for i in np.flatnonzero(found).tolist()):
            those = found & np.array([other == word for other in words], np.bool_)
            trace.mark(rows[those], flag, "syntax", f"'{word}' {what}")


def rough(trace: Trace) -> None:
    """Flag figures that the writer marked as approximate."""
    if trace.channel.rough is not None:
        trace.mark_where(
            trace.channel.rough,
            Flag.SUSPECT,
            "rough",
            "the figure was marked as approximate by its writer",
        )


def bounded(trace: Trace) -> None:
    """Set apart readings written as bounds ("<41"): tests that need one figure pass them over."""
    low, high = trace.channel.low, trace.channel.high
    if low is None or high is None:
        return
    trace.mark_where(
        np.isneginf(low) & np.isposinf(high),
        Flag.SUSPECT,
        "time",
        "the clock of the instrument had lost its time: when this was read is not known",
    )
    trace.flags[(trace.flags == Flag.PASS) & (low != high)] = Flag.NOT_EVALUATED


def out_of_range(trace: Trace, stages: Sequence[NotedStage], figures: Figures) -> None:
    """Flag figures that the place of the probe cannot have, in the stage that was noted."""
    degrees = trace.degrees
    with_number = trace.flags <= Flag.NOT_EVALUATED
    for inside, (low, high), when in _spans(trace, stages, figures):
        wrong = with_number & inside & ((degrees < low) | (degrees > high))
        rows = np.flatnonzero(wrong)
        if not len(rows):
            continue
        above = bool(degrees[rows[0]] > high)
        core = above and trace.channel.place is Place.CORE
        why = _WHY_CORE if core else f"{trace.channel.place.value} readings{when} lie between them"
        span = f"lies outside {low:g} to {high:g} °F: {why}"
        least, most = figures.range.fail
        nothing = (degrees[rows] < least) | (degrees[rows] > most)
        nothing &= trace.by_instrument(rows, figures.written_apart)
        for found, flag in ((rows[nothing], Flag.FAIL), (rows[~nothing], Flag.SUSPECT)):
            if len(found):
                trace.mark(found, flag, "range", f"{trace.words(int(found[0]))} {span}")


def _spans(
    trace: Trace, stages: Sequence[NotedStage], figures: Figures
) -> Iterator[tuple[Bools, Span, str]]:
    """Yield which rows must lie within which span: the stage's own, else that of the place."""
    place = trace.channel.place
    left = np.ones(len(trace.channel), np.bool_)
    for stage in stages:
        span = figures.range.stage.get(stage.name, {}).get(place)
        if span is not None:
            inside = (trace.channel.at >= stage.start) & (trace.channel.at < stage.end)
            left &= ~inside
            yield inside, span, f" in {stage.name.words}"
    yield left, figures.range.suspect[place], ""


def same_moment(trace: Trace, figures: Figures) -> None:
    """Flag figures of one probe at one moment that contradict each other."""
    at = trace.channel.at
    repeated = np.flatnonzero(at[1:] == at[:-1])
    if not len(repeated):
        return
    starts = repeated[np.flatnonzero(np.diff(repeated, prepend=-2) > 1)]
    for start in starts.tolist():
        stop = int(np.searchsorted(at, at[start], side="right"))
        _contradictions(trace, np.arange(start, stop), figures)


def _contradictions(trace: Trace, rows: Ints, figures: Figures) -> None:
    by_probe: dict[tuple[str, int], list[int]] = {}
    for row in rows.tolist():
        if trace.flags[row] == Flag.PASS:
            file = 0 if trace.origin is None else int(trace.origin[row])
            by_probe.setdefault((trace.channel.probe_of(row), file), []).append(row)
    for same in by_probe.values():
        values = trace.degrees[same]
        if float(values.max() - values.min()) > figures.differ:
            low, high = same[int(values.argmin())], same[int(values.argmax())]
            trace.mark(
                np.array(same),
                Flag.SUSPECT,
                "duplicate",
                f"{trace.words(low)} and {trace.words(high)} stand at the same moment",
            )
