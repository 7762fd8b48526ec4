"""The second answer of each finding: the same criteria, asked about every possible history."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tempwitness.criteria import on_readings
from tempwitness.evaluate.judge import at_stage, time_controls
from tempwitness.evaluate.strict_words import in_words
from tempwitness.model.rule import Limit, Reach, Row, TimeControl
from tempwitness.model.vocabulary import StageName, Verdict
from tempwitness.strict.figures import rate_figures
from tempwitness.strict.traces import Bounded, Ground, bounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tempwitness.criteria.outcome import Outcome
    from tempwitness.evaluate.alternatives import Met
    from tempwitness.evaluate.judge import Controls, Judged
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.finding import Strict
    from tempwitness.model.logs import Stage
    from tempwitness.model.rule import Code, Requirement, Test

__all__ = ["StrictAnswers", "limits_of", "strict_answers"]


@dataclass(frozen=True, slots=True)
class StrictAnswers:
    """Strict answers beside judged requirements, in their order, and what they rest on."""

    answers: tuple[Strict | None, ...]
    rests_on: tuple[str, ...] = ()


def strict_answers(subject: Subject, judged: Sequence[Judged], code: Code) -> StrictAnswers:
    """Answer each requirement that is judged on readings a second time.

    Parameters
    ----------
    subject : Subject
        As it was judged first.
    judged : sequence of Judged
        The first answers of a code, in any order.
    code : Code

    Returns
    -------
    StrictAnswers
        ``None`` beside a requirement that does not apply or asks for no reading.
    """
    asked = [_asked(j) for j in judged]
    if not any(asked):
        return StrictAnswers((None,) * len(asked))
    limits = tuple(
        dict.fromkeys(
            figure
            for j, yes in zip(judged, asked, strict=True)
            if yes
            for figure in limits_of(j.requirement)
        )
    )
    bodies = _bounded(subject, limits)
    again = replace(
        subject,
        traces={piece: tuple(b.trace for b in bound) for piece, bound in bodies.items()},
        infer=False,
        _cases={},
        _chosen={},
    )
    court = _Court(subject, again, bodies, _first_answers(judged), time_controls(code))
    order = {r.id: i for i, r in enumerate(code.requirements)}
    found: dict[int, Strict] = {}
    for i in sorted(
        (i for i, yes in enumerate(asked) if yes), key=lambda i: order[judged[i].requirement.id]
    ):
        found[i] = court.answer(judged[i])
    return StrictAnswers(tuple(found.get(i) for i in range(len(asked))), _rests_on(bodies))


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
        ground = Ground(raw, stages, notes, figures, limits)
        found[piece] = tuple(bounded(trace, ground) for trace in traces)
    return found


def _first_answers(judged: Iterable[Judged]) -> Met:
    return {
        (j.requirement.id, j.piece, j.stage.number): j.outcome.verdict
        for j in judged
        if j.stage is not None
    }


def _rests_on(bodies: dict[str, tuple[Bounded, ...]]) -> tuple[str, ...]:
    lines = {}
    for bound in bodies.values():
        for body in bound:
            lines.update(dict.fromkeys(body.rests_on))
    return tuple(lines)


@dataclass(frozen=True, slots=True, eq=False)
class _Court:
    """All that is needed to judge again."""

    first: Subject
    again: Subject
    bodies: dict[str, tuple[Bounded, ...]]
    met: Met
    controls: Controls

    def answer(self, judged: Judged) -> Strict:
        """Judge one requirement again where it was judged first."""
        stage = judged.stage
        if stage is None:
            raise ValueError("a requirement that stands at no stage is not judged on readings")
        outcomes = [self._at(judged, one) for one in self._stages(judged, stage)]
        outcome = outcomes[-1] if len(outcomes) == 1 else _best_cook(outcomes)
        self.met[judged.requirement.id, judged.piece, stage.number] = outcome.verdict
        bodies = (*self.bodies.get(stage.piece, ()), *self.bodies.get("", ()))
        case = self.again.case(stage, judged.requirement)
        return in_words(judged.requirement, case, outcome, bodies)

    def _stages(self, judged: Judged, stage: Stage) -> tuple[Stage, ...]:
        """Stages at which the requirement may have been kept: any of several cooks."""
        if not isinstance(judged.requirement.test, Reach) or stage.name is not StageName.COOK:
            return (stage,)
        names = judged.requirement.stages
        return tuple(s for s in self.again.stages[stage.piece] if s.name in names)

    def _at(self, judged: Judged, stage: Stage) -> Outcome:
        if judged.of_lot is None:
            raise ValueError("what was judged at a stage says whether it bears on the lot")
        return at_stage(
            self.again,
            judged.requirement,
            stage,
            self.met,
            judged.of_lot,
            controls=self.controls,
        ).outcome


def _best_cook(outcomes: list[Outcome]) -> Outcome:
    """Of several cooks one that was enough decides; none was, only if each of them was not."""
    real = [o for o in outcomes if o.verdict is not Verdict.NOT_APPLICABLE] or outcomes
    for verdict in (Verdict.MET, Verdict.NOT_SHOWN, Verdict.OPEN, Verdict.NOT_MET):
        for outcome in reversed(real):
            if outcome.verdict is verdict:
                return outcome
    return real[-1]
