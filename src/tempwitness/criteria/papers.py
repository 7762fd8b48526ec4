"""Requirements that notes, papers and days settle rather than temperatures."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from tempwitness.criteria.outcome import Outcome, Settling, not_applicable
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, Event, StageName, Verdict
from tempwitness.units import Unit, convert_difference

if TYPE_CHECKING:
    from tempwitness.criteria.case import Case
    from tempwitness.model.forms import DayEnd, Instrument, Method, ShelfLife
    from tempwitness.model.lot import Probe, ProbeCheck

__all__ = ["day_end", "instrument", "last_day", "method", "shelf_life"]

#: Stages whose time counts towards the date mark: frozen time does not, thawing again does.
_KEPT_COLD = frozenset({StageName.COLD_HOLD, StageName.THAW})

#: Food that is being cooled in the refrigerator is held there as well: its mark falls due.
_MAY_BE_COLD = frozenset({*_KEPT_COLD, StageName.COOL})


def method(test: Method, case: Case) -> Outcome:
    """Judge whether the noted method is one that the code allows."""
    used = case.stage.method
    limit = "one of: " + ", ".join(m.replace("_", " ") for m in test.allowed)
    if not used:
        return Outcome(
            Verdict.NOT_SHOWN,
            "no note says by which method",
            limit=limit,
            settle=Settling("a note of the method, made with the step"),
        )
    words = used.replace("_", " ")
    if used in test.allowed:
        return Outcome(Verdict.MET, f"noted: {words}", words, limit)
    return Outcome(
        Verdict.NOT_MET, f"noted: {words}, which is not on the code's list", words, limit
    )


def instrument(test: Instrument, probe: Probe) -> Outcome:
    """Judge a probe's checks against the printed tolerance, in the scale that the probe shows."""
    if probe.reads != test.reads:
        return not_applicable(f"the probe reads {probe.reads}")
    unit = Unit.F if probe.scale == "F" else Unit.C
    tolerance = _tolerance(test, unit)
    limit = f"within {_tolerance_words(test)}"
    if not probe.checks:
        return not_applicable(
            "no check of this probe is on record; its readings are taken as they were written"
        )
    errors = [_errors(check, unit) for check in probe.checks]
    verdicts = [_within(error, tolerance) for error in errors]
    verdict = next((v for v in _WORST_CHECK if v in verdicts), Verdict.MET)
    worst = max(
        (i for i, v in enumerate(verdicts) if v is verdict),
        key=lambda i: max(abs(side) for side in errors[i]),
    )
    off = f"{errors[worst][0]:+.1f}"
    if errors[worst][0] != errors[worst][1]:
        off = f"{off} to {errors[worst][1]:+.1f}"
    measured = f"{probe.checks[worst].text}: off by {off} {unit.symbol}"
    outcome = Outcome(verdict, f"{_CHECK_WORDS[verdict]} {limit[7:]}", measured, limit)
    if verdict is Verdict.NOT_SHOWN:
        return outcome.but(settle=Settling("a check in ice and water, or against a reference"))
    return outcome


def _tolerance(test: Instrument, unit: Unit) -> float:
    """Return the tolerance in a scale: as printed there, else converted from the other one."""
    own, other = (test.f, test.c) if unit is Unit.F else (test.c, test.f)
    if own is not None:
        return float(own)
    back = Unit.C if unit is Unit.F else Unit.F
    return round(convert_difference(float(other or 0), back, unit), 6)


def _tolerance_words(test: Instrument) -> str:
    if test.f is None or test.c is None:
        return f"±{test.c} °C" if test.f is None else f"±{test.f} °F"
    return f"±{test.f} °F, or ±{test.c} °C if it shows °C"


_WORST_CHECK = (Verdict.NOT_MET, Verdict.NOT_SHOWN)
_CHECK_WORDS = {
    Verdict.MET: "every check on record lies within",
    Verdict.NOT_MET: "a check lies beyond",
    Verdict.NOT_SHOWN: "what was due is not known closely enough to say that a check lies within",
}


