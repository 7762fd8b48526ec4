"""Build logs in a few words, and judge them, without files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, TypedDict, Unpack

import numpy as np

from tempwitness.calibration import correct
from tempwitness.evaluate import Asking, evaluate
from tempwitness.model.logs import Channel, Note, RawLog, StagedLog
from tempwitness.model.lot import Approval, Food, Lot, Piece, Probe, TimeControlPlan, Weighed
from tempwitness.model.vocabulary import Business, Cut, Event, Form, Place, Species, StageName
from tempwitness.quality import qualify
from tempwitness.rulebook.load import load_code
from tempwitness.stages import monitoring_intervals, stage

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.rule import Code

FOOD_CODE = "us/food-code/2022"

#: Moment that stands for 0:00 in every test: a day without a change of clocks.
ZERO = datetime(2026, 7, 4, 5, 0, tzinfo=UTC).timestamp()

#: Moment of asking: long after every test's record has ended.
LATER = ZERO + 90 * 86400.0


def seconds(text: str | float) -> float:
    """Read "2:05" or "2:05:30" as hours, minutes and seconds since 0:00, or a number of hours."""
    if not isinstance(text, str):
        return float(text) * 3600.0
    parts = [float(p) for p in text.split(":")]
    return sum(p * 60.0**i for p, i in zip(parts, (2, 1, 0), strict=False))


def lamb(
    species: Species = Species.LAMB,
    *,
    forms: Sequence[Form] | None = (Form.INTACT,),
    cut: Cut | None = Cut.ROAST,
    weight: str = "9 lb",
) -> Food:
    """A food, a whole intact lamb shoulder of 9 lb unless told otherwise."""
    value, unit = weight.split()
    return Food(
        name=species.value,
        species=species,
        forms=None if forms is None else frozenset(forms),
        cut=cut,
        weight=Weighed(float(value), "kg" if unit == "kg" else "lb"),
    )


Readings = Sequence[tuple[str | float, float]]


def channel(
    readings: Readings,
    *,
    piece: str = "1",
    place: Place = Place.CORE,
    celsius: bool = False,
    probe: str = "",
    point: str = "",
) -> Channel:
    """A channel of readings given as (elapsed time, temperature)."""
    return Channel(
        source="test",
        piece="" if place in (Place.AIR, Place.MEDIUM) else piece,
        place=place,
        point=point,
        probe=(probe,),
        line=np.arange(2, len(readings) + 2),
        at=np.array([ZERO + seconds(t) for t, _ in readings]),
        value=np.array([v for _, v in readings], dtype=float),
        celsius=np.full(len(readings), celsius),
    )


def note(
    at: str | float,
    step: str | None = None,
    event: str | None = None,
    *,
    method: str = "",
    piece: str | None = None,
) -> Note:
    """A step note or another event."""
    return Note(
        at=ZERO + seconds(at),
        step=None if step is None else StageName(step),
        event=None if event is None else Event(event),
        text="",
        piece=piece,
        method=method,
        source="test",
        line=1,
    )


class Stated(TypedDict, total=False):
    """What a record may state beside its readings and notes."""

    food: Food | None
    facts: Mapping[str, str] | None
    approvals: Sequence[Approval]
    probes: Sequence[Probe]
    time_control: Sequence[TimeControlPlan]
    business: str | None
    pieces: Sequence[str]
    zone: str


def staged(
    channels: Sequence[Channel],
    notes: Sequence[Note],
    *,
    food: Food | None = None,
    facts: Mapping[str, str] | None = None,
    approvals: Sequence[Approval] = (),
    probes: Sequence[Probe] = (),
    time_control: Sequence[TimeControlPlan] = (),
    business: str | None = None,
    pieces: Sequence[str] = ("1",),
    zone: str = "UTC",
) -> StagedLog:
    """Stage a log made of channels and notes."""
    lot = Lot(
        id="test",
        food=food or lamb(),
        code=FOOD_CODE,
        zone=zone,
        pieces=tuple(Piece(p) for p in pieces),
        facts=dict(facts or {}),
        approvals=tuple(approvals),
        time_control=tuple(time_control),
        business=None if business is None else Business(business),
    )
    raw = RawLog(lot, tuple(channels), tuple(notes), tuple(probes), ())
    return stage(correct(qualify(raw)))


def judge(
    log: StagedLog,
    *,
    asked: float = LATER,
    explicit: bool = False,
    code: Code | None = None,
    intervals: Mapping[StageName, float] | None = None,
    strict: bool = False,
) -> Evaluation:
    """Evaluate a staged log under the Food Code unless told otherwise; the first answer alone."""
    code = code or load_code(FOOD_CODE)
    if code.head.cold is not None:
        log = stage(log.corrected, code.head.cold)
    return evaluate(
        log,
        code,
        intervals=intervals or monitoring_intervals(),
        asking=Asking(asked, explicit=explicit),
        strict=strict,
    )


def found(evaluation: Evaluation, requirement: str, *, stage_number: int | None = None) -> Finding:
    """Return the one finding of a requirement that applies (or the one of a given stage)."""
    matching = [
        f
        for f in evaluation.findings
        if f.requirement.endswith(f"#{requirement}")
        and (stage_number is None or f.stage_number == stage_number)
    ]
    applying = [f for f in matching if f.verdict.value != "not_applicable"] or matching
    assert len(applying) == 1, f"{requirement}: {[(f.stage, f.verdict.value) for f in matching]}"
    return applying[0]


def verdict(
    requirement: str, readings: Readings, steps: Sequence[Note], **lot: Unpack[Stated]
) -> str:
    """Verdict of one requirement for one trace of core readings in °F."""
    log = staged([channel(readings)], steps, **lot)
    return found(judge(log), requirement).verdict.value


def prepared_on(day: str) -> date:
    """A date from its ISO text."""
    return date.fromisoformat(day)
