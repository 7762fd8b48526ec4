"""Limits that must be kept all through a stage, and bands that must be avoided."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from tempwitness.bounds.clip import Clip, Window, clip
from tempwitness.criteria.case import Case, distance, figure, reading_words
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.figures import Limit
    from tempwitness.model.forms import OutsideBand, Throughout
    from tempwitness.model.logs import Bools, Ints

__all__ = ["outside_band", "throughout", "unread_stretches"]

_DECIDES_NOTHING = "decides nothing, being doubtful or on both sides of the limit"
_BEYOND = {">=": "below", ">": "at or below", "<=": "above", "<": "at or above"}


def throughout(test: Throughout, case: Case, trace: Trace) -> Outcome:
    """Judge whether a limit was kept from the stage's start to its end.

    One reading beyond the limit is a break at that moment, however long it lasted. The limit is
    kept only if it certainly held at every point and in every stretch between.
    """
    window = case.window()
    if test.but_last is not None:
        end = case.stage.end - test.but_last
        if end <= case.stage.start:
            return not_applicable(f"the stage took no more than {duration_words(test.but_last)}")
        window = replace(window, end=end, own_end=False)
    if test.once_reached:
        first = _first_kept(trace, test.limit, window)
        if first is None:
            return _never_reached(test.limit, trace, window)
        window = replace(window, start=first)
    warm = test.limit.op in (">=", ">")
    body = clip(trace, trace.state(test.limit), window, infer="yes" if warm else None)
    at = figure(test.limit, trace)
    words = _Words(
        test.limit.words,
        f"{at} {'or more' if warm else 'or less'}",
        f"{_BEYOND[test.limit.op]} {at}",
    )
    extreme: Literal["lowest", "highest"] = "lowest" if warm else "highest"
    return _judge(body, _Asked(case, trace, window, words, extreme, test.limit))


def _first_kept(trace: Trace, limit: Limit, window: Window) -> float | None:
    """Moment of the first reading in a window that keeps a limit."""
    inside = (trace.at >= window.start) & (trace.at <= window.end)
    kept = np.flatnonzero(trace.state(limit).yes & inside)
    return float(trace.at[kept[0]]) if len(kept) else None


def _never_reached(limit: Limit, trace: Trace, window: Window) -> Outcome:
    wanted = figure(limit, trace)
    return Outcome(
        Verdict.NOT_SHOWN,
        f"no reading shows {wanted}; the food may still have been on its way there",
        limit=limit.words,
        settle=Settling(f"a reading of {wanted}", window.end),
    )


def outside_band(test: OutsideBand, case: Case, trace: Trace) -> Outcome:
    """Judge whether the food was always cold enough or hot enough, never between."""
    window = case.window()
    cold = clip(trace, trace.state(test.cold), window)
    hot = clip(trace, trace.state(test.hot), window, infer="yes")
    body = Clip(
        cold.at,
        cold.yes | hot.yes,
        cold.no & hot.no,
        cold.between_yes | hot.between_yes,
        cold.between_no & hot.between_no,
        hot.inferred,
        cold.linked,
        cold.reading,
    )
    words = _Words(
        f"{test.cold.words} or {test.hot.words}",
        f"{figure(test.cold, trace)} or less, or {figure(test.hot, trace)} or more",
        f"between {figure(test.cold, trace)} and {figure(test.hot, trace)}",
    )
    return _judge(body, _Asked(case, trace, window, words, "middle"))


@dataclass(frozen=True, slots=True)
class _Words:
    """How a limit is printed, and the readings that would show it kept or broken."""

    limit: str
    wanted: str
    beyond: str


@dataclass(frozen=True, slots=True, eq=False)
class _Asked:
    """The question put to one trace."""

    case: Case
    trace: Trace
    window: Window
    words: _Words
    extreme: Literal["lowest", "highest", "middle"]
    limit: Limit | None = None


def _judge(body: Clip, asked: _Asked) -> Outcome:
    broken = body.no & (body.reading >= 0)
    if not asked.window.own_end:
        broken[-1] = False  # that reading begins the next stage
    if broken.any() or body.between_no.any():
        return _broken(body, broken, asked)
    if body.always:
        return _kept(body, asked)
    last = _only_since(body, asked)
    if last is not None:
        return _kept(_up_to(body, last), asked)
    return _unsettled(body, asked)


def _broken(body: Clip, broken: Bools, asked: _Asked) -> Outcome:
    case, trace = asked.case, asked.trace
    where = np.flatnonzero(broken)
    first = int(where[0]) if len(where) else int(np.flatnonzero(body.no)[0])
    index = int(body.reading[first])
    held_before = np.flatnonzero(body.yes[:first])
    began = float(body.at[held_before[-1]]) if len(held_before) else float(body.at[0])
    certain = float(body.lengths[body.between_no].sum())
    possible = float(body.lengths[~body.between_yes].sum())
    at = case.local.say(float(body.at[first]))
    found = reading_words(trace, index) if index >= 0 else "a value between two readings beyond it"
    return Outcome(
        Verdict.NOT_MET,
        f"{found} was read at {at}; the limit is {asked.words.limit}",
        measured=f"{found} at {at}",
        limit=asked.words.limit,
        least=certain,
        most=possible,
        began=began,
        cites=_cites(trace, body, where if len(where) else np.array([first])),
        unread=unread_stretches(body),
        margin=distance(trace, index, asked.limit),
        floor=asked.extreme != "highest",
    )


def _kept(body: Clip, asked: _Asked) -> Outcome:
    case, trace = asked.case, asked.trace
    # The reading with which the next stage begins counts here: it shows the last stretch.
    index = _extreme(body, asked, to_the_end=True)
    measured = _extreme_words(body, asked, index)
    inference = ""
    if body.inferred.any():
        inference = (
            "between readings further apart than "
            f"{duration_words(asked.window.interval)} nothing heated the food, so it was not "
            "cooler than the later reading; this holds for the point that was read"
        )
    outcome = Outcome(
        Verdict.MET,
        f"every reading from {case.local.say(float(body.at[0]))} to "
        f"{case.local.say(float(body.at[-1]))} keeps {asked.words.limit}",
        measured=measured,
        limit=asked.words.limit,
        cites=() if index is None else (Cite(trace, index),),
        inference=inference,
        margin=distance(trace, index, asked.limit),
        floor=asked.extreme != "highest",
    )
    if case.live:
        return _running(outcome, float(body.at[-1]), asked)
    if case.stage.closed:
        return outcome
    if case.explicit:
        return _stops(outcome, body, asked)
    return outcome.but(
        reason=f"{outcome.reason}; the record ends there, and nothing is said of what came after"
    )


def _running(outcome: Outcome, last: float, asked: _Asked) -> Outcome:
    """Answer for a stage that still runs and was kept up to its last reading [s]."""
    due = last + asked.window.interval
    return outcome.but(
        verdict=Verdict.OPEN,
        reason=f"{outcome.reason}; the stage is still running and the next reading is due by "
        f"{asked.case.local.say(due)}",
        deadline=due,
        clock=Clock.READING,
    )


def _only_since(body: Clip, asked: _Asked) -> int | None:
    """Point of the last reading, if all but the time since then was kept and the stage runs on.

    A note, or a reading of another point, may come after it; the next reading brackets that time
    if it comes soon enough and nobody disturbed the food.
    """
    case = asked.case
    points = np.flatnonzero(body.reading >= 0)
    if not (len(points) and case.live and asked.window.own_end):
        return None
    last = int(points[-1])
    at = float(body.at[last])
    kept = bool(body.yes[: last + 1].all() and body.between_yes[:last].all())
    if not kept or case.asked - at > asked.window.interval:
        return None
    return None if case.disturbed(at, case.stage.end) else last


def _up_to(body: Clip, last: int) -> Clip:
    """Return the part of a clip that ends with one of its points."""
    points, between = slice(last + 1), slice(last)
    return Clip(
        body.at[points],
        body.yes[points],
        body.no[points],
        body.between_yes[between],
        body.between_no[between],
        body.inferred[between],
        body.linked[between],
        body.reading[points],
    )


def _stops(outcome: Outcome, body: Clip, asked: _Asked) -> Outcome:
    """Say that the moment asked about lies beyond the next reading that was due."""
    end = float(body.at[-1])
    due = end + asked.window.interval
    say = asked.case.local.say
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"{outcome.reason}; there the record stops without saying how it ended, and the "
        f"next reading was due by {say(due)}",
        began=end,
        unread=((end, due, "the record stops"),),
        settle=Settling(
            f"a reading of {asked.words.wanted}, or a note that the food was finished", due
        ),
        against=Settling(f"a reading {asked.words.beyond}", due),
    )


def _unsettled(body: Clip, asked: _Asked) -> Outcome:
    case, trace = asked.case, asked.trace
    open_ = np.flatnonzero(~(body.between_yes | body.between_no))
    if len(open_) == 0:
        doubtful = np.flatnonzero(~body.yes)
        first = float(body.at[doubtful[0]])
        reason = f"the reading at {case.local.say(first)} {_DECIDES_NOTHING}"
        return _not_shown(
            body, asked, reason, Settling(f"a reading of {asked.words.wanted}", first)
        )
    k = int(open_[0])
    start, end = float(body.at[k]), float(body.at[k + 1])
    reason = (
        f"between {case.local.say(start)} and {case.local.say(end)} "
        f"{_why_open(body, k)}; the readings leave room for both"
    )
    index = _extreme(body, asked)
    settle = _settling(body, k, asked, len(open_))
    return _not_shown(body, asked, reason, settle).but(
        against=Settling(f"a reading {asked.words.beyond}", start + (end - start) / 2),
        measured=_nothing(body) if index is None else _extreme_words(body, asked, index),
        cites=_cites(trace, body, np.array([k, k + 1])),
    )


def _nothing(body: Clip) -> str:
    return "no reading that decides" if (body.reading >= 0).any() else "nothing was read"


def _not_shown(body: Clip, asked: _Asked, reason: str, settle: Settling | None) -> Outcome:
    possible = float(body.lengths[~body.between_yes].sum())
    held = np.flatnonzero(body.between_yes)
    began = float(body.at[0]) if not len(held) or held[0] > 0 else None
    if began is None:
        began = float(body.at[np.flatnonzero(~body.between_yes)[0]]) if possible else None
    return Outcome(
        Verdict.NOT_SHOWN,
        reason,
        limit=asked.words.limit,
        least=0.0,
        most=possible,
        began=began,
        unread=unread_stretches(body),
        settle=settle,
    )


def _many(count: int) -> str:
    return "" if count == 1 else f", and so for each of {count} such stretches"


def _settling(body: Clip, k: int, asked: _Asked, count: int) -> Settling | None:
    """Name the reading that closes the first open stretch, or how many it takes.

    Nothing settles a stretch in which the food was disturbed.
    """
    start, end = float(body.at[k]), float(body.at[k + 1])
    before = int(asked.trace.at.searchsorted(start, "right")) - 1
    if 0 <= before < len(asked.trace) - 1 and not asked.trace.undisturbed[before]:
        return None
    from_start, to_end = not body.yes[k], not body.yes[k + 1]
    needed = _links(start, end, asked) - 1 + int(from_start) + int(to_end)
    if needed > 1:
        interval = duration_words(asked.window.interval)
        what = f"{needed} readings of {asked.words.wanted}, no more than {interval} apart"
        first = start if from_start else start + (end - start) / (needed + 1 - int(to_end))
        return Settling(f"{what}{_many(count)}", first)
    what = f"a reading of {asked.words.wanted}"
    return Settling(f"{what}{_many(count)}", _settling_moment(body, k, asked))


def _links(start: float, end: float, asked: _Asked) -> int:
    """How many brackets it takes to reach across a stretch; one where nothing heats the food."""
    if asked.extreme == "lowest" and asked.window.passive_from <= start:
        return 1
    return max(1, math.ceil((end - start) / asked.window.interval))


def _settling_moment(body: Clip, k: int, asked: _Asked) -> float:
    """Moment at which one reading closes a stretch: its edge if unread there, else its middle."""
    start, end = float(body.at[k]), float(body.at[k + 1])
    if body.reading[k] < 0 and not body.yes[k]:
        return start
    if body.reading[k + 1] < 0 or (not asked.window.own_end and k + 2 == len(body.at)):
        return end
    return start + (end - start) / 2 if body.yes[k] and body.yes[k + 1] else end


def _why_open(body: Clip, k: int) -> str:
    if body.reading[k] < 0 and not body.yes[k] and not body.no[k]:
        return "nothing was read at the start"
    if body.reading[k + 1] < 0:
        return "nothing was read up to the end"
    if not body.linked[k] and body.yes[k] and body.yes[k + 1]:
        took = duration_words(float(body.at[k + 1] - body.at[k]))
        return f"nothing was read for {took}, or the food was disturbed"
    if not (body.yes | body.no)[k : k + 2].all():
        return f"a reading {_DECIDES_NOTHING}"
    return "the limit was crossed at a moment that was not read"


def unread_stretches(body: Clip) -> tuple[tuple[float, float, str], ...]:
    """Return the stretches about which the readings say nothing, at most twelve.

    A stretch between two readings that bracket it is not among them, even where the limit was
    crossed at some moment of it.
    """
    silent = ~(body.between_yes | body.between_no | body.linked)
    stretches = np.flatnonzero(silent)[:12].tolist()
    return tuple((float(body.at[k]), float(body.at[k + 1]), _why_open(body, k)) for k in stretches)


def _extreme(body: Clip, asked: _Asked, *, to_the_end: bool = False) -> int | None:
    """Index of the reading closest to the limit, on the corrected value."""
    indices = body.reading[body.reading >= 0]
    if not to_the_end and not asked.window.own_end and len(indices) > 1 and body.reading[-1] >= 0:
        indices = indices[:-1]
    if len(indices) == 0:
        return None
    highest = asked.extreme == "highest"
    values = (asked.trace.upper if highest else asked.trace.lower)[indices]
    celsius = asked.trace.celsius[indices]
    if celsius.any():
        values = np.where(celsius, values * 1.8 + 32.0, values)
    values = np.where(np.isfinite(values), values, -np.inf if highest else np.inf)
    pick = int(values.argmax() if highest else values.argmin())
    return int(indices[pick]) if np.isfinite(values[pick]) else None


def _extreme_words(body: Clip, asked: _Asked, index: int | None) -> str:
    if index is None:
        return "bracketed by readings outside the stage"
    at = asked.case.local.say(float(asked.trace.at[index]))
    name = "lowest" if asked.extreme == "middle" else asked.extreme
    return f"{name} {reading_words(asked.trace, index)} at {at}"


def _cites(trace: Trace, body: Clip, points: Ints) -> tuple[Cite, ...]:
    indices = [int(body.reading[p]) for p in points[:8]]
    return tuple(Cite(trace, i) for i in indices if i >= 0)
