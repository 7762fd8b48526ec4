"""Traces with exact crossings, and the few notes that most published examples need.

A published example says "135 at 0:00, 70 at 2:00" and means the moments at which the food passed
those figures. A reading just beyond a limit, a fraction of a second before or after, stands for
such an exact crossing, because nothing is claimed about what was not read.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Unpack

from tempwitness.model.logs import Channel, Note
from tempwitness.model.vocabulary import Place
from tests.support import Readings, Stated, channel, found, judge, note, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.rule import Code

#: Time between a reading and the witness of its crossing [s].
WITNESS = 0.2

#: A distance from a limit that a probe with one decimal can show [degrees of either scale].
STEP = 0.1


def at(seconds: float) -> str:
    """Elapsed time in seconds as the text that the other helpers read."""
    return f"0:0:{seconds!r}"


def held(value: float, seconds: float, *, beyond: float | None = None) -> Readings:
    """Readings of food that stood at a value for exactly a time, from minute 10 on.

    `beyond` is what was read just before and just after, one step below unless given.
    """
    other = round(value - STEP, 1) if beyond is None else beyond
    start = 600.0
    return [
        (at(start - WITNESS), other),
        (at(start), value),
        (at(start + seconds), value),
        (at(start + seconds + WITNESS), other),
    ]


def end_of(readings: Readings) -> Note:
    """A note that everything was served out at the last reading."""
    return note(readings[-1][0], event="finished")


class Judging(Stated, total=False):
    """How `judged` may be told of a stage."""

    before: tuple[Note, ...]
    method: str
    place: Place
    celsius: bool
    code: Code | None


def judged(
    stage: str,
    readings: Readings,
    *,
    before: tuple[Note, ...] = (),
    method: str = "",
    place: Place = Place.CORE,
    celsius: bool = False,
    code: Code | None = None,
    **lot: Unpack[Stated],
) -> Evaluation:
    """Judge one stage that begins with the first reading and ends with the last."""
    steps = [*before, note(readings[0][0], stage, method=method), end_of(readings)]
    log = staged([channel(readings, place=place, celsius=celsius)], steps, **lot)
    return judge(log, code=code)


def answer(requirement: str, stage: str, readings: Readings, **more: Unpack[Judging]) -> str:
    """Verdict of one requirement for one stage (see `judged`)."""
    return finding(requirement, stage, readings, **more).verdict.value


def finding(requirement: str, stage: str, readings: Readings, **more: Unpack[Judging]) -> Finding:
    """Finding of one requirement for one stage (see `judged`)."""
    return found(judged(stage, readings, **more), requirement)


def answers(
    channels: Sequence[Channel], steps: Sequence[Note], **lot: Unpack[Stated]
) -> dict[str, str]:
    """Verdicts that apply, by requirement; the last stage of the same name counts."""
    evaluation = judge(staged(channels, steps, **lot))
    return {
        f.requirement.split("#")[1]: f.verdict.value
        for f in evaluation.findings
        if f.verdict.value != "not_applicable"
    }