def _errors(check: ProbeCheck, unit: Unit) -> tuple[float, float]:
    """Least and greatest error that a check shows, as far as is known what was due."""
    due = (
        check.expected if check.most is None else check.most,
        check.expected if check.least is None else check.least,
    )
    low, high = (convert_difference(check.read - side, check.unit, unit) for side in due)
    return round(low, 6), round(high, 6)


def _within(error: tuple[float, float], tolerance: float) -> Verdict:
    if max(abs(side) for side in error) <= tolerance:
        return Verdict.MET
    beyond = error[0] > tolerance or error[1] < -tolerance
    return Verdict.NOT_MET if beyond else Verdict.NOT_SHOWN


def last_day(case: Case, days: int, *, as_noted: bool = False) -> tuple[date, date]:
    """Return the day of preparation and the last day on which the food may be used.

    The day of preparation is day 1. A day counts if the food was not frozen at some time of it.
    With `as_noted` food that was put to freeze before it was read cold counts as frozen as well.
    """
    day = first = case.local.when(_prepared(case)).date()
    frozen = _frozen(case, as_noted=as_noted)
    left = days - 1
    while left > 0:
        day += timedelta(days=1)
        start, end = _midnights(case, day)
        if not any(a <= start and end <= b for a, b in frozen):
            left -= 1
    return first, day


def _prepared(case: Case) -> float:
    """Moment at which the food was prepared: cooked, or taken into the record [s]."""
    cooked = [s for s in case.stages if s.name is StageName.COOK and s.number < case.stage.number]
    return cooked[-1].end if cooked else case.stages[0].start


def _frozen(case: Case, *, as_noted: bool) -> list[tuple[float, float]]:
    spans = [(s.start, s.end) for s in case.stages if s.name is StageName.FREEZE]
    if as_noted:
        spans += [
            (n.at, s.end)
            for s in case.stages
            for n in case.notes
            if s.name is StageName.COOL and n.step is StageName.FREEZE
            if n.piece in (None, s.piece) and s.start <= n.at < s.end
        ]
    return spans


def _midnights(case: Case, day: date) -> tuple[float, float]:
    zone = case.local.when(0.0).tzinfo
    start = datetime.combine(day, datetime.min.time(), zone).timestamp()
    end = datetime.combine(day + timedelta(days=1), datetime.min.time(), zone).timestamp()
    return start, end


def shelf_life(test: ShelfLife, case: Case) -> Outcome:
    """Judge the days for which ready-to-eat food was kept cold, and its mark."""
    kept = sum(
        s.end - s.start
        for s in case.stages
        if s.name in _KEPT_COLD and s.number <= case.stage.number
    )
    first, last = last_day(case, test.days)
    limit = f"at most {test.days} days, the day of preparation being day 1"
    if test.after_preparation:
        limit = f"at most {test.days - 1} days after the day of preparation"
    end = case.local.when(case.stage.end).date()
    outcome = Outcome(
        Verdict.MET,
        f"prepared {first}, last day {last}; it was kept until {end}",
        measured=f"kept from {first} to {end}",
        limit=limit,
        least=kept,
        most=kept,
    )
    if end > last:
        return _too_long(outcome, case, test, last)
    if test.mark_after is None:
        return outcome if case.stage.closed else _kept_on(outcome, case, last)
    return _marked(outcome, case, test.mark_after, last)


def _too_long(outcome: Outcome, case: Case, test: ShelfLife, last: date) -> Outcome:
    """Answer for food kept beyond its last day, unless it may have been frozen meanwhile."""
    end = case.local.when(case.stage.end).date()
    if end <= last_day(case, test.days, as_noted=True)[1]:
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"it was put to freeze and kept until {end}; no reading shows that it was cold, "
            f"and without the time in the freezer the last day was {last}",
            settle=Settling("a reading of the food when it was frozen"),
        )
    return outcome.but(verdict=Verdict.NOT_MET)


