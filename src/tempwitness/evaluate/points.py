"""Several probes in one piece: the worst point decides."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria import judge_test, on_readings
from tempwitness.criteria.outcome import Outcome, Settling, not_applicable
from tempwitness.criteria.reach import row_reading
from tempwitness.evaluate.alike import tests_the_same
from tempwitness.evaluate.spots import other_spots
from tempwitness.model.figures import duration_words
from tempwitness.model.forms import (
    COOKED,
    BandClock,
    Fall,
    Lethality,
    Once,
    OutsideBand,
    Reach,
    Throughout,
    TimeControl,
)
from tempwitness.model.vocabulary import Event, StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.figures import Limit
    from tempwitness.model.forms import Test
    from tempwitness.model.vocabulary import Point

__all__ = ["NOTHING_READ", "judge_on_record", "near"]

#: What was measured where no reading stands in or around a stage.
NOTHING_READ = "nothing was read"

#: Forms that the outside of the food can disprove.
_OUTSIDE_COUNTS = ("throughout", "outside_band", "band_clock")

#: Stages in which food goes one way, up or down.
_SETTLING = frozenset({StageName.COOK, StageName.REHEAT, StageName.COOL})

# A point for which the requirement was given up unfinished bars "met" by the other points.
_WORST_FIRST = (
    Verdict.NOT_MET,
    Verdict.NOT_SHOWN,
    Verdict.OPEN,
    Verdict.NOT_APPLICABLE,
    Verdict.MET,
)


def judge_on_record(test: Test, case: Case, stages: tuple[StageName, ...], point: Point) -> Outcome:
    """Judge a test on what the record holds for it: readings of points, or notes and papers.

    What one code has asked of a stage need not be worked out again for another.
    """
    key = tests_the_same(test), stages, point
    outcome = case.judged.get(key)
    if outcome is None:
        outcome = case.judged[key] = _judged(test, case, stages, point)
    return outcome


def _judged(test: Test, case: Case, stages: tuple[StageName, ...], point: Point) -> Outcome:
    if on_readings(test):
        return _over_points(test, case, stages, point)
    if isinstance(test, TimeControl):
        return _under_time(test, case, stages)
    return judge_test(test, case, None, stages)


def _under_time(test: TimeControl, case: Case, stages: tuple[StageName, ...]) -> Outcome:
    """Judge a part of a time control: every point that was read must keep it.

    Its end is judged once, at the last stage that stands under it, for all of the time since its
    start.
    """
    plan = case.stage.time_control
    since = case.stage.start
    if plan is not None and test.part == "end":
        since = min(since, plan.start)
    read = [t for t in case.traces if near(t, case, since=since)]
    outcomes = [judge_test(test, case, t, stages) for t in read]
    outside = [judge_test(test, case, t, stages) for t in case.others]
    outcomes += [o for o in outside if o.verdict is Verdict.NOT_MET]
    return min(outcomes, key=_rank) if outcomes else judge_test(test, case, None, stages)


def _over_points(test: Test, case: Case, stages: tuple[StageName, ...], point: Point) -> Outcome:
    """Judge a test on every point of the piece that was read about this stage.

    A reading of the outside of the food cannot prove what holds for all of it, but one that is
    beyond a limit disproves it.
    """
    if isinstance(test, BandClock) and test.unheated_only and not _heat_lost(case, stages):
        return not_applicable("the heat was never noted as lost")
    outcomes = [_at_point(test, case, t, stages) for t in case.traces if near(t, case)]
    if test.form in _OUTSIDE_COUNTS:
        outside = [judge_test(test, case, trace, stages) for trace in case.others]
        outcomes += [o for o in outside if o.verdict is Verdict.NOT_MET]
    if isinstance(test, Once):
        # A stretch beyond the limit is one of all the food: the outside that may have been longer
        # beyond it, or more often, is not made good by the core.
        read = [t for t in case.others if near(t, case)]
        outside = [judge_test(test, case, trace, stages) for trace in read]
        outcomes += [o for o in outside if o.verdict is not Verdict.MET]
    if not outcomes:
        return _nothing_read(test, case, point)
    return _with_points_left(test, min(outcomes, key=_soonest), case, stages)


def _with_points_left(
    test: Test, outcome: Outcome, case: Case, stages: tuple[StageName, ...]
) -> Outcome:
    """Let a point that was not read since the stage began fall due when its own time is over.

    Read later than that, it would show that a time ran out, or a stretch of this stage of which
    nothing is known.
    """
    if outcome.verdict is not Verdict.OPEN or outcome.deadline is None:
        return outcome
    left = [t for t in case.traces if t.last < case.stage.start]
    ends = [_own_deadline(test, case, trace, stages) for trace in left]
    due = min((at for at in ends if at is not None and at >= case.asked), default=float("inf"))
    if due >= outcome.deadline:
        return outcome
    words = f"another point was not read in this stage yet, and is due by {case.local.say(due)}"
    return outcome.but(reason=f"{outcome.reason}; {words}", deadline=due)


def _own_deadline(
    test: Test, case: Case, trace: Trace, stages: tuple[StageName, ...]
) -> float | None:
    """Moment up to which a point that is read again breaks nothing [s]; ``None`` if not known."""
    if isinstance(test, Fall):
        return judge_test(test, case, trace, stages).deadline
    return trace.last + case.interval if _kept_last(test, trace) else None


def _kept_last(test: Test, trace: Trace) -> bool:
    """Whether the last reading of a point keeps what a test asks all through a stage."""
    if isinstance(test, BandClock):
        edges = [e for e in (test.low, test.high) if e is not None]
        return any(bool(trace.state(e).no[-1]) for e in edges)
    limits: tuple[Limit, ...] = ()
    if isinstance(test, Throughout | Once):
        limits = (test.limit,)
    elif isinstance(test, OutsideBand):
        limits = (test.cold, test.hot)
    return any(bool(trace.state(limit).yes[-1]) for limit in limits)


def _heat_lost(case: Case, stages: tuple[StageName, ...]) -> bool:
    return any(s.unheated for s in case.stages if s.name in stages)


def _at_point(test: Test, case: Case, trace: Trace, stages: tuple[StageName, ...]) -> Outcome:
    """Judge one point; where its probe was moved while the food was heated, the last spot decides.

    A probe is moved to find the coldest part. A spot that was hot enough before says nothing of
    a colder one that was found afterwards.
    """
    outcome = judge_test(test, case, trace, stages)
    if outcome.verdict is not Verdict.MET or not isinstance(test, Reach | Lethality | Fall):
        return outcome
    if isinstance(test, COOKED):
        outcome = _where_moved(test, case, trace, stages, outcome)
    if outcome.verdict is Verdict.MET and case.stage.name in _SETTLING:
        return _at_other_spots(test, case, trace, stages, outcome)
    return outcome


def _at_other_spots(
    test: Reach | Lethality | Fall,
    case: Case,
    trace: Trace,
    stages: tuple[StageName, ...],
    outcome: Outcome,
) -> Outcome:
    """Judge by itself each probe that lagged behind another one at the same point."""
    which = "coldest" if isinstance(test, COOKED) else "warmest"
    for spot in other_spots(test, case, trace):
        there = judge_test(test, case, spot, stages)
        if there.verdict is not Verdict.MET:
            return there.but(
                verdict=Verdict.NOT_SHOWN,
                reason=f"two probes at this point disagree, and the {which} part counts; where it "
                f"was read: {there.reason}",
            )
    return outcome


def _where_moved(
    test: Reach | Lethality,
    case: Case,
    trace: Trace,
    stages: tuple[StageName, ...],
    outcome: Outcome,
) -> Outcome:
    """Judge the spot at which the probe was put last, as a note says."""
    moved = _last_move(case)
    first = int(trace.at.searchsorted(moved, "right"))
    if first == len(trace) or trace.at[first] > case.stage.end:
        return outcome
    there = judge_test(test, case, trace.since(first), stages)
    if there.verdict is Verdict.MET:
        return outcome
    return there.but(
        reason=f"the probe was moved at {case.local.say(moved)}, and the coldest part counts; "
        f"there: {there.reason}"
    )


def _last_move(case: Case) -> float:
    """Last moment within the stage at which the probe was moved; infinite if it was not."""
    moves = [
        n.at
        for n in case.notes
        if n.event is Event.PROBE_MOVED
        and n.piece in (None, case.stage.piece)
        and case.stage.start <= n.at < case.stage.end
    ]
    return max(moves, default=float("inf"))


def _rank(outcome: Outcome) -> int:
    verdict = outcome.verdict
    return _WORST_FIRST.index(verdict) if verdict in _WORST_FIRST else len(_WORST_FIRST)


def _soonest(outcome: Outcome) -> tuple[int, float]:
    """Rank an outcome; of several that are still open, the one that falls due first decides."""
    due = outcome.deadline if outcome.verdict is Verdict.OPEN else None
    return _rank(outcome), float("inf") if due is None else due


def near(trace: Trace, case: Case, *, since: float | None = None) -> bool:
    """Whether the trace has readings on, or on both sides of, the stage, or the time `since` [s].

    Air and water that were first read just as the stage ended belong to the next one: the pit's
    first reading says nothing of the refrigerator. Of the food itself that reading counts.
    """
    first, stage = trace.first, case.stage
    if not trace.piece and first == stage.end > stage.start and case.following is not None:
        return False
    return first <= stage.end and trace.last >= (stage.start if since is None else since)


def _nothing_read(test: Test, case: Case, point: Point) -> Outcome:
    what = " or ".join(sorted(place.value for place in point.places))
    outside = "; the outside alone proves nothing of the inside" if case.others else ""
    return Outcome(
        Verdict.NOT_SHOWN,
        f"no {what} reading stands in or around this stage{outside}",
        measured=NOTHING_READ,
        began=case.stage.start,
        unread=((case.stage.start, case.stage.end, NOTHING_READ),),
        settle=_settling(test, case, what),
    )


def _settling(test: Test, case: Case, what: str) -> Settling:
    """Ask for the fewest readings that can settle a stage in which nothing was read.

    One reading at the end may show that food was heated enough; whatever must be kept, or take a
    limited time, needs its start and its end.
    """
    if isinstance(test, Reach):
        wanted = row_reading(test.rows[-1], None)
        return Settling(f"a {what} reading {wanted}", case.stage.end)
    apart = duration_words(case.interval)
    return Settling(f"{what} readings at its start and at its end, at most {apart} apart")
