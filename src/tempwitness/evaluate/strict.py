"""The second answer of each finding: the same criteria, asked about every possible history."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tempwitness.criteria import on_readings
from tempwitness.evaluate.alternatives import Met
from tempwitness.evaluate.judge import at_stage, time_controls
from tempwitness.evaluate.strict_words import OTHER_COOK, in_words
from tempwitness.model.figures import Limit, Row
from tempwitness.model.forms import COOKED, TimeControl
from tempwitness.model.vocabulary import StageName, Verdict
from tempwitness.strict.figures import rate_figures
from tempwitness.strict.traces import Bounded, Ground, bounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tempwitness.criteria.outcome import Outcome
    from tempwitness.evaluate.judge import Controls, Judged
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.finding import Strict
    from tempwitness.model.forms import Test
    from tempwitness.model.logs import Stage
    from tempwitness.model.rule import Code, Requirement

__all__ = ["Second", "limits_of", "prepared", "strict_answers"]


@dataclass(frozen=True, slots=True, eq=False)
class Second:
    """Everything prepared for a second judgement.

    Parameters
    ----------
    first, again : Subject
        As it was judged first, and with traces that are bounded at every moment.
    bodies : dict of str to tuple of Bounded
        Those traces by piece.
    """

    first: Subject
    again: Subject
    bodies: dict[str, tuple[Bounded, ...]]

    @property
    def rests_on(self) -> tuple[str, ...]:
        """Errors and rates on which it rests, in words."""
        lines = (line for bound in self.bodies.values() for body in bound for line in body.rests_on)
        return tuple(dict.fromkeys(lines))


def prepared(subject: Subject, judged: Iterable[Judged]) -> Second | None:
    """Bound the traces for all that was judged, under one code or several.

    Parameters
    ----------
    subject : Subject
        As it was judged first.
    judged : iterable of Judged
        The first answers.

    Returns
    -------
    Second or None
        ``None`` where no answer rests on a reading.
    """
    limits = {figure for j in judged if _asked(j) for figure in limits_of(j.requirement)}
    if not limits:
        return None
    bodies = _bounded(subject, tuple(sorted(limits)))
    traces = {piece: tuple(b.trace for b in bound) for piece, bound in bodies.items()}
    again = replace(subject, traces=traces, infer=False, _cases={}, _chosen={})
    return Second(subject, again, bodies)


def strict_answers(
    second: Second | None, judged: Sequence[Judged], code: Code
) -> tuple[Strict | None, ...]:
    """Answer each requirement that is judged on readings a second time.

    Parameters
    ----------
    second : Second, optional
        ``None`` to leave all of them out.
    judged : sequence of Judged
        The first answers of a code, in any order.
    code : Code

    Returns
    -------
    tuple of Strict or None
        In the order of `judged`; ``None`` beside a requirement that does not apply or asks for no
        reading.
    """
    if second is None:
        return (None,) * len(judged)
    court = _Court(second, _first_answers(judged), time_controls(code))
    order = {r.id: i for i, r in enumerate(code.requirements)}
    asked = [(order[j.requirement.id], i) for i, j in enumerate(judged) if _asked(j)]
    found = {i: court.answer(judged[i]) for _, i in sorted(asked)}
    return tuple(found.get(i) for i in range(len(judged)))


def _asked(judged: Judged) -> bool:
    return (
        judged.stage is not None
        and judged.outcome.verdict is not Verdict.NOT_APPLICABLE
        and any(_reads(test) for test in _tests(judged.requirement))
    )


def _reads(test: Test) -> bool:
    if isinstance(test, TimeControl):
        return test.part == "start" or (test.part == "end" and test.ceiling is not None)
    return on_readings(test)


def _tests(requirement: Requirement) -> Iterator[Test]:
    yield requirement.test
    for alternative in requirement.alternatives:
        yield alternative.test


def limits_of(requirement: Requirement) -> Iterator[tuple[float, float]]:
    """Yield each figure with which a requirement compares readings, in °F and in °C."""
    for test in _tests(requirement):
        for value in vars(test).values():
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Limit | Row):
                    yield float(one.f), float(one.c)


def _bounded(
    subject: Subject, limits: tuple[tuple[float, float], ...]
) -> dict[str, tuple[Bounded, ...]]:
    raw, figures = subject.log.raw, rate_figures()
    everything = tuple(s for stages in subject.stages.values() for s in stages)
    found = {}
    for piece, traces in subject.traces.items():
        stages = subject.stages.get(piece, everything)
        notes = subject.notes.get(piece, raw.notes)
        ground = Ground(raw, piece, stages, notes, figures, limits)
        found[piece] = tuple(bounded(trace, ground) for trace in traces)
    return found


def _first_answers(judged: Iterable[Judged]) -> Met:
    met = Met()
    for one in judged:
        if one.stage is not None:
            met.record(one.requirement, one.stage, one.outcome.verdict)
    return met


@dataclass(frozen=True, slots=True, eq=False)
class _Court:
    """All that is needed to judge again."""

    second: Second
    met: Met
    controls: Controls

    def answer(self, judged: Judged) -> Strict:
        """Judge one requirement again where it was judged first."""
        stage = judged.stage
        if stage is None:
            raise ValueError("a requirement that stands at no stage is not judged on readings")
        outcome = self._at(judged, stage)
        if outcome.verdict is Verdict.NOT_MET and not self._all_too_cold(judged, stage):
            outcome = outcome.but(verdict=Verdict.NOT_SHOWN, reason=OTHER_COOK)
        self.met.record(judged.requirement, stage, outcome.verdict)
        bodies = (*self.second.bodies.get(stage.piece, ()), *self.second.bodies.get("", ()))
        case = self.second.again.case(stage, judged.requirement)
        return in_words(judged.requirement, case, outcome, bodies)

    def _all_too_cold(self, judged: Judged, stage: Stage) -> bool:
        """Whether no other cook of the piece can have been enough in place of this one."""
        if not isinstance(judged.requirement.test, COOKED) or stage.name is not StageName.COOK:
            return True
        names = judged.requirement.stages
        others = (s for s in self.second.again.stages[stage.piece] if s.name in names)
        verdicts = (self._at(judged, s).verdict for s in others if s is not stage)
        return all(v in (Verdict.NOT_MET, Verdict.NOT_APPLICABLE) for v in verdicts)

    def _at(self, judged: Judged, stage: Stage) -> Outcome:
        if judged.of_lot is None:
            raise ValueError("what was judged at a stage says whether it bears on the lot")
        return at_stage(
            self.second.again,
            judged.requirement,
            stage,
            self.met,
            judged.of_lot,
            controls=self.controls,
        ).outcome
