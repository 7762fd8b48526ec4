"""One stage of one piece in a few words, and requirements with round numbers of our own.

The limits here are invented (hot 100, warm 60, cold 40, in both scales the same figure), so that
every expectation is plain arithmetic and no code's numbers are repeated.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tempwitness.bounds.gather import gather
from tempwitness.bounds.trace import Trace
from tempwitness.calibration import correct
from tempwitness.criteria import judge_test
from tempwitness.criteria.case import Case, Local
from tempwitness.criteria.outcome import Outcome
from tempwitness.model.figures import Limit
from tempwitness.model.forms import Test
from tempwitness.model.logs import Note, RawLog, Stage
from tempwitness.model.lot import Approval, Lot, Piece, TimeControlPlan
from tempwitness.model.vocabulary import Answer, Decided, StageName
from tempwitness.quality import qualify
from tests.support import FOOD_CODE, ZERO, Readings, channel, lamb, seconds

#: Longest time between two readings over which the bracket holds, in every stage [h].
INTERVAL = 4

Span = tuple[str, str | float, str | float]


def limit(figure: float, op: str) -> Limit:
    """A limit with the same figure in both units."""
    return Limit.model_validate({"f": figure, "c": figure, "op": op})


def moment(text: str | float) -> float:
    """Seconds since 1970 of a time of the test's day."""
    return ZERO + seconds(text)


def trace(readings: Readings, notes: Sequence[Note] = ()) -> Trace:
    """The trace of a core's readings in °F."""
    lot = Lot("t", lamb(), FOOD_CODE, "UTC", (Piece("1"),))
    found = gather(correct(qualify(RawLog(lot, (channel(readings),), tuple(notes), (), ()))))
    assert len(found) == 1
    return found[0]


def plan(
    start: str | float,
    *,
    option: str = "4h",
    written: date | None = None,
    marked: Answer = Answer.UNKNOWN,
) -> TimeControlPlan:
    """A written time control."""
    return TimeControlPlan(moment(start), "6h" if option == "6h" else "4h", written, marked)


def stages(
    spans: Sequence[Span],
    *,
    closed: bool = True,
    method: str = "",
    under: TimeControlPlan | None = None,
    unheated: Sequence[tuple[str, str]] = (),
    decided: Decided = Decided.NOTED,
) -> tuple[Stage, ...]:
    """Noted stages; what is stated beside the spans goes for all, `closed` for the last."""
    return tuple(
        Stage(
            StageName(name),
            number,
            "1",
            moment(start),
            moment(end),
            closed=closed or number < len(spans),
            decided=decided,
            reason="noted",
            method=method,
            time_control=under,
            unheated=tuple((moment(a), moment(b)) for a, b in unheated),
        )
        for number, (name, start, end) in enumerate(spans, 1)
    )


def case(
    every: tuple[Stage, ...],
    number: int = 1,
    *,
    notes: Sequence[Note] = (),
    asked: str | float = 999,
    explicit: bool = True,
    approvals: Sequence[Approval] = (),
) -> Case:
    """The stage of a number among its neighbours; `asked` is a moment that somebody named."""
    lot = Lot("t", lamb(), FOOD_CODE, "UTC", (Piece("1"),), approvals=tuple(approvals))
    return Case(
        lot=lot,
        stage=every[number - 1],
        stages=every,
        traces=(),
        others=(),
        notes=tuple(notes),
        probes=(),
        asked=moment(asked),
        explicit=explicit,
        intervals=dict.fromkeys(StageName, INTERVAL * 3600.0),
        local=Local("UTC", many_days=False),
    )


def answer(
    test: Test,
    one: Case,
    readings: Readings,
    *,
    over: Sequence[StageName] = (),
) -> Outcome:
    """The outcome of a test for one case and one trace."""
    with_notes = trace(readings, one.notes) if readings else None
    return judge_test(test, one, with_notes, tuple(over) or (one.stage.name,))


def settled(test: Test, one: Case, readings: Readings, value: float) -> Outcome:
    """The outcome when the reading that the first outcome asked for is added."""
    first = answer(test, one, readings)
    assert first.settle is not None
    assert first.settle.at is not None
    hours = (first.settle.at - ZERO) / 3600
    more = sorted([*readings, (hours, value)], key=lambda r: seconds(r[0]))
    return answer(test, one, more)
