"""Random lots under a written time control, what their records say, and what was true.

A record may leave things out (the date of the procedure, the mark, the end), but says nothing
untrue. What is true is judged here by the words of FDA Food Code 2022 3-501.19, by nothing of the
program: (A) a procedure written in advance; (B) 4 h from food at 41 °F or less or at 135 °F or
more; (C) 6 h from food at 41 °F or less that never exceeds 70 °F; marked; cooked and served,
served, or discarded within the time; not returned to temperature control.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import Literal

import numpy as np

from tempwitness.model.logs import StagedLog
from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer
from tests.soundness import histories
from tests.soundness.histories import History
from tests.soundness.referee import Kept, Span
from tests.soundness.truth import EPS, Line
from tests.support import ZERO, channel, staged

_BEFORE = ("cold_hold", "hot_hold", "cook")
_OUT = ("serve", "transport", "prep")
_AFTER = ("cold_hold", "hot_hold", "cool", "cook", "reheat")
_COOKED_ON = ("cook", "reheat")


@dataclass(frozen=True, slots=True)
class TimeLot:
    """A lot under a time control.

    Parameters
    ----------
    history : History
    start : float
        When the food left temperature control [h].
    written : date, optional
        Day on which the procedure was written; ``None`` if there is none.
    gone : float
        When the last of it was served or discarded [h].
    told : (bool, bool)
        Whether the record gives the date of the procedure, and the mark.
    """

    history: History
    option: Literal["4h", "6h"]
    start: float
    written: date | None
    marked: bool
    gone: float
    told: tuple[bool, bool]

    @property
    def allowed(self) -> float:
        """Hours that the procedure allows."""
        return 4.0 if self.option == "4h" else 6.0

    @property
    def plan(self) -> TimeControlPlan:
        """What the record says of it."""
        mark = Answer.YES if self.marked else Answer.NO
        return TimeControlPlan(
            ZERO + self.start * 3600.0,
            self.option,
            self.written if self.told[0] else None,
            mark if self.told[1] else Answer.UNKNOWN,
        )

    def log(self, *, late: float = 0.0) -> StagedLog:
        """The staged log; its record lets the time control begin `late` [h] too late."""
        one = self.history
        plan = replace(self.plan, start=self.plan.start + late * 3600.0)
        return staged([channel(one.readings)], one.notes, time_control=[plan])


def time_lot(seed: int) -> TimeLot:
    """Return a random lot."""
    rng = np.random.default_rng(seed)
    spans = _spans(rng)
    start = _start(rng, spans)
    lot = histories.point(rng, histories.Told(spans, histories.disturbances(rng, spans), ()))
    gone = spans[-1].end
    if rng.random() < 0.35:
        last = max(float(lot.read_at[-1]), spans[-1].start, *lot.disturbed)
        gone = max(gone, last + float(rng.uniform(0.0, 8.0)))
        ended = Span(spans[-1].name, spans[-1].start, last)
        lot = replace(lot, ends_noted=False, spans=(*spans[:-1], ended))
        start = min(start, last)
    today = datetime.fromtimestamp(ZERO + start * 3600.0, UTC).date()
    written = (None, *(today + timedelta(days=d) for d in (-300, -1, -1, 0, 1)))
    return TimeLot(
        lot,
        "4h" if rng.random() < 0.5 else "6h",
        start,
        written[int(rng.integers(len(written)))],
        bool(rng.random() < 0.7),
        gone,
        (bool(rng.random() < 0.8), bool(rng.random() < 0.7)),
    )


def _spans(rng: np.random.Generator) -> tuple[Span, ...]:
    names = [str(rng.choice(_BEFORE)), str(rng.choice(_OUT))]
    if rng.random() < 0.3:
        names.append(str(rng.choice([n for n in _OUT if n != names[-1]])))
    if rng.random() < 0.4:
        names.append(str(rng.choice(_AFTER)))
    return histories.spans_of(rng, [tuple(names)])


def _start(rng: np.random.Generator, spans: tuple[Span, ...]) -> float:
    """As the food is taken out, or some time before or after."""
    held, out = spans[0], spans[1]
    way = rng.random()
    if way < 0.6 or held.name == "cook":
        return out.start
    inside = held if way < 0.85 else out
    return round(float(rng.uniform(inside.start, inside.end)) * 60) / 60


def kept(name: str, lot: TimeLot) -> Kept:
    """Whether a part of the time control was kept, counted strictly and leniently.

    Raises
    ------
    KeyError
        If it is no part of one.
    """
    return {
        "tphc-written": _written,
        "tphc-marked": _marked,
        "tphc-start-4h": _started,
        "tphc-start": _started,
        "tphc-end-4h": _ended,
        "tphc-end": _ended,
    }[name.removesuffix("-6h")](lot)


def _written(lot: TimeLot) -> Kept:
    day = datetime.fromtimestamp(ZERO + lot.start * 3600.0, UTC).date()
    found = lot.written is not None and lot.written <= day
    return found, found


def _marked(lot: TimeLot) -> Kept:
    return lot.marked, lot.marked


def _started(lot: TimeLot) -> Kept:
    value = float(np.interp(lot.start, lot.history.grid, lot.history.true))
    found = value <= 41.0 + EPS or (lot.option == "4h" and value >= 135.0 - EPS)
    return found, found


def _ended(lot: TimeLot) -> Kept:
    spans = lot.history.spans
    after = [s for s in spans if s.start > lot.start and s.name not in _OUT]
    over = after[0].start if after else lot.gone
    deadline = lot.start + lot.allowed
    in_time = over <= deadline + EPS
    if lot.option == "6h":
        line = Line(lot.history.grid, lot.history.true).cut(lot.start, max(over, lot.start + 1e-9))
        in_time = in_time and bool(line.value.max() <= 70.0 + EPS)
    if not after:
        return in_time, in_time
    # Food may be cooked and served within the time; what is put back under control may not.
    served = in_time and after[0].name in _COOKED_ON and lot.gone <= deadline + EPS
    raw = spans[0].name != "cook"
    return served and raw and after[0].name == "cook" and len(after) == 1, served
