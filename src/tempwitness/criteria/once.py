"""A limit that may be left once, in one stretch, for a limited time."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.clip import Clip, clip
from tempwitness.criteria.case import Case, figure
from tempwitness.criteria.clocks import edge_cites, own_window, standing, still_running
from tempwitness.criteria.outcome import Outcome, Settling
from tempwitness.criteria.times import allowed_words, cap_words, exceeds, keeps_within
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.forms import Once
    from tempwitness.model.logs import Stage
    from tempwitness.model.vocabulary import StageName

__all__ = ["once"]


@dataclass(frozen=True, slots=True)
class _Absence:
    """One stretch beyond the limit, possible or certain.

    Parameters
    ----------
    start, end : float
        Outer edges [s].
    certain : float
        Time within it that was certainly beyond [s].
    sure : bool
        Whether it was certainly beyond for a moment at least.
    """

    start: float
    end: float
    certain: float
    sure: bool

    @property
    def possible(self) -> float:
        """Longest that it can have been [s]."""
        return self.end - self.start


def once(test: Once, case: Case, trace: Trace, stages: tuple[StageName, ...]) -> Outcome:
    """Judge whether the limit was left in one stretch at most, and not for too long.

    Two stretches are two if the food was certainly within the limit between them, or in another
    kind of stage. The stretch counts from the last moment within the limit to the next.
    """
    # The stage that is judged always counts, also where the rule names only others.
    names = (*(test.over or stages), case.stage.name)
    absences = _absences(test, case, trace, names)
    sure = [a for a in absences if a.sure]
    cap = cap_words(test.at_most, test.op)
    limit = f"{test.limit.words}; beyond it once, {cap}"
    most, least = max((a.possible for a in absences), default=0.0), _longest(sure)
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        "",
        measured=_measured(sure, case, test, trace),
        limit=limit,
        least=least,
        most=most,
        began=absences[0].start if absences else None,
        cites=edge_cites(trace, case),
    )
    floor = _beyond(test, case, trace, names)
    if floor is Verdict.NOT_MET and test.beyond is not None:
        reason = f"a reading breaks what holds even then: {test.beyond.words}"
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    allowed = allowed_words(test.at_most, test.op)
    if exceeds(least, test.at_most, test.op):
        reason = f"at least {duration_words(least)} beyond the limit at one time; {allowed}"
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    if len(sure) > 1:
        reason = f"it left the limit {len(sure)} times; once is allowed"
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    if floor is Verdict.NOT_SHOWN and test.beyond is not None:
        reason = f"the readings do not show that it stayed {test.beyond.words}"
        return outcome.but(reason=reason, settle=Settling(f"readings of {test.beyond.words}"))
    return _kept(test, case, trace, outcome, absences)


def _kept(
    test: Once, case: Case, trace: Trace, outcome: Outcome, absences: list[_Absence]
) -> Outcome:
    cap, allowed = cap_words(test.at_most, test.op), allowed_words(test.at_most, test.op)
    most = outcome.most or 0.0
    if len(absences) > 1 or not keeps_within(most, test.at_most, test.op):
        took = f"{duration_words(outcome.least or 0.0)} to {duration_words(most)}"
        return outcome.but(
            reason=f"the readings allow {took} beyond the limit at one time, in up to "
            f"{len(absences)} stretches; one is allowed, {cap}",
            settle=Settling(
                f"readings closer to the moments at which it left {figure(test.limit, trace)} "
                "and came back"
            ),
        )
    reason = f"beyond the limit once, at most {duration_words(most)}; {allowed}"
    if not absences:
        reason = "the limit was never left"
    kept = outcome.but(verdict=Verdict.MET, reason=reason)
    window = own_window(case, case.stage, trace)
    back = bool(clip(trace, trace.state(test.limit), window).yes[-1])
    running = bool(absences) and absences[-1].end >= window.end and not back
    if case.stage.closed:
        return kept
    if not running:
        return standing(kept, case, trace)
    deadline = absences[-1].start + test.at_most
    return still_running(kept.but(deadline=deadline, clock=Clock.ABSENCE), case)


def _absences(test: Once, case: Case, trace: Trace, names: tuple[StageName, ...]) -> list[_Absence]:
    """Stretches beyond the limit, up to the stage that is judged."""
    found: list[_Absence] = []
    last: Stage | None = None
    for stage in case.stages:
        if stage.name not in names or stage.number > case.stage.number:
            continue
        window = own_window(case, stage, trace)
        body = clip(trace, trace.state(test.limit), window)
        here = _within(body, own_end=window.own_end)
        if stage.question:
            # A stage that only the trace seems to show may have been another one.
            here = [replace(a, certain=0.0, sure=False) for a in here]
        joined = last is not None and last.end == stage.start and not body.yes[0]
        if found and here and joined and found[-1].end == here[0].start:
            one, other = found.pop(), here.pop(0)
            found.append(
                _Absence(one.start, other.end, one.certain + other.certain, one.sure or other.sure)
            )
        found += here
        last = stage
    return found


def _within(body: Clip, *, own_end: bool) -> list[_Absence]:
    """Split a stage at the moments at which the food was certainly within the limit.

    A reading at the very end of a stage that another one follows begins that one.
    """
    if len(body.between_yes) == 0 and own_end and not body.yes[0]:
        # A stage that has just begun has no length yet, but the food may be beyond the limit.
        moment = float(body.at[0])
        return [_Absence(moment, moment, 0.0, sure=bool(body.no[0]))]
    found: list[_Absence] = []
    lengths = body.lengths
    maybe = ~body.between_yes
    beyond = body.no.copy()
    beyond[-1] &= own_end
    for k in np.flatnonzero(maybe).tolist():
        certain = float(lengths[k]) if body.between_no[k] else 0.0
        sure = bool(body.between_no[k] or beyond[k] or beyond[k + 1])
        start, end = float(body.at[k]), float(body.at[k + 1])
        if found and found[-1].end == start and not body.yes[k]:
            one = found.pop()
            found.append(_Absence(one.start, end, one.certain + certain, one.sure or sure))
        else:
            found.append(_Absence(start, end, certain, sure))
    return found


def _longest(absences: list[_Absence]) -> float:
    return max((a.certain for a in absences), default=0.0)


def _beyond(test: Once, case: Case, trace: Trace, names: tuple[StageName, ...]) -> Verdict:
    """Whether what holds even beyond the limit was kept, as far as the readings show."""
    if test.beyond is None:
        return Verdict.MET
    own = [s for s in case.stages if s.name in names and s.number <= case.stage.number]
    bodies = [(s, clip(trace, trace.state(test.beyond), own_window(case, s, trace))) for s in own]
    told = [b for s, b in bodies if not s.question]
    if any(bool((b.no & (b.reading >= 0)).any() or b.between_no.any()) for b in told):
        return Verdict.NOT_MET
    return Verdict.MET if all(b.always for _, b in bodies) else Verdict.NOT_SHOWN


def _measured(sure: list[_Absence], case: Case, test: Once, trace: Trace) -> str:
    if not sure:
        return f"never read beyond {figure(test.limit, trace)}"
    say = case.local.say
    return "; ".join(
        f"beyond between {say(a.start)} and {say(a.end)}: {duration_words(a.certain)} to "
        f"{duration_words(a.possible)}"
        for a in sure
    )