def _marked(outcome: Outcome, case: Case, mark_after: float, last: date) -> Outcome:
    """Answer for food within its days, which must carry its date once it is kept so long."""
    kept = outcome.least or 0.0
    if kept + _cooling(case) <= mark_after:
        return not_applicable(
            f"kept cold for {duration_words(kept)}; the date mark is due after "
            f"{duration_words(mark_after)}. Use by {last}"
        )
    missing = _mark_missing(mark_after, case)
    if missing:
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"kept longer than {duration_words(mark_after)}, and {missing}; the last "
            f"day would be {last}",
            settle=Settling("a note that the container was date marked, made when it was"),
        )
    return outcome if case.stage.closed else _kept_on(outcome, case, last)


def _mark_missing(mark_after: float, case: Case) -> str:
    """Say what is missing of a mark made after preparation and before it was due."""
    marks = [n.at for n in case.notes if n.event is Event.DATE_MARKED]
    if not marks:
        return "no note of a date mark"
    origin = _prepared(case)
    due, left = float("inf"), mark_after
    for s in case.stages:
        if s.name not in _MAY_BE_COLD or s.number > case.stage.number or s.end <= origin:
            continue
        if s.end - s.start > left:
            due = s.start + left
            break
        left -= s.end - s.start
    if any(origin <= at <= due for at in marks):
        return ""
    if all(at < origin for at in marks):
        return "the date mark noted was made before the food was prepared"
    return f"the date mark noted came after {case.local.say(due)}, when it was due"


def _cooling(case: Case) -> float:
    """Time since preparation in which the food may have been cold already, unread [s]."""
    origin = _prepared(case)
    return sum(
        s.end - s.start
        for s in case.stages
        if s.name is StageName.COOL and s.number < case.stage.number and s.start >= origin
    )


def _kept_on(outcome: Outcome, case: Case, last: date) -> Outcome:
    """Answer for food whose end nobody noted."""
    deadline = _midnights(case, last)[1]
    if max(case.asked, case.stage.end) <= deadline:
        return outcome.but(
            verdict=Verdict.OPEN,
            reason=f"use or discard by the end of {last}",
            deadline=deadline,
            clock=Clock.SHELF_LIFE,
        )
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        most=None,
        reason=f"no note shows that it was gone by the end of {last}, its last day",
        settle=Settling("a note of when it was used up or discarded", deadline),
    )


def day_end(test: DayEnd, case: Case) -> Outcome:
    """Judge whether what was left was discarded by the end of the local day of service."""
    del test
    day = case.local.when(case.stage.start).date()
    midnight = datetime.combine(
        day + timedelta(days=1), datetime.min.time(), case.local.when(0.0).tzinfo
    ).timestamp()
    limit = f"gone by the end of {day}"
    gone = [n for n in case.notes if n.event is not None and n.event.ends]
    outcome = Outcome(
        Verdict.MET,
        "",
        limit=limit,
        began=case.stage.start,
        deadline=midnight,
        clock=Clock.DAY_END,
    )
    later = [s for s in case.stages if s.end > midnight]
    if later:
        return outcome.but(
            verdict=Verdict.NOT_MET,
            reason=f"the food was still kept ({later[0].name.words}) after the end of {day}",
            measured=f"kept until {case.local.say(later[-1].end)}",
        )
    if gone and gone[-1].at <= midnight:
        word = "discarded" if gone[-1].event is Event.DISCARDED else "finished"
        return outcome.but(
            reason=f"noted as {word} at {case.local.say(gone[-1].at)}",
            measured=f"{word} {case.local.say(gone[-1].at)}",
        )
    if max(case.asked, case.stage.end) <= midnight:
        return outcome.but(verdict=Verdict.OPEN, reason=f"discard what is left by the end of {day}")
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"no note shows that what was left was gone by the end of {day}",
        settle=Settling("a note of when the rest was served out or discarded", midnight),
    )
