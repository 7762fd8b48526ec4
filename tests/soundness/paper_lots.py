"""Random lots whose requirements notes and papers settle: what was so, and what their records say.

A record may leave a note or a paper out and says nothing untrue. What is so is judged here by the
words of the code and a calendar, by nothing of the program: FDA Food Code 2022 3-401.14(A), first
heating of at most 60 min; 3-501.13, ways to thaw; 3-501.17 and 3-501.18, a date mark on what is
kept for more than 24 h and use within 7 days, the day of preparation being day 1 and days in the
freezer not counted; 3-502.11(B), a variance for curing; 4-203.11, thermometers within 2 °F, or 1 °C
where they show it; and an invented county's rule that all is gone by the end of the day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from tempwitness.model.logs import Note, StagedLog
from tempwitness.model.lot import Approval, Probe, ProbeCheck
from tempwitness.model.vocabulary import Cut, Species
from tempwitness.units import Unit
from tests.soundness.referee import Span
from tests.support import ZERO, channel, lamb, note, staged

_ZONES = ("UTC", "America/Chicago", "Asia/Kolkata", "Pacific/Auckland")
_ALLOWED = ("refrigerator", "running_water")
_METHODS = (*_ALLOWED, "counter", "warm_water")
_LONG = 1e6


@dataclass(frozen=True, slots=True)
class PaperLot:
    """A lot of cooked turkey.

    Parameters
    ----------
    spans : tuple of Span
        What was done with it [h since 0:00 of the tests].
    marked : float
        When the container was marked [h]; infinite if it never was.
    gone : float
        When the last of it was served or discarded [h].
    method : str
        How it was thawed.
    approval : Approval, optional
        The last variance for curing that was granted.
    probe : Probe
    told : dict of str to bool
        Whether the record says ``marked``, ``gone``, ``method`` and ``approval``.
    """

    spans: tuple[Span, ...]
    zone: str
    marked: float
    gone: float
    method: str
    approval: Approval | None
    probe: Probe
    told: dict[str, bool]

    def log(self) -> StagedLog:
        """The staged log."""
        notes: list[Note] = []
        for span in self.spans:
            thawed = span.name == "thaw" and self.told["method"]
            notes.append(note(span.start, span.name, method=self.method if thawed else ""))
        if self.told["marked"] and self.marked < self.gone:
            notes.append(note(self.marked, event="date_marked"))
        if self.told["gone"]:
            notes.append(note(self.gone, event="discarded"))
        cold = [(s.start, 40.0) for s in self.spans if s.name in ("cold_hold", "freeze")][:1]
        approvals = [self.approval] if self.approval is not None and self.told["approval"] else []
        return staged(
            [channel([(0.0, 60.0), *cold], probe="A")],
            notes,
            food=lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD),
            facts={"cured": "by_operator"},
            approvals=approvals,
            probes=[self.probe],
            business="temporary_event",
            zone=self.zone,
        )

    def day(self, hours: float) -> date:
        """Local day of a moment."""
        return datetime.fromtimestamp(ZERO + hours * 3600.0, ZoneInfo(self.zone)).date()


def paper_lot(seed: int) -> PaperLot:
    """Return a random lot."""
    rng = np.random.default_rng(seed)
    zone = str(rng.choice(_ZONES))
    spans = _spans(rng)
    cooked, end = _cooked(spans), spans[-1].end
    told = {what: bool(rng.random() < 0.75) for what in ("marked", "gone", "method", "approval")}
    gone = end if told["gone"] else end + float(rng.uniform(0, 60))
    marked = (_LONG, cooked - 0.2, cooked + 1, cooked + 20, cooked + 90)[int(rng.integers(5))]
    lot = PaperLot(spans, zone, marked, gone, str(rng.choice(_METHODS)), None, _probe(rng), told)
    if rng.random() < 0.3:
        return lot
    first, last = ((-300, 100), (-300, None), (-300, -2), (3, 100), (0, 0))[int(rng.integers(5))]
    today = lot.day(0.0)
    approval = Approval(
        "variance_curing",
        "County",
        "7",
        today + timedelta(days=first),
        None if last is None else today + timedelta(days=last),
    )
    return PaperLot(spans, zone, marked, gone, lot.method, approval, lot.probe, told)


def _spans(rng: np.random.Generator) -> tuple[Span, ...]:
    """A cook in one part or two, then some hours or days in the cold or in the freezer."""
    made, now = [], 0.0

    def add(name: str, hours: float) -> None:
        nonlocal now
        made.append(Span(name, now, now + round(hours, 2)))
        now += round(hours, 2)

    if rng.random() < 0.4:
        add("cook", float(rng.choice([0.5, 1.0, 1.02, 2.0])))
        add("cold_hold", float(rng.uniform(1, 5)))
    add("cook", float(rng.uniform(2, 8)))
    kept = float(rng.choice([4, 30, 100, 160, 200])) * float(rng.uniform(0.8, 1.2))
    if rng.random() < 0.5:
        add("cold_hold", kept)
        return tuple(made)
    add("cold_hold", kept / 3)
    add("freeze", float(rng.uniform(5, 120)))
    add("thaw", float(rng.uniform(2, 30)))
    if rng.random() < 0.7:
        add("cold_hold", kept / 2)
    return tuple(made)


def _probe(rng: np.random.Generator) -> Probe:
    scale = ("F", "C", "both")[int(rng.integers(3))]
    unit = Unit.C if scale == "C" else Unit.F
    ice = 0.0 if unit is Unit.C else 32.0
    tight = 1.0 if unit is Unit.C else 2.0
    checks = tuple(
        ProbeCheck(ZERO + h * 3600.0, "ice", ice + off, ice, unit, f"ice water: off by {off:g}")
        for h, off in ((-1, tight * float(rng.choice([0.0, 0.5, 0.9, 1.1]))), (3, -0.4 * tight))
    )
    return Probe("A", scale="F" if scale == "F" else "C" if scale == "C" else "both", checks=checks)


def _cooked(spans: tuple[Span, ...]) -> float:
    return next(s.end for s in reversed(spans) if s.name == "cook")


def kept(name: str, lot: PaperLot) -> bool:
    """Whether a requirement was kept.

    Raises
    ------
    KeyError
        If it is none of those that papers settle.
    """
    return {
        "nc-first-heating": lambda: lot.spans[0].end - lot.spans[0].start <= 1.0 + 1e-9,
        "thaw-method": lambda: lot.method in _ALLOWED,
        "variance-curing": lambda: _approved(lot),
        "thermometer-food": lambda: _true_enough(lot.probe),
        "date-mark": lambda: _in_days(lot) and _marked_in_time(lot),
        "county-day-end": lambda: lot.day(lot.gone) == lot.day(0.0),
    }[name]()


def _approved(lot: PaperLot) -> bool:
    found, today = lot.approval, lot.day(0.0)
    if found is None or found.granted > today:
        return False
    return found.expires is None or found.expires >= today


def _true_enough(probe: Probe) -> bool:
    for check in probe.checks:
        off = abs(check.read - check.expected)
        celsius = off if check.unit is Unit.C else off / 1.8
        if (celsius if probe.scale != "F" else off) > (1.0 if probe.scale != "F" else 2.0) + 1e-9:
            return False
    return True


def _in_days(lot: PaperLot) -> bool:
    """Count the days on the calendar: those wholly in the freezer are not counted."""
    left, day = 7, lot.day(_cooked(lot.spans))
    last = lot.day(lot.gone)
    while day <= last:
        start = datetime.combine(day, datetime.min.time(), ZoneInfo(lot.zone)).timestamp()
        hours = (start - ZERO) / 3600.0
        frozen = any(
            s.name == "freeze" and s.start <= hours and hours + 24.0 <= s.end for s in lot.spans
        )
        left -= 0 if frozen else 1
        day += timedelta(days=1)
    return left >= 0


def _marked_in_time(lot: PaperLot) -> bool:
    """Marked after it was prepared, before it was kept cold for more than 24 h."""
    cooked = _cooked(lot.spans)
    ends = [(s.start, min(s.end, lot.gone)) for s in lot.spans if s.name in ("cold_hold", "thaw")]
    cold = [(a, b) for a, b in ends if a >= cooked]
    if lot.spans[-1].name in ("cold_hold", "thaw"):
        cold[-1] = (cold[-1][0], lot.gone)
    whole = sum(b - a for a, b in cold)
    before = sum(min(b, lot.marked) - a for a, b in cold if a < lot.marked)
    return whole <= 24.0 or (cooked <= lot.marked < lot.gone and before <= 24.0 + 1e-9)
